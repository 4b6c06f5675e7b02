//go:build js && wasm

package indexeddb

import (
	"strings"
	"syscall/js"

	"tremblant/internal/book"
)

// channel tells the other tabs what was written, and hears it from them. A
// browser without BroadcastChannel has a nil channel, which does nothing.
type channel struct {
	raw     js.Value
	receive js.Func
}

// listen opens the channel of this database.
func (s *Store) listen() *channel {
	maker := js.Global().Get("BroadcastChannel")
	if !maker.Truthy() {
		return nil
	}
	c := &channel{}
	c.receive = callback(s.options.Report, func(args []js.Value) {
		if n, ok := decodeNotice(args[0].Get("data")); ok && s.options.Changed != nil {
			s.tell(func() { s.options.Changed(n) })
		}
	})
	defer func() {
		if r := recover(); r != nil {
			s.options.Report(r) // an opaque origin may refuse; the book works without
			c = nil
		}
	}()
	c.raw = maker.New(s.options.Name)
	c.raw.Set("onmessage", c.receive)
	return c
}

// notices of more records than this only say that much has changed.
const maxNotice = 200

const noticeForm = "book 1"

func (c *channel) post(ops []op) {
	if c == nil || len(ops) == 0 {
		return
	}
	lines := []string{noticeForm}
	for _, o := range ops[:min(len(ops), maxNotice+1)] {
		lines = append(lines, string(o.at)+" "+o.key.ID)
	}
	if len(ops) > maxNotice {
		lines = []string{noticeForm, "*"}
	}
	defer func() { _ = recover() }() // a closed channel: the others will find out when they save
	c.raw.Call("postMessage", strings.Join(lines, "\n"))
}

func decodeNotice(data js.Value) (book.Notice, bool) {
	if data.Type() != js.TypeString {
		return book.Notice{}, false
	}
	lines := strings.Split(data.String(), "\n")
	if lines[0] != noticeForm {
		return book.Notice{All: true}, true // a page of another version wrote something
	}
	var n book.Notice
	for _, line := range lines[1:] {
		space, id, ok := strings.Cut(line, " ")
		if !ok {
			return book.Notice{All: true}, true
		}
		n.Touched = append(n.Touched, book.Touch{Space: book.Space(space), ID: id})
	}
	return n, true
}

func (c *channel) close() {
	if c == nil {
		return
	}
	c.raw.Call("close")
	c.receive.Release()
}

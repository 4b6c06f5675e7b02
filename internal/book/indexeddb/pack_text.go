package indexeddb

import (
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/book"
)

// This file needs no browser, so that the reader of packs is fuzzed natively.

// pack is the heads of one pack in the order of ids. Its text is
//
//	2⏎
//	4 92⏎pear{"form":1,"id":"pear",…}⏎
//	4 88⏎plum{"form":1,"id":"plum",…}⏎
//
// how many heads there are, then for each, in the order of ids, the lengths of id
// and head in bytes of UTF-8, id, head. There is no empty pack.
type pack []book.Row

func (p pack) find(id string) (at int, ok bool) {
	return slices.BinarySearchFunc(p, id, func(r book.Row, id string) int { return strings.Compare(r.Key.ID, id) })
}

func (p *pack) put(id, text string) {
	at, ok := p.find(id)
	if !ok {
		*p = append(*p, book.Row{}) // slices.Insert would weigh as much as all of this
		copy((*p)[at+1:], (*p)[at:])
		(*p)[at] = book.Row{Key: book.Key{ID: id}}
	}
	(*p)[at].Text = text
}

func (p *pack) remove(id string) bool {
	at, ok := p.find(id)
	if ok {
		*p = slices.Delete(*p, at, at+1)
	}
	return ok
}

// text is the stored form.
func (p pack) text() string {
	n := len("100\n")
	for _, r := range p {
		n += len(r.Key.ID) + len(r.Text) + len("100 10000\n\n")
	}
	buf := append(strconv.AppendInt(make([]byte, 0, n), int64(len(p)), 10), '\n')
	for _, r := range p {
		buf = append(strconv.AppendInt(buf, int64(len(r.Key.ID)), 10), ' ')
		buf = append(strconv.AppendInt(buf, int64(len(r.Text)), 10), '\n')
		buf = append(append(append(buf, r.Key.ID...), r.Text...), '\n')
	}
	return string(buf)
}

// readPack takes a pack off a text and adds its heads to others. If it is none as
// a whole, whole is false and the heads are those before what is wrong. They
// share memory with the text.
func readPack(text string, others []book.Row) (heads []book.Row, rest string, whole bool) {
	heads = others
	n, rest, ok := length(text, '\n')
	if !ok || n == 0 {
		return heads, text, false
	}
	for i := range n {
		id, next, ok := length(rest, ' ')
		head, next, ok2 := length(next, '\n')
		if !ok || !ok2 || id+head >= len(next) || next[id+head] != '\n' {
			return heads, rest, false
		}
		r := book.Row{Key: book.Key{ID: next[:id]}, Text: next[id : id+head]}
		if i > 0 && r.Key.ID <= heads[len(heads)-1].Key.ID {
			return heads, rest, false
		}
		heads, rest = append(heads, r), next[id+head+1:]
	}
	return heads, rest, true
}

// length takes a number of at most seven digits off a text, and what ends it.
func length(text string, end byte) (n int, rest string, ok bool) {
	for i := 0; i < len(text) && i < 8; i++ {
		switch c := text[i]; {
		case c == end && i > 0:
			return n, text[i+1:], true
		case c < '0' || c > '9':
			return 0, text, false
		default:
			n = n*10 + int(c-'0')
		}
	}
	return 0, text, false
}

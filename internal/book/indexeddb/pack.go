//go:build js && wasm

package indexeddb

import (
	"slices"
	"strconv"
	"strings"
	"syscall/js"

	"tremblant/internal/book"
)

// Heads are stored in packs. What a record costs the browser hardly depends on
// its size, and a list needs all heads at once: read one by one, ten thousand of
// them were four fifths of the wait for the first list, and half of an import.
//
// A pack holds the heads whose ids have the same hash. It stands in the store of
// the heads under its number. Its text is
//
//	2⏎
//	4 92⏎pear{"form":1,"id":"pear",…}⏎
//	4 88⏎plum{"form":1,"id":"plum",…}⏎
//
// how many heads there are, then for each, in the order of ids, the lengths of id
// and head in bytes of UTF-8, id, head. There is no empty pack.
// A pack is a copy of what the revisions say: one that is damaged is made again
// from them (see tx.mended).

// packCount keeps the packs of ten thousand heads near 12 KB each: one is written
// with each save, and beyond 64 KB Chromium puts a value into a file of its own.
const packCount = 256

// packOf is the number of the pack of an id: 32-bit FNV-1a (G. Fowler, L. C.
// Noll, K.-P. Vo, The FNV Non-Cryptographic Hash Algorithm; constants from
// memory).
func packOf(id string) int {
	h := uint32(2166136261)
	for _, c := range []byte(id) {
		h = (h ^ uint32(c)) * 16777619
	}
	return int(h % packCount)
}

// pack is the heads of one pack in the order of ids.
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

// packValue reads what is stored as a pack. If it is none as a whole, the pack is
// what could be read of it.
func packValue(v js.Value) (p pack, whole bool) {
	p, rest, whole := readPack(text(v), nil)
	return p, whole && rest == ""
}

// keysOfPacks and keysOfOthers are ranges in the store of the heads: numbers
// stand before strings (Indexed Database API 3.0, section 2.4). Under strings
// stood the heads before there were packs. What was no text was left there.
func keysOfPacks() js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", 0, packCount-1)
}

func keysOfOthers() js.Value { return js.Global().Get("IDBKeyRange").Call("lowerBound", "") }

// headRequests reads all that is in the store of the heads.
type headRequests struct{ packs, keys, others js.Value }

func askHeads(store js.Value) headRequests {
	return headRequests{
		packs:  store.Call("getAll", keysOfPacks()),
		keys:   store.Call("getAllKeys", keysOfOthers()),
		others: store.Call("getAll", keysOfOthers()),
	}
}

// rows are the heads, once the requests are answered. If a pack is damaged, whole
// is false and what was in it may be missing.
func (r headRequests) rows() (out []book.Row, whole bool) {
	out, whole = packRows(r.packs.Get("result"))
	others := rows(book.Heads, r.keys.Get("result"), r.others.Get("result"))
	if len(others) == 0 {
		return out, whole
	}
	packed := make(map[book.Key]bool, len(out))
	for _, row := range out {
		packed[row.Key] = true
	}
	for _, row := range others {
		if !packed[row.Key] {
			out = append(out, row)
		}
	}
	return out, whole
}

// packRows reads many packs, as one text if it can.
func packRows(values js.Value) (out []book.Row, whole bool) {
	n := values.Length()
	if out, whole = joinedPacks(values, n); whole {
		return out, true
	}
	out, whole = nil, true
	for i := range n {
		p, ok := packValue(values.Index(i))
		out, whole = append(out, p...), whole && ok
	}
	return out, whole
}

func joinedPacks(values js.Value, n int) (out []book.Row, whole bool) {
	defer func() {
		if r := recover(); r != nil {
			whole = false // longer than the browser's longest string
		}
	}()
	if n == 0 {
		return nil, true
	}
	text := values.Call("join", seam).String()
	out = make([]book.Row, 0, 64*n)
	for i := range n {
		if out, text, whole = readPack(text, out); !whole {
			return nil, false
		}
		if i < n-1 {
			if text, whole = strings.CutPrefix(text, seam); !whole {
				return nil, false
			}
		}
	}
	return out, text == ""
}

//go:build js && wasm

package indexeddb

import (
	"strings"
	"syscall/js"

	"tremblant/internal/book"
)

// Heads are stored in packs. What a record costs the browser hardly depends on
// its size, and a list needs all heads at once: read one by one, ten thousand of
// them were four fifths of the wait for the first list, and half of an import.
//
// A pack holds the heads whose ids have the same hash. It stands in the store of
// the heads under its number, as [pack.text]. It is a copy of what the revisions say:
// one that is damaged is made again from them (see tx.mended).

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

//go:build js && wasm

package indexeddb

import (
	"syscall/js"

	"tremblant/internal/book"
)

// suffix says what stands behind the id in the keys of a space.
type suffix uint8

const (
	none suffix = iota
	number
	word
)

func keyKind(space book.Space) suffix {
	switch space {
	case book.Versions:
		return number
	case book.Trials:
		return word
	}
	return none
}

func keyValue(space book.Space, k book.Key) js.Value {
	switch keyKind(space) {
	case number:
		return js.ValueOf([]any{k.ID, k.Rev})
	case word:
		return js.ValueOf([]any{k.ID, k.Sub})
	}
	return js.ValueOf(k.ID)
}

// bounds are the first and last key that an id can have. In the order of keys
// an array stands behind every number and string.
func bounds(space book.Space, id string) (low, high js.Value) {
	if keyKind(space) == none {
		return js.ValueOf(id), js.ValueOf(id)
	}
	return js.ValueOf([]any{id}), js.ValueOf([]any{id, []any{}})
}

// keyOf reads a key. A key that this package did not write comes out as good as
// can be, and the record under it as damaged.
func keyOf(space book.Space, v js.Value) book.Key {
	if keyKind(space) == none || v.Type() != js.TypeObject || v.Get("length").Type() != js.TypeNumber || v.Length() != 2 {
		return book.Key{ID: v.String()}
	}
	k := book.Key{ID: v.Index(0).String()}
	if last := v.Index(1); last.Type() == js.TypeNumber {
		k.Rev = last.Int()
	} else {
		k.Sub = last.String()
	}
	return k
}

// text is a stored value. One that is no string can only be damage; it comes
// out as the empty text, which is no record.
func text(v js.Value) string {
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

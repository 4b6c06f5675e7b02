// Package wire reads and writes JSON (RFC 8259) for everything that is stored,
// exported, imported or put into a link.
//
// The standard library could do it, but not at the price a phone pays: compiled
// to WebAssembly beside go-indexeddb and compressed with Brotli, encoding/json
// was measured at 135 KB more to download, the experimental jsontext package at
// 68 KB, and a small third-party parser at 26 KB but without the position of an
// error. This package, with reader, decoder and writer all in use, was measured
// at 32 KB, 9 KB of it the number parsing of strconv, which the program links
// anyway. A damaged file must be refused with the place that is wrong, which
// the library of the same size cannot name and the others name at twice and
// four times the price.
//
// Reading is strict. Beyond RFC 8259 it refuses what the RFC only warns of,
// because each would let two programs see two different records in one text:
//
//   - a name that stands twice in one object,
//   - text that is not UTF-8,
//   - an escaped surrogate without its other half.
//
// It also refuses what goes over the caller's [Limits], so that a hostile file
// costs no more memory than the caller granted.
//
// A number keeps its literal text, and an object keeps the order of its members
// and hands back those that a decoder did not take ([Fields.Rest]). So a record
// written by a newer program passes through an older one unchanged.
//
// Errors name the place: byte offset, line, column and JSON Pointer (RFC 6901).
// A value knows its offset only; line, column and pointer are worked out from
// the text when an error is made, so that values stay small.
package wire

import "strings"

// Kind is what a value is.
type Kind uint8

// The kinds. The zero Value has kind Null.
const (
	Null Kind = iota
	Bool
	Number
	String
	Array
	Object
)

// String gives the name of the kind, for logs and tests.
func (k Kind) String() string {
	if int(k) >= len(kindNames) {
		return "unknown"
	}
	return kindNames[k]
}

var kindNames = [...]string{"null", "boolean", "number", "string", "array", "object"}

// Value is one value of a document that was read. It shares memory with the
// text it was read from and must not be changed.
type Value struct {
	source *string  // the whole text, to name the place of an error; nil for the zero Value
	text   string   // a number's literal, a string's content, or "true" or "false"
	kids   []Member // the elements of an array (without names) or members of an object
	offset uint32
	kind   Kind
}

// Member is one named value of an object.
type Member struct {
	Name  string
	Value Value
}

// Kind tells what v is.
func (v Value) Kind() Kind { return v.kind }

// Len is the number of elements or members; 0 for other kinds.
func (v Value) Len() int { return len(v.kids) }

// Literal is the text of a number exactly as it was written; "" for other kinds.
func (v Value) Literal() string {
	if v.kind != Number {
		return ""
	}
	return v.text
}

// Member finds a member of an object by name. Other kinds have none.
func (v Value) Member(name string) (Value, bool) {
	if v.kind == Object {
		for i := range v.kids {
			if v.kids[i].Name == name {
				return v.kids[i].Value, true
			}
		}
	}
	return Value{}, false
}

// Equal reports whether two values are the same: same kinds, same literals,
// same members in the same order.
func (v Value) Equal(w Value) bool {
	if v.kind != w.kind || v.text != w.text || len(v.kids) != len(w.kids) {
		return false
	}
	for i := range v.kids {
		if v.kids[i].Name != w.kids[i].Name || !v.kids[i].Value.Equal(w.kids[i].Value) {
			return false
		}
	}
	return true
}

// Size counts the values in v, itself included, how deep arrays and objects stand
// inside each other, and the members of the longest, as [Limits] count them.
func (v Value) Size() (values, depth, members int) {
	values, members = 1, len(v.kids)
	for i := range v.kids {
		n, d, m := v.kids[i].Value.Size()
		values, depth, members = values+n, max(depth, d), max(members, m)
	}
	if v.kind == Array || v.kind == Object {
		depth++
	}
	return values, depth, members
}

// Within reports what of v, read by wider bounds, is over l: [ErrTooDeep],
// [ErrTooMany] or [ErrTooManyAll] in a [*ShapeError], or nil. It does not look at bytes.
func (v Value) Within(l Limits) error {
	l = l.orDefault()
	var err error
	switch values, depth, members := v.Size(); {
	case depth > l.Depth:
		err = ErrTooDeep
	case members > l.Members:
		err = ErrTooMany
	case values > l.Values:
		err = ErrTooManyAll
	default:
		return nil
	}
	return &ShapeError{Place: v.Place(), Err: err}
}

// Place says where v begins in the text it was read from.
func (v Value) Place() Place {
	if v.source == nil {
		return Place{}
	}
	return locate(*v.source, int(v.offset))
}

// Clone returns members that no longer share memory with the text they were
// read from, for a record that outlives a big file.
func Clone(members []Member) []Member {
	if members == nil {
		return nil
	}
	out := make([]Member, len(members))
	for i, m := range members {
		out[i] = Member{strings.Clone(m.Name), m.Value.clone()}
	}
	return out
}

func (v Value) clone() Value {
	return Value{kind: v.kind, text: strings.Clone(v.text), kids: Clone(v.kids)}
}

package wire

import (
	"errors"
	"math"
	"strconv"
	"unicode/utf8"
)

// Text is the content of a string of at most limit bytes.
func (v Value) Text(limit int) (string, error) {
	if v.kind != String {
		return "", v.wrongKind(String)
	}
	if len(v.text) > limit {
		return "", &ShapeError{Place: v.Place(), High: float64(limit), Err: ErrLong}
	}
	return v.text, nil
}

// Float is a number from low to high.
func (v Value) Float(low, high float64) (float64, error) {
	if v.kind != Number {
		return 0, v.wrongKind(Number)
	}
	f, err := strconv.ParseFloat(v.text, 64)
	if err != nil || !(f >= low && f <= high) {
		return 0, &ShapeError{Place: v.Place(), Low: low, High: high, Err: ErrRange}
	}
	return f, nil
}

// maxExact is the greatest whole number up to which every whole number has a
// float64 of its own (2^53 - 1), so that every program reads the same one.
const maxExact = 1<<53 - 1

// Int is a whole number from low to high, both within ±(2^53 - 1).
func (v Value) Int(low, high int64) (int64, error) {
	low, high = max(low, -maxExact), min(high, maxExact)
	f, err := v.Float(float64(low), float64(high))
	if err != nil {
		return 0, err
	}
	if f != math.Trunc(f) {
		return 0, &ShapeError{Place: v.Place(), Err: ErrInteger}
	}
	return int64(f), nil
}

// Bool is true or false.
func (v Value) Bool() (bool, error) {
	if v.kind != Bool {
		return false, v.wrongKind(Bool)
	}
	return v.text == "true", nil
}

// Items are the elements of an array of at most limit elements.
func (v Value) Items(limit int) ([]Value, error) {
	if v.kind != Array {
		return nil, v.wrongKind(Array)
	}
	if len(v.kids) > limit {
		return nil, &ShapeError{Place: v.Place(), High: float64(limit), Err: ErrLong}
	}
	items := make([]Value, len(v.kids))
	for i := range v.kids {
		items[i] = v.kids[i].Value
	}
	return items, nil
}

func (v Value) wrongKind(want Kind) error {
	return &ShapeError{Place: v.Place(), Want: want, Err: ErrKind}
}

// Fields takes the members of an object apart for a decoder. The first thing
// that is wrong is kept, and everything taken after it is the zero value, so a
// decoder takes all its members in a row and looks at [Fields.Err] once. All
// Fields that came from each other share that one error.
type Fields struct {
	v     Value
	taken []bool
	fault *error
}

// Fields begins to take v apart. A value that is no object shows in Err.
func (v Value) Fields() *Fields {
	var fault error
	return fieldsOf(v, &fault)
}

func fieldsOf(v Value, fault *error) *Fields {
	if v.kind != Object && *fault == nil {
		*fault = v.wrongKind(Object)
	}
	f := &Fields{v: v, fault: fault}
	if v.kind == Object {
		f.taken = make([]bool, len(v.kids))
	}
	return f
}

// Err is the first thing that was wrong: a [*ShapeError], or nil.
func (f *Fields) Err() error { return *f.fault }

// Has reports whether the member is there, and takes nothing.
func (f *Fields) Has(name string) bool {
	_, ok := f.v.Member(name)
	return ok
}

// Value takes a member as it is; a missing one is an error.
func (f *Fields) Value(name string) Value {
	if *f.fault != nil {
		return Value{}
	}
	for i := range f.v.kids {
		if f.v.kids[i].Name == name && i < len(f.taken) {
			f.taken[i] = true
			return f.v.kids[i].Value
		}
	}
	f.Fail(name, ErrMissing)
	return Value{}
}

// Fail reports a member as wrong for a reason of the decoder's own, which
// errors.Is and errors.As then find. A reason that is a [*ShapeError] itself
// names a closer place and is kept as it is. The first failure is the one that
// counts.
func (f *Fields) Fail(name string, err error) {
	if *f.fault != nil {
		return
	}
	var closer *ShapeError
	if errors.As(err, &closer) && closer.Line > 0 {
		*f.fault = err
		return
	}
	place := f.v.Place()
	if m, ok := f.v.Member(name); ok {
		place = m.Place()
	} else {
		place.Path += step(name)
	}
	*f.fault = &ShapeError{Place: place, Err: err}
}

// keep notes err and reports whether all is well.
func (f *Fields) keep(err error) bool {
	if *f.fault == nil {
		*f.fault = err
	}
	return *f.fault == nil
}

// Text takes a string of at most limit bytes.
func (f *Fields) Text(name string, limit int) string {
	return take(f, name, func(v Value) (string, error) { return v.Text(limit) })
}

// TextOr is Text, or def if the member is missing.
func (f *Fields) TextOr(name, def string, limit int) string {
	if !f.Has(name) {
		return def
	}
	return f.Text(name, limit)
}

// Float takes a number from low to high.
func (f *Fields) Float(name string, low, high float64) float64 {
	return take(f, name, func(v Value) (float64, error) { return v.Float(low, high) })
}

// FloatOr is Float, or def if the member is missing.
func (f *Fields) FloatOr(name string, def, low, high float64) float64 {
	if !f.Has(name) {
		return def
	}
	return f.Float(name, low, high)
}

// Int takes a whole number from low to high, both within ±(2^53 - 1).
func (f *Fields) Int(name string, low, high int64) int64 {
	return take(f, name, func(v Value) (int64, error) { return v.Int(low, high) })
}

// IntOr is Int, or def if the member is missing.
func (f *Fields) IntOr(name string, def, low, high int64) int64 {
	if !f.Has(name) {
		return def
	}
	return f.Int(name, low, high)
}

// Bool takes true or false.
func (f *Fields) Bool(name string) bool { return take(f, name, Value.Bool) }

// BoolOr is Bool, or def if the member is missing.
func (f *Fields) BoolOr(name string, def bool) bool {
	if !f.Has(name) {
		return def
	}
	return f.Bool(name)
}

// Items takes an array of at most limit elements.
func (f *Fields) Items(name string, limit int) []Value {
	return take(f, name, func(v Value) ([]Value, error) { return v.Items(limit) })
}

// ItemsOr is Items, or none if the member is missing.
func (f *Fields) ItemsOr(name string, limit int) []Value {
	if !f.Has(name) {
		return nil
	}
	return f.Items(name, limit)
}

// Texts takes an array of at most limit strings of at most each bytes; a
// missing member is no strings.
func (f *Fields) Texts(name string, limit, each int) []string {
	var out []string
	for _, v := range f.ItemsOr(name, limit) {
		s, err := v.Text(each)
		if !f.keep(err) {
			return nil
		}
		out = append(out, s)
	}
	return out
}

// Object takes an object apart in turn; it shares the error of f.
func (f *Fields) Object(name string) *Fields { return fieldsOf(f.Value(name), f.fault) }

// Into takes apart a value that came from f, as an element of an array; it
// shares the error of f.
func (f *Fields) Into(v Value) *Fields { return fieldsOf(v, f.fault) }

// Rest are the members that nobody took, in their order: what a newer program
// wrote and this one must hand on unchanged (see [Writer.Members]).
func (f *Fields) Rest() []Member {
	var rest []Member
	for i, taken := range f.taken {
		if !taken {
			rest = append(rest, f.v.kids[i])
		}
	}
	return rest
}

func take[T any](f *Fields, name string, as func(Value) (T, error)) T {
	var zero T
	v := f.Value(name)
	if *f.fault != nil {
		return zero
	}
	t, err := as(v)
	if !f.keep(err) {
		return zero
	}
	return t
}

// Cut shortens s to at most limit bytes without cutting a character in two,
// for text from outside that goes into a bounded member.
func Cut(s string, limit int) string {
	if len(s) <= limit {
		return s
	}
	for limit > 0 && !utf8.RuneStart(s[limit]) {
		limit--
	}
	return s[:limit]
}

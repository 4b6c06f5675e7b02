package formula

import (
	"maps"
	"strings"

	"tremblant/internal/wire"
)

// Working is what the pan tells the lab: the working formula as typed, the
// shelf, and what came of trials with its agents. The lab reads the fields
// itself, so that both see the same formula.
type Working struct {
	Fields Fields
	Shelf  Shelf
	Comma  bool    // figures are written with a decimal comma
	Link   string  // the page's address without what stands behind "#"
	Tried  []Tried // newest first, at most MaxTried
}

// Encode writes the message.
func (m Working) Encode() ([]byte, error) {
	v, err := m.Shelf.value()
	if err != nil {
		return nil, err
	}
	w := wire.NewWriter()
	w.BeginObject()
	m.Fields.encode(w, "fields")
	w.Name("shelf").Value(v)
	w.Name("comma").Bool(m.Comma)
	text(w, "link", m.Link)
	encodeTried(w, m.Tried)
	w.EndObject()
	return w.Bytes()
}

// DecodeWorking reads the message.
func DecodeWorking(text string) (Working, error) {
	v, err := wire.Read(text, wire.Limits{})
	if err != nil {
		return Working{}, err
	}
	m := v.Fields()
	out := Working{Fields: decodeFields(m.Object("fields")), Comma: m.Bool("comma"), Link: m.TextOr("link", "", MaxLink)}
	out.Tried = decodeTried(m)
	shelf := m.Value("shelf")
	if err := m.Err(); err != nil {
		return Working{}, err
	}
	out.Shelf, err = DecodeShelf(shelf)
	return out, err
}

// Change is what the lab asks of the pan: other fields in place of the formula's
// own, and what to call the step, so that it can be taken back.
type Change struct {
	Fields Fields
	What   string // a sentence, filled in already
	From   Fields // the fields as the lab knew them; nil when that is not told
}

// Onto are the fields that a pan comes to hold which holds now, and not From any
// more: the lab's answer crosses what is typed meanwhile, which stays. Where that is
// in a row, or where the change is as well, the change is taken as a whole: its parts
// belong together, and may be of rows that stand elsewhere now.
func (c Change) Onto(now Fields) Fields {
	if c.From == nil {
		return c.Fields
	}
	out := maps.Clone(c.Fields)
	for name := range differing(c.From, now) {
		if c.Fields[name] != c.From[name] || strings.HasPrefix(name, "part-") || strings.HasPrefix(name, "dose-") {
			return c.Fields
		}
		out[name] = now[name]
	}
	maps.DeleteFunc(out, func(_, text string) bool { return text == "" })
	return out
}

// Within are the fields that a pan comes to hold which holds now: what the change makes
// of each field that it is about, and of every other what it holds.
func (c Change) Within(now Fields) Fields {
	out := maps.Clone(now)
	for name := range differing(c.From, c.Fields) {
		out[name] = c.Fields[name]
	}
	maps.DeleteFunc(out, func(_, text string) bool { return text == "" })
	return out
}

// About are the names of the fields that the change is about, see Within.
func (c Change) About() map[string]bool { return differing(c.From, c.Fields) }

// differing are the names of the fields that do not hold the same in both.
func differing(a, b Fields) map[string]bool {
	names := map[string]bool{}
	for _, all := range []Fields{a, b} {
		for name := range all {
			if a[name] != b[name] {
				names[name] = true
			}
		}
	}
	return names
}

// Encode writes the change.
func (c Change) Encode() ([]byte, error) {
	w := wire.NewWriter()
	w.BeginObject()
	c.Fields.encode(w, "fields")
	w.Name("what").Text(c.What)
	if c.From != nil {
		c.From.encode(w, "from")
	}
	w.EndObject()
	return w.Bytes()
}

// DecodeChange reads a change.
func DecodeChange(text string) (Change, error) {
	v, err := wire.Read(text, wire.Limits{})
	if err != nil {
		return Change{}, err
	}
	m := v.Fields()
	c := Change{Fields: decodeFields(m.Object("fields")), What: m.Text("what", 4*MaxNotes)}
	if m.Has("from") {
		c.From = decodeFields(m.Object("from"))
	}
	return c, m.Err()
}

// Package note holds what a calculation has to say besides its figures:
// reasons, cautions and refusals.
//
// A note is a code with figures, never a sentence: the page's text catalogue
// has one sentence per code and language, with the arguments in braces. So the
// core stays free of text, and a test can ask which rule fired.
package note

import (
	"strconv"
	"strings"

	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Code names a rule, for example "dose.over-window". Lower case, dots between
// subject and rule, hyphens inside. The sentence stands in web/text under
// "note." + Code.
type Code string

// Level says how loudly the page must speak.
type Level uint8

// The levels, quietest first.
const (
	Reason  Level = iota // why a figure is what it is; shown on request
	Hint                 // something to gain
	Caution              // it may fail, or taste or look different
	Danger               // somebody may be hurt; always visible, never folded away
	Refused              // no figure is given
)

// Arg is one argument of a note's sentence: a figure with its unit, a word of
// the text catalogue, or text that a person typed.
type Arg struct {
	Name  string      // the name between braces in the sentence
	Value float64     // the figure, if Unit is set
	Unit  unit.Symbol // the unit of Value; "" when the argument is not a figure
	Word  string      // a key of the text catalogue, e.g. "agent.agar", or several with a space between them
	Typed string      // text from outside, shown verbatim and never as markup
}

// Num is a figure argument. Use [unit.One] for a plain number.
func Num(name string, v float64, u unit.Symbol) Arg { return Arg{Name: name, Value: v, Unit: u} }

// Word is an argument that the text catalogue names.
func Word(name, key string) Arg { return Arg{Name: name, Word: key} }

// Words is an argument that lists what the text catalogue names with a prefix
// before each, e.g. "allergen.".
func Words[S ~string](name, prefix string, words []S) Arg {
	keys := make([]string, len(words))
	for i, w := range words {
		keys[i] = prefix + string(w)
	}
	return Arg{Name: name, Word: strings.Join(keys, " ")}
}

// Typed is an argument that a person typed.
func Typed(name, text string) Arg { return Arg{Name: name, Typed: text} }

// Note is one reason, caution or refusal.
type Note struct {
	Code   Code
	Level  Level
	Field  string // the input that it belongs to, by the input's stable name; "" for the whole answer
	Args   []Arg
	Source source.Ref // where the rule comes from; zero when the rule is plain arithmetic or input checking
}

// New makes a note.
func New(l Level, c Code, args ...Arg) Note { return Note{Code: c, Level: l, Args: args} }

// At returns n tied to an input field.
func (n Note) At(field string) Note { n.Field = field; return n }

// From returns n with its source.
func (n Note) From(ref source.Ref) Note { n.Source = ref; return n }

// Arg returns the argument of that name.
func (n Note) Arg(name string) (Arg, bool) {
	for _, a := range n.Args {
		if a.Name == name {
			return a, true
		}
	}
	return Arg{}, false
}

// Refusal is the error form of a note: the calculation gives no figure, and the
// note says why, which limit was crossed and so what to do next.
type Refusal struct{ Note }

// Refuse makes a refusal about one input field ("" for the whole).
func Refuse(field string, c Code, args ...Arg) *Refusal {
	return &Refusal{Note{Code: c, Level: Refused, Field: field, Args: args}}
}

// Error gives the code and arguments for logs and tests; a person gets the
// sentence of the text catalogue instead.
func (r *Refusal) Error() string {
	var b strings.Builder
	b.WriteString(string(r.Code))
	if r.Field != "" {
		b.WriteString(" at ")
		b.WriteString(r.Field)
	}
	for _, a := range r.Args {
		b.WriteString(", ")
		b.WriteString(a.Name)
		b.WriteByte('=')
		switch {
		case a.Unit != "":
			b.WriteString(strconv.FormatFloat(a.Value, 'g', 6, 64))
			b.WriteString(string(a.Unit))
		case a.Word != "":
			b.WriteString(a.Word)
		default:
			b.WriteString(strconv.Quote(a.Typed))
		}
	}
	return b.String()
}

// Is makes errors.Is match refusals by code alone.
func (r *Refusal) Is(target error) bool {
	t, ok := target.(*Refusal)
	return ok && t.Code == r.Code
}

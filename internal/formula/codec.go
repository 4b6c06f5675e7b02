package formula

import (
	"errors"
	"strings"

	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// Form is the number of the stored form that [Formula.Encode] writes. A change
// that an older program would misread gets the next number; members that it may
// pass over do not.
const Form = 1

// ErrNewer says that a formula was written in a form that this program does not
// know. Nothing of it may be changed here; loading the page again brings the
// program that wrote it.
var ErrNewer = errors.New("formula: written by a newer program")

// limits of one stored formula.
var storedLimits = wire.Limits{Bytes: 256 << 10, Depth: 16, Members: 500, Values: 5000}

// Bounds on texts in bytes: a character takes four at the most.
const (
	nameBytes  = 4 * MaxName
	notesBytes = 4 * MaxNotes
	lineBytes  = 4 * maxLineRunes
)

// Encode writes the stored form: one JSON object, the same bytes for the same
// formula. Figures that are not finite are refused.
func (f Formula) Encode() ([]byte, error) {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("form").Int(Form)
	w.Name("name").Text(f.Name)
	texts(w, "tags", f.Tags)
	text(w, "dish", f.Dish)
	text(w, "station", f.Station)
	text(w, "notes", f.Notes)
	w.Name("parts").BeginArray()
	for _, p := range f.Parts {
		w.BeginObject()
		w.Name("name").Text(p.Name)
		amount(w, "amount", p.Amount)
		w.EndObject()
	}
	w.EndArray()
	number(w, "density", float64(f.Density))
	w.Name("doses").BeginArray()
	for _, d := range f.Doses {
		d.encode(w)
	}
	w.EndArray()
	text(w, "texture", f.Texture)
	f.Make.encode(w)
	texts(w, "unread", f.Unread)
	f.Lab.encodeLab(w)
	w.Members(f.Extra)
	w.EndObject()
	return w.Bytes()
}

func (d Dose) encode(w *wire.Writer) {
	w.BeginObject()
	text(w, "agent", d.Agent)
	w.Name("name").Text(d.Name)
	amount(w, "amount", d.Amount)
	text(w, "basis", string(d.Basis))
	number(w, "grade", d.Grade)
	w.EndObject()
}

func (m Make) encode(w *wire.Writer) {
	w.Name("make").BeginObject()
	w.Name("mode").Text(string(m.Mode))
	amount(w, "liquid", m.Liquid)
	number(w, "portions", m.Portions)
	amount(w, "portion", m.Portion)
	number(w, "spare", float64(m.Spare))
	if m.Mode == ForLeft {
		w.Name("left-of").BeginObject()
		w.Name("part").Bool(m.LeftOf.Part)
		w.Name("index").Int(int64(m.LeftOf.Index))
		w.EndObject()
	}
	amount(w, "left", m.Left)
	amount(w, "boil", m.Losses.Boil.Amount)
	number(w, "boil-minutes", m.Losses.Boil.Minutes)
	number(w, "boil-rate", m.Losses.Boil.Rate)
	amount(w, "blender", m.Losses.Blender)
	amount(w, "sieve", m.Losses.Sieve)
	amount(w, "bottle", m.Losses.Bottle)
	w.EndObject()
}

// encodeLab writes the lab's inputs as pairs of name and text.
func (f Fields) encodeLab(w *wire.Writer) {
	names := f.labNames()
	if len(names) == 0 {
		return
	}
	w.Name("lab").BeginArray()
	for _, name := range names {
		w.Texts([]string{name, f[name]})
	}
	w.EndArray()
}

func decodeLab(m *wire.Fields) Fields {
	var out Fields
	for _, v := range m.ItemsOr("lab", MaxLab) {
		pair, err := v.Items(2)
		if err != nil || len(pair) != 2 {
			m.Fail("lab", errChoice)
			return nil
		}
		name, errName := pair[0].Text(maxLabName)
		text, errText := pair[1].Text(maxLabText)
		if errName != nil || errText != nil || !strings.HasPrefix(name, LabPrefix) || text == "" {
			m.Fail("lab", errChoice)
			return nil
		}
		if out == nil {
			out = Fields{}
		}
		out[name] = text
	}
	return out
}

// What is empty is left out.

func text(w *wire.Writer, name, s string) {
	if s != "" {
		w.Name(name).Text(s)
	}
}

func texts(w *wire.Writer, name string, list []string) {
	if len(list) > 0 {
		w.Name(name).Texts(list)
	}
}

func number(w *wire.Writer, name string, x float64) {
	if x != 0 {
		w.Name(name).Float(x)
	}
}

func amount(w *wire.Writer, name string, a unit.Amount) {
	if a == (unit.Amount{}) {
		return
	}
	w.Name(name).BeginObject()
	w.Name("value").Float(a.Value)
	w.Name("unit").Text(string(a.Unit))
	w.EndObject()
}

// Decode reads the stored form. The error is a *wire.SyntaxError or a
// *wire.ShapeError with the place that is wrong; a form above [Form] wraps
// [ErrNewer].
func Decode(body []byte) (Formula, error) {
	v, err := wire.Read(body, storedLimits)
	if err != nil {
		return Formula{}, err
	}
	return DecodeValue(v)
}

// DecodeValue is Decode for a value inside a larger document, which may have been read
// by wider bounds: what is taken here must be read again by those of a stored formula.
func DecodeValue(v wire.Value) (Formula, error) {
	if err := v.Within(storedLimits); err != nil {
		return Formula{}, err
	}
	m := v.Fields()
	if form := m.Int("form", 1, 1e6); form > Form {
		m.Fail("form", ErrNewer)
	}
	f := Formula{
		Name: m.Text("name", nameBytes),
		Tags: m.Texts("tags", MaxTags, nameBytes),
		Dish: m.TextOr("dish", "", nameBytes), Station: m.TextOr("station", "", nameBytes),
		Notes: m.TextOr("notes", "", notesBytes),
	}
	for _, v := range m.Items("parts", MaxParts) {
		p := m.Into(v)
		f.Parts = append(f.Parts, Part{Name: p.Text("name", nameBytes), Amount: readAmount(p, "amount")})
	}
	f.Density = unit.Density(m.FloatOr("density", 0, 0, unit.MaxFigure))
	for _, v := range m.Items("doses", MaxDoses) {
		f.Doses = append(f.Doses, decodeDose(m.Into(v)))
	}
	f.Texture = m.TextOr("texture", "", nameBytes)
	f.Make = decodeMake(m.Object("make"))
	f.Unread = m.Texts("unread", MaxUnread, lineBytes)
	f.Lab = decodeLab(m)
	f.Extra = wire.Clone(m.Rest())
	if err := m.Err(); err != nil {
		return Formula{}, err
	}
	return f, nil
}

func decodeDose(d *wire.Fields) Dose {
	return Dose{
		Agent:  d.TextOr("agent", "", nameBytes),
		Name:   d.Text("name", nameBytes),
		Amount: readAmount(d, "amount"),
		Basis:  Basis(oneOf(d, "basis", "", string(OnLiquid), string(OnBatch))),
		Grade:  d.FloatOr("grade", 0, 0, unit.MaxFigure),
	}
}

func decodeMake(d *wire.Fields) Make {
	m := Make{
		Mode:     Mode(oneOf(d, "mode", string(ForLiquid), string(ForPortions), string(ForLeft))),
		Liquid:   readAmount(d, "liquid"),
		Portions: d.FloatOr("portions", 0, 0, MaxPortions),
		Portion:  readAmount(d, "portion"),
		Spare:    unit.Fraction(d.FloatOr("spare", 0, 0, 100)),
		Left:     readAmount(d, "left"),
		Losses: Losses{
			Boil: Boil{
				Amount:  readAmount(d, "boil"),
				Minutes: d.FloatOr("boil-minutes", 0, 0, MaxMinutes),
				Rate:    d.FloatOr("boil-rate", 0, 0, unit.MaxFigure),
			},
			Blender: readAmount(d, "blender"), Sieve: readAmount(d, "sieve"), Bottle: readAmount(d, "bottle"),
		},
	}
	if d.Has("left-of") {
		of := d.Object("left-of")
		m.LeftOf = Ref{Part: of.Bool("part"), Index: int(of.Int("index", -1, MaxParts))}
	}
	return m
}

// readAmount takes an amount; a missing one is none.
func readAmount(d *wire.Fields, name string) unit.Amount {
	if !d.Has(name) {
		return unit.Amount{}
	}
	o := d.Object(name)
	a := unit.Amount{Value: o.Float("value", 0, unit.MaxFigure), Unit: unit.Symbol(o.Text("unit", 16))}
	if a.Unit != "" && a.Kind() == unit.KindNone && a.Unit != unit.Minute {
		o.Fail("unit", errUnit)
	}
	return a
}

var (
	errUnit   = errors.New("formula: unit not known")
	errChoice = errors.New("formula: not one of the allowed words")
)

// oneOf takes a text that must be one of the given; the first one being "" makes
// the member optional.
func oneOf(d *wire.Fields, name string, allowed ...string) string {
	if allowed[0] == "" && !d.Has(name) {
		return ""
	}
	s := d.Text(name, nameBytes)
	for _, a := range allowed {
		if s == a {
			return s
		}
	}
	d.Fail(name, errChoice)
	return ""
}

package formula

import (
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// Shelf is what this kitchen owns and says once: its scales, its agents, its
// siphons and its gelatin.
type Shelf struct {
	Scales      []Scale
	Agents      []Owned
	SheetMass   unit.Mass   // of one sheet of leaf gelatin; 0 when not weighed yet
	SheetGrade  string      // trade grade of the sheets, a key of the agent catalogue; "" when not known
	PowderBloom float64     // of the powder; 0 when there is none
	Siphons     []Siphons   // by size; none when the kitchen has not said
	Chargers    Stock       // of 8 g N2O, how many
	Liquids     []OwnLiquid // described in formulas that were saved; the last one comes last

	Extra []wire.Member // members written by a newer program, handed on unchanged
}

// Scale is one scale: its step and the most it bears, both in grams.
type Scale struct {
	Step, Max unit.Mass
}

// Owned is an agent that stands on the shelf.
type Owned struct {
	Agent string  // id in the agent catalogue
	Grade float64 // labelled strength as the agent defines it; 0 when the label says none
	Stock Stock   // grams of it
}

// Stock is how much of something is there, if the kitchen has said so.
type Stock struct {
	Known  bool
	Amount float64
}

// Siphons are those of one nominal size.
type Siphons struct {
	Size  unit.Volume
	Count int
}

// Bounds of a shelf.
const (
	MaxOwned     = 60     // agents
	MaxGrade     = 3000.0 // of any scale of strength
	MaxScales    = 6
	MaxStep      = 50.0      // grams
	MinStep      = 0.0001    // grams
	MaxCapacity  = 200_000.0 // grams
	MaxSheetMass = 10.0      // grams: twice the heaviest of the trade's sheets (common practice)
	MinSheetMass = 0.2       // grams
	MinBloom     = 30.0
	MaxBloom     = 400.0
	MaxSiphons   = 8      // sizes
	MaxBodies    = 50     // siphons of one size
	MinSiphon    = 150.0  // ml: sizes for which there is a rule of charges
	MaxSiphon    = 1100.0 // ml
	MaxStock     = 1e6    // grams
	MaxChargers  = 10_000.0
)

// UsualShelf is the shelf of a kitchen that has said nothing yet: a kitchen
// scale and a pocket scale, common practice.
func UsualShelf() Shelf {
	return Shelf{Scales: []Scale{{Step: 1, Max: 5000}, {Step: 0.01, Max: 200}}}
}

// Encode writes the stored form of a shelf.
func (s Shelf) Encode() ([]byte, error) {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("form").Int(Form)
	w.Name("scales").BeginArray()
	for _, sc := range s.Scales {
		w.BeginObject()
		w.Name("step").Float(float64(sc.Step))
		w.Name("max").Float(float64(sc.Max))
		w.EndObject()
	}
	w.EndArray()
	if len(s.Agents) > 0 {
		w.Name("agents").BeginArray()
		for _, a := range s.Agents {
			w.BeginObject()
			w.Name("agent").Text(a.Agent)
			number(w, "grade", a.Grade)
			a.Stock.encode(w, "stock")
			w.EndObject()
		}
		w.EndArray()
	}
	number(w, "sheet-mass", float64(s.SheetMass))
	text(w, "sheet-grade", s.SheetGrade)
	number(w, "powder-bloom", s.PowderBloom)
	if len(s.Siphons) > 0 {
		w.Name("siphons").BeginArray()
		for _, b := range s.Siphons {
			w.BeginObject()
			w.Name("size").Float(float64(b.Size))
			w.Name("count").Int(int64(b.Count))
			w.EndObject()
		}
		w.EndArray()
	}
	s.Chargers.encode(w, "chargers")
	if len(s.Liquids) > 0 {
		w.Name("liquids").BeginArray()
		for _, l := range s.Liquids {
			l.encode(w)
		}
		w.EndArray()
	}
	w.Members(s.Extra)
	w.EndObject()
	return w.Bytes()
}

// value is the stored form, to be written within another.
func (s Shelf) value() (wire.Value, error) {
	body, err := s.Encode()
	if err != nil {
		return wire.Value{}, err
	}
	return wire.Read(body, wire.Limits{})
}

// DecodeShelf reads the stored form of a shelf. Errors are as for [Decode].
func DecodeShelf(v wire.Value) (Shelf, error) {
	m := v.Fields()
	if form := m.Int("form", 1, 1e6); form > Form {
		m.Fail("form", ErrNewer)
	}
	var s Shelf
	for _, v := range m.Items("scales", MaxScales) {
		sc := m.Into(v)
		s.Scales = append(s.Scales, Scale{
			Step: unit.Mass(sc.Float("step", MinStep, MaxStep)),
			Max:  unit.Mass(sc.Float("max", MinStep, MaxCapacity)),
		})
	}
	for _, v := range m.ItemsOr("agents", MaxOwned) {
		a := m.Into(v)
		s.Agents = append(s.Agents, Owned{a.Text("agent", nameBytes), a.FloatOr("grade", 0, 0, MaxGrade), decodeStock(a, "stock", MaxStock)})
	}
	s.SheetMass = unit.Mass(m.FloatOr("sheet-mass", 0, 0, unit.MaxFigure))
	if s.SheetMass > MaxSheetMass { // the limit was higher once: weigh it again
		s.SheetMass = 0
	}
	s.SheetGrade = m.TextOr("sheet-grade", "", nameBytes)
	s.PowderBloom = m.FloatOr("powder-bloom", 0, 0, MaxBloom)
	for _, v := range m.ItemsOr("siphons", MaxSiphons) {
		b := m.Into(v)
		s.Siphons = append(s.Siphons, Siphons{unit.Volume(b.Float("size", MinSiphon, MaxSiphon)), int(b.Int("count", 0, MaxBodies))})
	}
	s.Chargers = decodeStock(m, "chargers", MaxChargers)
	for _, v := range m.ItemsOr("liquids", MaxLiquids) {
		s.Liquids = append(s.Liquids, decodeLiquid(m.Into(v)))
	}
	s.Extra = wire.Clone(m.Rest())
	if err := m.Err(); err != nil {
		return Shelf{}, err
	}
	return s, nil
}

// encode writes a stock; one of nothing is worth writing down.
func (s Stock) encode(w *wire.Writer, name string) {
	if s.Known {
		w.Name(name).Float(s.Amount)
	}
}

func decodeStock(m *wire.Fields, name string, most float64) Stock {
	if !m.Has(name) {
		return Stock{}
	}
	return Stock{true, m.Float(name, 0, most)}
}

// Draft is the working formula as it was left, with what it was opened from.
type Draft struct {
	Fields Fields
	ID     string // entry of the book that it was opened from; "" for a new formula
	Rev    int    // revision of that entry
	Saved  Fields // what was last saved or opened, to tell whether it was changed
	Shelf  *Shelf // what it was weighed with; nil when that is not known, or the usual
	Judged Judging
	Before *Draft // an unsaved formula that this one took the place of: fields and entry; nil for none
}

const (
	maxDraftText = 20_000
)

// Encode writes the stored form of a draft.
func (d Draft) Encode() ([]byte, error) {
	var shelf wire.Value
	if d.Shelf != nil {
		var err error
		if shelf, err = d.Shelf.value(); err != nil {
			return nil, err
		}
	}
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("form").Int(Form)
	d.encodePan(w)
	if d.Shelf != nil {
		w.Name("shelf").Value(shelf)
	}
	d.Judged.encode(w, "judged")
	if d.Before != nil {
		w.Name("before").BeginObject()
		d.Before.encodePan(w)
		w.EndObject()
	}
	w.EndObject()
	return w.Bytes()
}

func (d Draft) encodePan(w *wire.Writer) {
	text(w, "id", d.ID)
	number(w, "rev", float64(d.Rev))
	d.Fields.encode(w, "fields")
	d.Saved.encode(w, "saved")
}

func decodePan(m *wire.Fields) Draft {
	return Draft{
		ID: m.TextOr("id", "", nameBytes), Rev: int(m.IntOr("rev", 0, 0, 1<<30)),
		Fields: decodeFields(m.Object("fields")), Saved: decodeFields(m.Object("saved")),
	}
}

// encode writes the fields in the order of their names on the page.
func (f Fields) encode(w *wire.Writer, name string) {
	w.Name(name).BeginObject()
	for _, n := range append(FieldNames(), f.labNames()...) {
		if f[n] != "" {
			w.Name(n).Text(wire.Cut(f[n], maxDraftText))
		}
	}
	w.EndObject()
}

// DecodeDraft reads the stored form of a draft. Errors are as for [Decode].
func DecodeDraft(v wire.Value) (Draft, error) {
	m := v.Fields()
	if form := m.Int("form", 1, 1e6); form > Form {
		m.Fail("form", ErrNewer)
	}
	d := decodePan(m)
	if m.Has("shelf") { // one that cannot be read is no reason to lose what was typed
		if s, err := DecodeShelf(m.Value("shelf")); err == nil {
			d.Shelf = &s
		}
	}
	if m.Has("judged") {
		if j, err := decodeJudging(m.Value("judged")); err == nil {
			d.Judged = j
		}
	}
	if m.Has("before") {
		b := m.Value("before").Fields()
		if before := decodePan(b); b.Err() == nil {
			d.Before = &before
		}
	}
	if err := m.Err(); err != nil {
		return Draft{}, err
	}
	return d, nil
}

func decodeFields(m *wire.Fields) Fields {
	f := Fields{}
	for _, n := range FieldNames() {
		if m.Has(n) {
			f[n] = m.Text(n, maxDraftText)
		}
	}
	for _, rest := range m.Rest() {
		if text, err := rest.Value.Text(maxLabText); err == nil && labFits(rest.Name, text) {
			f[rest.Name] = text
		}
	}
	return f
}

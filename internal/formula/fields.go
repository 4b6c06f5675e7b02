package formula

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Fields are the typed inputs of a formula by their stable names, as a person
// left them, right or wrong. The page, the working draft and links all speak in
// these names; DEVELOPERS.md lists them.
type Fields map[string]string

// The stable names of the inputs that repeat: "part-1-amount", "dose-2-name".
// They count from 1, as a person does; index counts from 0.

// PartField is the input name of one property of the liquid's part:
// name, amount, unit.
func PartField(index int, property string) string { return rowField("part-", index, property) }

// DoseField is the input name of one property of a dose:
// name, amount, unit, grade. A unit of a share may end in " batch": "% batch" is
// per cent of everything in the pan.
func DoseField(index int, property string) string { return rowField("dose-", index, property) }

// OfBatch ends the unit of a share that is one of the whole batch.
const OfBatch = " batch"

func rowField(row string, index int, property string) string {
	return row + strconv.Itoa(index+1) + "-" + property
}

// Codes about typed inputs.
const (
	FigureMissing  note.Code = "figure.missing"
	FigureBad      note.Code = "figure.not-a-figure"
	FigureTwoMarks note.Code = "figure.two-marks"
	FigureTooLarge note.Code = "figure.too-large"
	FigureNegative note.Code = "figure.negative"
	FigureZero     note.Code = "figure.zero"
	FigureOver     note.Code = "figure.over"  // above a limit given in the note
	FigureUnder    note.Code = "figure.under" // below a limit given in the note
	FigureLow      note.Code = "figure.low"   // below the range given in the note
	FigureWhole    note.Code = "figure.whole" // a part of what only counts whole
	FigureSheet    note.Code = "figure.sheet" // heavier than a sheet of gelatin is
	FigureUnit     note.Code = "figure.unit"
	FigureReadAs   note.Code = "figure.read-as" // a hint: 1.234 is one and a bit
	TextTooLong    note.Code = "text.too-long"
	TooManyTags    note.Code = "text.too-many-tags"
)

// Reading is what typed fields came to.
type Reading struct {
	Formula Formula
	Notes   []note.Note // wrong inputs (level Refused) and hints, each at its field
	partRow []int       // row on the page, from 0, of each part
	doseRow []int
}

// Bad reports whether any input is wrong.
func (r Reading) Bad() bool {
	for _, n := range r.Notes {
		if n.Level == note.Refused {
			return true
		}
	}
	return false
}

// DoseRow is the row on the page, from 0, of the formula's dose i.
func (r Reading) DoseRow(i int) int { return r.doseRow[i] }

// PartRow is the row on the page, from 0, of the formula's part i.
func (r Reading) PartRow(i int) int { return r.partRow[i] }

// OnPage turns a field name that counts the formula's rows into the name on the
// page, where empty rows may stand between.
func (r Reading) OnPage(field string) string {
	for _, s := range []struct {
		row  string
		rows []int
	}{{"part-", r.partRow}, {"dose-", r.doseRow}} {
		rest, ok := strings.CutPrefix(field, s.row)
		number, property, found := strings.Cut(rest, "-")
		i, err := strconv.Atoi(number)
		if ok && found && err == nil && i >= 1 && i <= len(s.rows) {
			return rowField(s.row, s.rows[i-1], property)
		}
	}
	return field
}

// Read turns typed fields into a formula. Every input that cannot be read gets
// a note at its field and leaves a zero; the rest is read all the same. Rows
// that are wholly empty are passed over.
func (f Fields) Read(find Resolver) Reading {
	r := reader{fields: f}
	out := &r.out.Formula
	out.Name = r.text("name", MaxName)
	out.Dish, out.Station = r.text("dish", MaxName), r.text("station", MaxName)
	out.Notes = r.text("notes", MaxNotes)
	out.Texture = f["texture"]
	r.tags()
	r.rows("part-", MaxParts, func(i int) { r.part(i) })
	r.rows("dose-", MaxDoses, func(i int) { r.dose(i, find) })
	out.Density = unit.Density(r.figure("liquid-density", limits{low: 0.1, high: 5, unit: unit.GramPerMl}))
	out.Make = r.makeWanted()
	out.Lab = f.lab()
	for _, l := range strings.Split(f["unread"], "\n") {
		if l = strings.TrimSpace(l); l != "" && len(out.Unread) < MaxUnread {
			out.Unread = append(out.Unread, clip(l))
		}
	}
	return r.out
}

type reader struct {
	fields Fields
	out    Reading
}

// limits of a figure; high 0 means none of its own.
type limits struct {
	low, high float64
	unit      unit.Symbol
	needed    bool // empty and zero are refused
}

func (r *reader) refuse(field string, c note.Code, args ...note.Arg) {
	r.out.Notes = append(r.out.Notes, note.Refuse(field, c, args...).Note)
}

func (r *reader) text(field string, limit int) string {
	s := strings.TrimSpace(r.fields[field])
	if len([]rune(s)) > limit {
		r.refuse(field, TextTooLong, note.Num("limit", float64(limit), unit.One))
		return firstRunes(s, limit)
	}
	return s
}

func (r *reader) tags() {
	for _, t := range strings.Split(r.fields["tags"], ",") {
		t = strings.TrimSpace(t)
		switch {
		case t == "":
		case len(r.out.Formula.Tags) == MaxTags:
			r.refuse("tags", TooManyTags, note.Num("limit", MaxTags, unit.One))
			return
		case len([]rune(t)) > MaxName:
			r.refuse("tags", TextTooLong, note.Num("limit", MaxName, unit.One))
		default:
			r.out.Formula.Tags = append(r.out.Formula.Tags, t)
		}
	}
}

// rows reads each row that has a name or an amount.
func (r *reader) rows(row string, limit int, read func(i int)) {
	for i := range limit {
		if strings.TrimSpace(r.fields[rowField(row, i, "name")]+r.fields[rowField(row, i, "amount")]) != "" {
			read(i)
		}
	}
}

func (r *reader) part(i int) {
	r.out.partRow = append(r.out.partRow, i)
	r.out.Formula.Parts = append(r.out.Formula.Parts, Part{
		Name:   r.text(PartField(i, "name"), MaxName),
		Amount: r.amount(PartField(i, "amount"), limits{}, unit.KindMass, unit.KindVolume),
	})
}

func (r *reader) dose(i int, find Resolver) {
	d := Dose{Name: r.text(DoseField(i, "name"), MaxName)}
	d.Amount = r.amount(DoseField(i, "amount"), limits{needed: true}, unit.KindMass, unit.KindDose, unit.KindSheets)
	if d.Share() {
		d.Basis = OnLiquid
		if strings.HasSuffix(r.fields[DoseField(i, "unit")], OfBatch) {
			d.Basis = OnBatch
		}
		if d.Amount.Base() > 1 {
			r.refuse(DoseField(i, "amount"), FigureOver, note.Num("limit", 100, unit.PercentOf))
			d.Amount.Value = 0
		}
	}
	d.Grade = r.figure(DoseField(i, "grade"), limits{high: 3000, unit: unit.One})
	d.Agent = r.agent(d.Name, find)
	r.out.doseRow = append(r.out.doseRow, i)
	r.out.Formula.Doses = append(r.out.Formula.Doses, d)
}

func (r *reader) agent(name string, find Resolver) string {
	if id, ok := find(name); ok {
		return id
	}
	_, bare := gradeOf(name)
	id, _ := find(bare)
	return id
}

// figure reads one number; empty is zero unless it is needed.
func (r *reader) figure(field string, lim limits) float64 {
	text := r.fields[field]
	v, err := unit.ParseFigure(text)
	return r.judge(field, text, v, err, lim)
}

// amount reads a number with its unit: the one typed behind it, else the one
// chosen beside it (field + "-unit", or the row's "unit").
func (r *reader) amount(field string, lim limits, kinds ...unit.Kind) unit.Amount {
	chosen := unit.Symbol(strings.TrimSuffix(r.fields[unitField(field)], OfBatch))
	if chosen.Kind() == unit.KindNone {
		chosen = unit.Gram
	}
	text := r.fields[field]
	if strings.TrimSpace(text) == "" && !lim.needed {
		return unit.Amount{}
	}
	a, err := unit.ParseAmount(text, chosen)
	a.Value = r.judge(field, text, a.Value, err, lim)
	if a.Unit == "" {
		a.Unit = chosen
	}
	for _, k := range kinds {
		if a.Kind() == k {
			return r.bounded(field, a)
		}
	}
	r.refuse(field, FigureUnit, note.Word("unit", "unit."+string(a.Unit)))
	return unit.Amount{Unit: chosen}
}

// bounded refuses weights and volumes beyond a tonne.
func (r *reader) bounded(field string, a unit.Amount) unit.Amount {
	if (a.Kind() == unit.KindMass || a.Kind() == unit.KindVolume) && a.Base() > MaxMass {
		r.refuse(field, FigureOver, note.Num("limit", MaxMass/1000, unit.Kilogram))
		a.Value = 0
	}
	return a
}

func unitField(field string) string {
	if row, ok := strings.CutSuffix(field, "-amount"); ok && (strings.HasPrefix(row, "part-") || strings.HasPrefix(row, "dose-")) {
		return row + "-unit"
	}
	return field + "-unit"
}

// judge checks a parsed figure against its limits and says what is wrong.
func (r *reader) judge(field, text string, v float64, err error, lim limits) float64 {
	switch {
	case errors.Is(err, unit.ErrEmpty) && strings.TrimSpace(text) == "":
		if lim.needed {
			r.refuse(field, FigureMissing)
		}
		return 0
	case err != nil:
		r.refuse(field, codeOf(err))
		return 0
	case v < 0:
		r.refuse(field, FigureNegative)
		return 0
	case v == 0 && lim.needed:
		r.refuse(field, FigureZero)
		return 0
	case lim.high > 0 && v > lim.high:
		r.refuse(field, FigureOver, note.Num("limit", lim.high, lim.unit))
		return 0
	case v != 0 && v < lim.low:
		r.refuse(field, FigureUnder, note.Num("limit", lim.low, lim.unit))
		return 0
	}
	if looksGrouped(text) {
		r.out.Notes = append(r.out.Notes, note.New(note.Hint, FigureReadAs, note.Num("value", v, unit.One)).At(field))
	}
	return v
}

func codeOf(err error) note.Code {
	switch {
	case errors.Is(err, unit.ErrTwoMarks):
		return FigureTwoMarks
	case errors.Is(err, unit.ErrTooLarge):
		return FigureTooLarge
	case errors.Is(err, unit.ErrUnit):
		return FigureUnit
	}
	return FigureBad
}

// looksGrouped reports whether a figure could be read two ways: 1.234 or 1,234.
func looksGrouped(text string) bool {
	text = strings.TrimSpace(text)
	i := strings.IndexAny(text, ".,")
	if i < 1 || i > 3 || text[0] == '0' || len(text) != i+4 {
		return false
	}
	return strings.Trim(text[:i]+text[i+1:], "0123456789") == ""
}

// LabPrefix begins the names of the lab's inputs. The pan keeps them with the
// formula and does not look into them.
const LabPrefix = "lab-"

// Bounds on the lab's inputs.
const (
	MaxLab     = 200  // inputs with a text
	maxLabName = 60   // bytes
	maxLabText = 2000 // bytes
)

// labNames are the names of the lab's inputs that hold something, in order.
func (f Fields) labNames() []string {
	var names []string
	for name, text := range f {
		if strings.HasPrefix(name, LabPrefix) && len(name) <= maxLabName && text != "" && len(text) <= maxLabText {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names[:min(len(names), MaxLab)]
}

// lab is the lab's inputs alone, nil when there are none.
func (f Fields) lab() Fields {
	names := f.labNames()
	if len(names) == 0 {
		return nil
	}
	out := Fields{}
	for _, name := range names {
		out[name] = f[name]
	}
	return out
}

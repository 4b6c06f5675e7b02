package formula

import (
	"strconv"
	"strings"

	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// Bounds of an evening.
const (
	MaxDishes  = 12      // formulas
	MaxEvening = 3 << 20 // bytes of the message to the lab, all formulas with it
	idBytes    = 200
)

// EveningPrefix begins the names of the inputs of the evening. What is typed
// there belongs to the evening and not to the formula in the pan.
const EveningPrefix = LabPrefix + "evening-"

// dishPrefix begins those of its rows: "lab-evening-dish-2-covers".
const dishPrefix = EveningPrefix + "dish-"

// Evening is a set of formulas for one service. It holds what a person typed,
// right or wrong; the lab reads it.
type Evening struct {
	Dishes []Dish
	Typed  Fields // the inputs outside its rows, by their names
	Extra  []wire.Member
}

// Dish is one formula of an evening: which entry of the book, for how many, and
// how much each. Name is the entry's when it was last seen, so that one that is
// gone can still be named.
type Dish struct {
	ID, Name              string
	Covers, Portion, Unit string // as typed
}

// Take puts what was typed into its place. It reports whether the name is one of
// the evening's.
func (e *Evening) Take(name, text string) bool {
	if !strings.HasPrefix(name, EveningPrefix) {
		return false
	}
	text = wire.Cut(text, maxLabText)
	rest, row := strings.CutPrefix(name, dishPrefix)
	if !row {
		if e.Typed == nil {
			e.Typed = Fields{}
		}
		e.Typed[name] = text
		return true
	}
	number, what, _ := strings.Cut(rest, "-")
	i, err := strconv.Atoi(number)
	if err != nil || i < 1 || i > len(e.Dishes) {
		return true
	}
	switch d := &e.Dishes[i-1]; what {
	case "covers":
		d.Covers = text
	case "portion":
		d.Portion = text
	case "unit":
		d.Unit = text
	}
	return true
}

// Encode writes the stored form.
func (e Evening) Encode() ([]byte, error) {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("form").Int(Form)
	w.Name("dishes").BeginArray()
	for _, d := range e.Dishes {
		w.BeginObject()
		w.Name("id").Text(d.ID)
		text(w, "name", d.Name)
		text(w, "covers", d.Covers)
		text(w, "portion", d.Portion)
		text(w, "unit", d.Unit)
		w.EndObject()
	}
	w.EndArray()
	e.Typed.encodeLab(w)
	w.Members(e.Extra)
	w.EndObject()
	return w.Bytes()
}

// DecodeEvening reads the stored form. Errors are as for [Decode].
func DecodeEvening(v wire.Value) (Evening, error) {
	m := v.Fields()
	if form := m.Int("form", 1, 1e6); form > Form {
		m.Fail("form", ErrNewer)
	}
	var e Evening
	for _, v := range m.Items("dishes", MaxDishes) {
		d := m.Into(v)
		e.Dishes = append(e.Dishes, Dish{d.Text("id", idBytes), d.TextOr("name", "", nameBytes),
			d.TextOr("covers", "", maxLabText), d.TextOr("portion", "", maxLabText), d.TextOr("unit", "", nameBytes)})
	}
	e.Typed = decodeLab(m)
	e.Extra = wire.Clone(m.Rest())
	if err := m.Err(); err != nil {
		return Evening{}, err
	}
	return e, nil
}

// Tonight is what the pan tells the lab of the evening: what was typed, and the
// newest version of each of its formulas.
type Tonight struct {
	Evening Evening
	Records []Record
}

// Record is a formula of the book in its stored form.
type Record struct {
	ID   string
	Body []byte
}

// Body is the stored form of an entry, nil when the book has it no more.
func (t Tonight) Body(id string) []byte {
	for _, r := range t.Records {
		if r.ID == id {
			return r.Body
		}
	}
	return nil
}

// Encode writes the message.
func (t Tonight) Encode() ([]byte, error) {
	body, err := t.Evening.Encode()
	if err != nil {
		return nil, err
	}
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("evening").Canonical(body)
	w.Name("records").BeginArray()
	for _, r := range t.Records {
		w.BeginObject()
		w.Name("id").Text(r.ID)
		w.Name("body").Canonical(r.Body)
		w.EndObject()
	}
	w.EndArray()
	w.EndObject()
	return w.Bytes()
}

// DishOf is a dish of a formula as it is made in the pan: for so many, so much
// each, where it says so. A foam's portion is what its siphon's section says.
func DishOf(f Formula, st unit.Style) Dish {
	d := Dish{Name: f.Name, Unit: string(unit.Gram)}
	if m := f.Make; m.Mode == ForPortions {
		d.Covers, d.Portion, d.Unit = st.Plain(m.Portions), st.Plain(m.Portion.Value), string(m.Portion.Unit)
	}
	if foam := f.Lab["lab-foam-portion"]; foam != "" && f.Lab["lab-foam-unit"] != "quenelle" {
		d.Portion, d.Unit = foam, string(unit.Millilitre)
		if f.Lab["lab-foam-unit"] != "" {
			d.Unit = f.Lab["lab-foam-unit"]
		}
	}
	return d
}

package lab

import (
	"slices"

	"tremblant/internal/foam"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// foamAsk is what is asked of the siphons, put together from what was typed,
// what the pan knows, and what is usual. taken tells the page what was not typed.
type foamAsk struct {
	figuresTyped
	s     *state
	batch gel.Batch
	sized bool // batch is the pan's own; else that of a kilogram of liquid
	taken foamTaken
}

// foamTaken is what was taken for granted.
type foamTaken struct {
	kind    bool // guessed from the doses
	siphon  bool // one of half a litre
	shelf   bool // the siphons are the shelf's
	portion bool // the usual one
	pan     bool // covers and portion are the pan's portions
	all     bool // no covers: what is in the pan
}

// What holds where nothing is typed. Rules of thumb, no source.
const (
	usualFoam     = 40 // ml of foam a cover: two heaped tablespoons
	usualQuenelle = 15 // ml: shaped with two dessert spoons
	usualHot      = 60 // °C
	usualCold     = 5  // °C
	usualBox      = 10 // chargers
	someHot       = 30 // °C: served hot above
)

// newFoamAsk reads the section's inputs. ok is false when the pan's formula
// cannot be counted.
func newFoamAsk(s *state) (a *foamAsk, ok bool) {
	a = &foamAsk{figuresTyped: readFoam(s), s: s, batch: s.batch, sized: s.refused == nil}
	if a.sized {
		return a, true
	}
	for _, n := range s.reading.Notes {
		if n.Level == note.Refused && !sizeField(n.Field) {
			return a, false
		}
	}
	f := s.reading.Formula
	f.Make = formula.Make{Mode: formula.ForLiquid, Liquid: unit.Grams(1000)}
	if f.Density == 0 {
		f.Density = usualDensity
	}
	var err error
	a.batch, err = gel.Convert(f, s.usualSheets())
	return a, err == nil && len(a.batch.Doses) == len(f.Doses)
}

// sizeField reports whether a field only says how much to make, which the siphons
// will say.
func sizeField(field string) bool {
	switch field {
	case "batch-liquid", "portions", "portion-size", "spare", "left-of", "left-amount":
		return true
	}
	return false
}

// request is the plan to ask for.
func (a *foamAsk) request() foam.Request {
	r := foam.Request{Formula: a.formula(), Box: int(a.or("box", usualBox)), Charges: a.count("charges"), Gas: foam.OtherGas}
	if a.s.ticked(foamInput("gas")) {
		r.Gas = foam.FoodN2O
	}
	if a.s.fields[foamInput("basis")] == "gas" {
		r.Basis = foam.ByGasBalance
	}
	a.kind(&r.Formula)
	r.Formula.Base.Temperature = a.temperature(r.Formula.Type)
	a.serving(&r)
	r.Shelf = a.siphons()
	return r
}

// kind is the chosen kind of foam, or the one that the doses tell.
func (a *foamAsk) kind(f *foam.Formula) {
	f.Type = a.s.fields[foamInput("kind")]
	if _, ok := foam.TypeByID(f.Type); !ok {
		f.Type, a.taken.kind = guessFoam(*f), true
	}
}

// temperature is the typed one, or the usual one of the kind, cold or hot.
func (a *foamAsk) temperature(id string) unit.Celsius {
	kind, _ := foam.TypeByID(id)
	usual := kind.Temp.Typical
	switch {
	case a.known("temp"):
		return unit.Celsius(a.figures["temp"].Typical)
	case a.served(usual) == "hot" && usual <= someHot:
		usual = usualHot
	case a.served(usual) == "cold" && usual > someHot:
		usual = usualCold
	}
	return unit.Celsius(usual)
}

// served is "cold" or "hot": as chosen, or as a temperature is.
func (a *foamAsk) served(t float64) string {
	if chosen := a.s.fields[foamInput("serve")]; chosen == "cold" || chosen == "hot" {
		return chosen
	}
	if t > someHot {
		return "hot"
	}
	return "cold"
}

// serving is covers and portion: typed, or the pan's, or what is in the pan.
func (a *foamAsk) serving(r *foam.Request) {
	r.Spare = a.share("spare")
	r.Portion = a.portion()
	m := a.s.reading.Formula.Make
	switch {
	case a.known("covers"):
		r.Covers = a.count("covers")
	case m.Mode == formula.ForPortions && m.Portions >= 2 && a.sized:
		a.taken.pan = true
		r.Covers = int(m.Portions)
		if !a.known("portion") {
			r.Portion = a.panPortion(m.Portion)
		}
		if !a.known("spare") {
			r.Spare = min(m.Spare, 1)
		}
	case a.sized && a.batch.MassKnown:
		a.taken.all = true
		r.Base = a.batch.Yield * (1 + 1e-9) // whole grams are planned: 435 must not come to 434
	}
}

// portion is what one cover gets.
func (a *foamAsk) portion() foam.Portion {
	size := a.or("portion", 0)
	switch a.s.fields[foamInput("unit")] {
	case "g":
		return foam.Portion{Kind: foam.ByMass, Size: size}
	case "quenelle":
		each := 1
		if a.known("portion") {
			each = a.count("portion")
		}
		return foam.Portion{Kind: foam.ByQuenelle, Size: a.or("quenelle", usualQuenelle) * float64(min(each, 1)), Each: each}
	}
	if !a.known("portion") {
		size, a.taken.portion = usualFoam, true
	}
	return foam.Portion{Size: size}
}

// panPortion is the pan's portion: of base, so by weight, since foam weighs what
// the base did.
func (a *foamAsk) panPortion(size unit.Amount) foam.Portion {
	grams := size.Base()
	if size.Kind() == unit.KindVolume {
		density := a.s.reading.Formula.Density
		if density == 0 {
			density = usualDensity
		}
		grams *= float64(density)
	}
	return foam.Portion{Kind: foam.ByMass, Size: grams}
}

// foamSizes are the inputs for bodies of the catalogue. Others are counted on the
// shelf.
var foamSizes = [...]struct{ input, body string }{{"small", "siphon-250"}, {"half", "siphon-500"}, {"litre", "siphon-1000"}}

// usualBody is the body that is taken when nobody says which there are.
const usualBody = "siphon-500"

// siphons are the bodies on hand: those of the catalogue, and the cook's own. What
// is typed here holds; else what the shelf says; else one that is usual.
func (a *foamAsk) siphons() []foam.Siphon {
	all := foam.Catalogue()
	any := false
	body := func(id string) *foam.Siphon {
		return &all[slices.IndexFunc(all, func(x foam.Siphon) bool { return x.ID == id })]
	}
	for _, size := range foamSizes {
		x := body(size.body)
		x.Count = a.count(size.input)
		a.measured(x, size.input+"-brim")
		any = any || a.known(size.input)
	}
	if a.known("own-size") {
		own := foam.Siphon{ID: "own", Nominal: unit.Volume(a.or("own-size", 0)), Count: a.count("own"), MadeForN2O: true}
		a.measured(&own, "own-brim")
		if full, err := foam.CustomSiphon(own); err == nil || own.Count > 0 {
			all, any = append(all, full), any || a.known("own")
		}
	}
	switch {
	case any:
	case len(a.s.shelf.Siphons) > 0:
		all, a.taken.shelf = a.owned(all), true
	default:
		body(usualBody).Count, a.taken.siphon = 1, true
	}
	return slices.DeleteFunc(all, func(x foam.Siphon) bool { return x.Count == 0 })
}

// owned puts the shelf's counts to the bodies of the catalogue, and adds those of
// other sizes.
func (a *foamAsk) owned(all []foam.Siphon) []foam.Siphon {
	for _, own := range a.s.shelf.Siphons {
		i := slices.IndexFunc(all, func(x foam.Siphon) bool { return x.Nominal == own.Size })
		if i >= 0 {
			all[i].Count += own.Count
			continue
		}
		if full, err := foam.CustomSiphon(foam.Siphon{ID: "own", Nominal: own.Size, Count: own.Count, MadeForN2O: true}); err == nil {
			all = append(all, full)
		}
	}
	return all
}

// measured puts in the brim volume that was measured, and the stated pressure.
func (a *foamAsk) measured(x *foam.Siphon, brim string) {
	if a.known(brim) {
		x.Brim = unit.Exactly(a.figures[brim].Typical)
	}
	x.WorkingPressure = unit.Pressure(a.or("pressure", 0) * 1e5)
}

// tests are the expansions that the cook has measured. What is wrong with one is
// a refusal at its input.
func (a *foamAsk) tests(density unit.Density) (m foam.Measured, refused error) {
	if a.known("cup-base") && a.known("cup-foam") {
		over, err := foam.CupTest(unit.Mass(a.or("cup-base", 0)), unit.Mass(a.or("cup-foam", 0)))
		if err != nil {
			return nil, err
		}
		m = append(m, over)
	}
	if a.known("gave") && a.known("gave-base") {
		over, err := foam.LitreTest(unit.Mass(a.or("gave-base", 0)), density, unit.Volume(a.or("gave", 0)*1000))
		if err != nil {
			return nil, err
		}
		m = append(m, over)
	}
	return m, nil
}

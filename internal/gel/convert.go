package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Codes of refusals and notes of a conversion.
const (
	NoLiquid     note.Code = "convert.no-liquid"        // doses in grams, but the liquid's amount is missing
	NoTarget     note.Code = "convert.no-target"        // nothing says how much to make
	NeedDensity  note.Code = "convert.density-needed"   // a volume meets a weight
	UsualSheet   note.Code = "convert.usual-sheet"      // the sums count sheets at a usual weight
	TooMuchAgent note.Code = "convert.dose-over"        // a dose above 100 %
	AllAgent     note.Code = "convert.doses-over-batch" // shares of the batch add up to 100 % or more
	TooLarge     note.Code = "convert.batch-too-large"  // beyond formula.MaxMass
	NothingLeft  note.Code = "convert.nothing-left"     // losses eat the batch
	LossOver     note.Code = "convert.loss-over"        // a loss of 100 % or more
	NoIngredient note.Code = "convert.no-such-ingredient"
	WrongKind    note.Code = "convert.wrong-unit"   // a volume of an agent, a share of what is left
	VolumesOnly  note.Code = "convert.volumes-only" // doses hold, weights need a density
	BoilsAway    note.Code = "convert.boils-away"   // more boils off than there is liquid
	Concentrates note.Code = "convert.boil-concentrates"
)

// Shelf is what a conversion needs to know of this kitchen.
type Shelf struct {
	// SheetMass is of one sheet of this kitchen's leaf gelatin; 0 when not weighed yet:
	// then sheets go into the sums at the usual weight of their grade.
	SheetMass  unit.Mass
	SheetGrade agent.Word // trade grade of the sheets; "" for the commonest
}

// Sheet is the mass of a sheet, as weighed or else as usual for its grade: larger
// sheets are sold of every grade.
func (k Shelf) Sheet() (mass unit.Mass, weighed bool) {
	if k.SheetMass > 0 {
		return k.SheetMass, true
	}
	sheet, known := agent.SheetByKey(k.SheetGrade)
	if !known {
		sheet, _ = agent.SheetByKey("gold")
	}
	return unit.Mass(sheet.Grams.Typical), false
}

// Batch is a formula at the size asked for: what to weigh, and what comes of it.
// All masses are exact; rounding to a scale is not done here.
type Batch struct {
	Liquid    unit.Mass   // all parts of the liquid together
	Volume    unit.Volume // of the liquid; 0 when its density is not known
	Parts     []unit.Mass // of each part; of volumes without a density, see MassKnown
	Doses     []DoseOut
	Total     unit.Mass // everything that goes into the pan
	AfterBoil unit.Mass // what is in the pan when the water has boiled off
	Losses    []Loss    // boil, blender, sieve, bottle: those that take something
	Yield     unit.Mass // what reaches the plate
	Portions  float64   // Yield over the portion's size; 0 when no size is given

	// MassKnown is false when everything is in volumes and the density is not
	// known: then the doses in grams hold, while Liquid, Parts, Total, Yield and
	// shares do not and are zero.
	MassKnown bool
	Notes     []note.Note
}

// DoseOut is one dose of a batch.
type DoseOut struct {
	Mass      unit.Mass     // 0 when the agent is counted in sheets of unknown weight
	Sheets    float64       // count; 0 unless sheets are written, or their weight is known for an agent in sheets
	OnLiquid  unit.Fraction // of the liquid as weighed in
	OnBatch   unit.Fraction // of everything as weighed in
	AfterBoil unit.Fraction // of everything once the water has boiled off
	MassKnown bool
}

// Loss is what one step keeps back.
type Loss struct {
	Step string // "boil", "blender", "sieve", "bottle"
	Mass unit.Mass
}

// Convert scales f to the batch that f.Make asks for. It refuses with a
// *note.Refusal whose Field names the input to mend.
//
// A dose written as a weight is a share of the liquid that it was written with;
// a share of the batch counts the agents too: with shares s on the liquid and b
// on the batch, batch = liquid × (1 + Σs) / (1 − Σb).
func Convert(f formula.Formula, k Shelf) (Batch, error) {
	if err := check(f); err != nil {
		return Batch{}, err
	}
	r, err := readRecipe(f, k)
	if err != nil {
		return Batch{}, err
	}
	liquid, err := r.target(f)
	if err != nil {
		return Batch{}, err
	}
	if !(liquid <= formula.MaxMass) {
		return Batch{}, note.Refuse(targetField(f.Make), TooLarge, note.Num("limit", formula.MaxMass/1000, unit.Kilogram))
	}
	return r.batch(f, liquid)
}

// recipe is a formula in shares: the form in which everything scales.
type recipe struct {
	base        float64   // mass of the liquid as written, g (or ml with volumesOnly); 0 when only shares are written
	parts       []float64 // share of each part in the liquid
	doses       []doseShare
	density     float64 // g/ml, 0 when not known
	volumesOnly bool    // everything is in volumes, and the density is not known
	onLiquid    float64 // Σ shares on the liquid
	onBatch     float64 // Σ shares on the batch
	blindSheets bool    // sheets whose weight is not known are counted at the usual one
	sheetMass   float64 // g, as weighed or else usual
	weighed     bool
}

// doseShare is one dose as a share.
type doseShare struct {
	share   float64 // g per g of liquid, or of batch
	onBatch bool
	sheets  float64 // sheets per g of liquid, for a dose written in sheets
	blind   bool    // sheets of unknown weight
}

func readRecipe(f formula.Formula, k Shelf) (*recipe, error) {
	sheet, weighed := k.Sheet()
	r := &recipe{density: float64(f.Density), sheetMass: float64(sheet), weighed: weighed}
	if err := r.readParts(f); err != nil {
		return nil, err
	}
	for i, d := range f.Doses {
		s, err := r.readDose(i, d)
		if err != nil {
			return nil, err
		}
		r.doses = append(r.doses, s)
		r.blindSheets = r.blindSheets || s.blind
		if s.onBatch {
			r.onBatch += s.share
		} else {
			r.onLiquid += s.share
		}
	}
	if r.onBatch >= 1 {
		return nil, note.Refuse(formula.DoseField(0, "amount"), AllAgent, note.Num("sum", r.onBatch*100, unit.PercentOf))
	}
	return r, nil
}

// readParts adds up the liquid. Where the density is missing and every amount
// of the formula is a volume, one ml stands for one g: only ratios are used then.
func (r *recipe) readParts(f formula.Formula) error {
	r.volumesOnly = r.density == 0 && onlyVolumes(f)
	masses := make([]float64, len(f.Parts))
	for i, p := range f.Parts {
		m, err := r.mass(p.Amount, formula.PartField(i, "amount"))
		if err != nil {
			return err
		}
		masses[i] = m
		r.base += m
	}
	if r.base > formula.MaxMass {
		return note.Refuse(formula.PartField(0, "amount"), TooLarge, note.Num("limit", formula.MaxMass/1000, unit.Kilogram))
	}
	for _, m := range masses {
		if r.base > 0 {
			r.parts = append(r.parts, m/r.base)
		} else {
			r.parts = append(r.parts, 0)
		}
	}
	return nil
}

// onlyVolumes reports whether parts and target are volumes, and the doses are
// written so that no density is needed to scale them.
func onlyVolumes(f formula.Formula) bool {
	for _, p := range f.Parts {
		if p.Amount.Kind() != unit.KindVolume {
			return false
		}
	}
	for _, d := range f.Doses {
		if d.Share() && d.Amount.Unit != unit.GramPerL {
			return false
		}
	}
	switch m := f.Make; m.Mode {
	case formula.ForLiquid:
		return m.Liquid.Kind() == unit.KindVolume
	case formula.ForLeft:
		return m.LeftOf.Part == (m.Left.Kind() == unit.KindVolume)
	}
	return false
}

// mass reads an amount of liquid.
func (r *recipe) mass(a unit.Amount, field string) (float64, error) {
	switch a.Kind() {
	case unit.KindMass:
		return a.Base(), nil
	case unit.KindVolume:
		switch {
		case r.volumesOnly:
			return a.Base(), nil
		case r.density > 0:
			return a.Base() * r.density, nil
		}
		return 0, note.Refuse("liquid-density", NeedDensity)
	}
	if a.Unit == "" {
		return 0, note.Refuse(field, formula.FigureMissing)
	}
	return 0, note.Refuse(field, WrongKind, note.Word("unit", "unit."+string(a.Unit)))
}

func (r *recipe) readDose(i int, d formula.Dose) (doseShare, error) {
	field := formula.DoseField(i, "amount")
	if d.Share() {
		return r.readShare(d, field)
	}
	if !(r.base > 0) {
		return doseShare{}, note.Refuse(formula.PartField(0, "amount"), NoLiquid, note.Typed("agent", d.Name))
	}
	switch d.Amount.Kind() {
	case unit.KindMass:
		s := d.Amount.Base() / r.base
		if s > 1 && !r.volumesOnly {
			return doseShare{}, note.Refuse(field, TooMuchAgent, note.Num("share", s*100, unit.PercentOf))
		}
		return doseShare{share: s}, nil
	case unit.KindSheets:
		s := doseShare{sheets: d.Amount.Value / r.base, blind: !r.weighed}
		s.share = s.sheets * r.sheetMass
		if s.share > 1 {
			return doseShare{}, note.Refuse(field, TooMuchAgent, note.Num("share", s.share*100, unit.PercentOf))
		}
		return s, nil
	}
	return doseShare{}, note.Refuse(field, WrongKind, note.Word("unit", "unit."+string(d.Amount.Unit)))
}

func (r *recipe) readShare(d formula.Dose, field string) (doseShare, error) {
	s := doseShare{share: d.Amount.Base(), onBatch: d.Basis == formula.OnBatch}
	if d.Amount.Unit == unit.GramPerL {
		s.onBatch = false
		if !r.volumesOnly {
			if r.density == 0 {
				return s, note.Refuse("liquid-density", NeedDensity)
			}
			s.share /= r.density
		}
	}
	if s.share > 1 || (s.onBatch && s.share == 1) {
		return s, note.Refuse(field, TooMuchAgent, note.Num("share", s.share*100, unit.PercentOf))
	}
	return s, nil
}

// perLiquid is everything in the pan over the liquid alone.
func (r *recipe) perLiquid() float64 { return (1 + r.onLiquid) / (1 - r.onBatch) }

// target is the mass of liquid that the batch needs.
func (r *recipe) target(f formula.Formula) (float64, error) {
	switch m := f.Make; m.Mode {
	case formula.ForLiquid:
		if !(m.Liquid.Value > 0) {
			return 0, note.Refuse("batch-liquid", NoTarget)
		}
		return r.mass(m.Liquid, "batch-liquid")
	case formula.ForPortions:
		return r.backward(f)
	case formula.ForLeft:
		return r.fromLeft(f)
	}
	return 0, note.Refuse("batch-liquid", NoTarget)
}

func targetField(m formula.Make) string {
	switch m.Mode {
	case formula.ForPortions:
		return "portions"
	case formula.ForLeft:
		return "left-amount"
	}
	return "batch-liquid"
}

// fromLeft scales to what is left of one ingredient.
func (r *recipe) fromLeft(f formula.Formula) (float64, error) {
	m := f.Make
	if !(m.Left.Value > 0) {
		return 0, note.Refuse("left-amount", NoTarget)
	}
	if m.LeftOf.Part {
		if m.LeftOf.Index < 0 || m.LeftOf.Index >= len(f.Parts) || !(r.parts[m.LeftOf.Index] > 0) {
			return 0, note.Refuse("left-of", NoIngredient)
		}
		left, err := r.mass(m.Left, "left-amount")
		return left / r.parts[m.LeftOf.Index], err
	}
	if m.LeftOf.Index < 0 || m.LeftOf.Index >= len(r.doses) {
		return 0, note.Refuse("left-of", NoIngredient)
	}
	return r.fromLeftDose(r.doses[m.LeftOf.Index], m.Left)
}

func (r *recipe) fromLeftDose(d doseShare, left unit.Amount) (float64, error) {
	perGram := d.share // grams of agent for each gram of liquid
	if d.onBatch {
		perGram *= r.perLiquid()
	}
	switch left.Kind() {
	case unit.KindMass:
		return left.Base() / perGram, nil
	case unit.KindSheets:
		if d.sheets > 0 {
			return left.Value / d.sheets, nil
		}
		r.blindSheets = !r.weighed
		return left.Value * r.sheetMass / perGram, nil
	}
	return 0, note.Refuse("left-amount", WrongKind, note.Word("unit", "unit."+string(left.Unit)))
}

// batch works out all figures for a mass of liquid.
func (r *recipe) batch(f formula.Formula, liquid float64) (Batch, error) {
	b := Batch{MassKnown: !r.volumesOnly}
	total := liquid * r.perLiquid()
	for _, d := range r.doses {
		b.Doses = append(b.Doses, r.doseOut(d, liquid, total))
	}
	if r.volumesOnly {
		b.Volume = unit.Volume(liquid)
		b.Notes = append(b.Notes, note.New(note.Hint, VolumesOnly).At("liquid-density"))
		return b, nil
	}
	b.Liquid, b.Total = unit.Mass(liquid), unit.Mass(total)
	if r.density > 0 {
		b.Volume = b.Liquid.Volume(unit.Density(r.density))
	}
	for _, share := range r.parts {
		b.Parts = append(b.Parts, unit.Mass(share*liquid))
	}
	if r.blindSheets {
		b.Notes = append(b.Notes, note.New(note.Hint, UsualSheet, note.Num("mass", r.sheetMass, unit.Gram)).At("sheet-mass"))
	}
	if err := b.follow(f.Make, r.density); err != nil {
		return Batch{}, err
	}
	for i := range b.Doses {
		b.Doses[i].AfterBoil = unit.Fraction(float64(b.Doses[i].Mass) / float64(b.AfterBoil))
	}
	return b, nil
}

func (r *recipe) doseOut(d doseShare, liquid, total float64) DoseOut {
	out := DoseOut{Sheets: d.sheets * liquid, MassKnown: !d.blind}
	if d.blind {
		return out
	}
	mass := d.share * liquid
	if d.onBatch {
		mass = d.share * total
	}
	out.Mass = unit.Mass(mass)
	if !r.volumesOnly {
		out.OnLiquid = unit.Fraction(mass / liquid)
		out.OnBatch = unit.Fraction(mass / total)
	}
	return out
}

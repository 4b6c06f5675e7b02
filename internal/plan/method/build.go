package method

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

func pow3(x float64) float64 { return math.Pow(3, x) }

// builder carries what the steps so far have made.
type builder struct {
	in     Input
	steps  []Step
	notes  []note.Note
	groups []group
	base   []Part    // the hydrating part
	rest   []Part    // what comes late and cold
	borrow unit.Mass // taken from the late parts into the hydrating one
	warned []Role
	named  bool    // the hydrating part stands in some step already
	pan    float64 // °C of the hydrated part
	sugar  unit.Mass
	inMix  unit.Mass // sugar used up as dry carrier
}

// Build writes the method. Errors are *note.Refusal.
func Build(in Input) (Method, error) {
	if err := in.check(); err != nil {
		return Method{}, err
	}
	b := &builder{in: in, groups: groups(in.Doses, in.Liquid), sugar: in.Liquid.mass(Sugar)}
	b.split()
	b.spheres()
	b.prepare()
	b.wet()
	b.heat()
	b.additions()
	b.join()
	b.finish()
	return Method{b.steps, b.notes}, nil
}

func (b *builder) add(s Step) { b.steps = append(b.steps, s) }

// doses picks the formula's doses by their process.
func (b *builder) doses(pick func(Process) bool) []Dose {
	var out []Dose
	for _, d := range b.in.Doses {
		if pick(d.Process) {
			out = append(out, d)
		}
	}
	return out
}

func names(doses []Dose) []string {
	out := make([]string, len(doses))
	for i, d := range doses {
		out[i] = d.Process.ID
	}
	return out
}

func mass(doses []Dose) unit.Mass {
	var sum unit.Mass
	for _, d := range doses {
		sum += d.Mass
	}
	return sum
}

func partNames(parts []Part) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = p.ID
	}
	return out
}

func partMass(parts []Part) unit.Mass {
	var sum unit.Mass
	for _, p := range parts {
		sum += p.Mass
	}
	return sum
}

// meanTemp is the temperature of parts put together.
func meanTemp(parts []Part) float64 {
	var sum, weight float64
	for _, p := range parts {
		sum += float64(p.Mass) * float64(p.Temp)
		weight += float64(p.Mass)
	}
	if weight == 0 {
		return 0
	}
	return sum / weight
}

// prepare covers everything before powder meets liquid.
func (b *builder) prepare() {
	b.add(newStep(Weigh, nil, nil).takes(unit.Range{Low: 3, Typical: 5, High: 10}))
	b.reduce()
	if len(b.doses(func(p Process) bool { return p.Enzyme })) > 0 {
		for _, p := range b.in.Liquid.Parts {
			if p.Enzyme {
				b.scald(p)
			}
			if p.Preheated {
				b.notes = append(b.notes, caution(CodePreheated, enzymeSource, celsius("temp", 82)))
			}
		}
	}
	b.dryMix()
	b.bloom()
	b.sequester()
	if left := b.sugar - b.inMix; left > 1e-9 && !b.isSugarLate() {
		b.add(b.sweeten(left))
	}
}

// enzymeSource says at what heat the enzymes of raw fruit are gone.
var enzymeSource = source.Ref{Tag: source.Tertiary, Text: "trade pages on gelatin and raw fruit; McGee, On Food and Cooking, 2004, names the fruits"}

func (b *builder) scald(p Part) {
	agents := names(b.doses(func(p Process) bool { return p.Enzyme }))
	b.add(newStep(Scald, agents, []string{p.ID}).takes(unit.Range{Low: 4, Typical: 6, High: 10}).uses("stove").
		arg(celsius("temp", 82)).atLeast(Temperature, 82, unit.DegreeC, enzymeSource).
		note(caution(CodeEnzyme, enzymeSource, celsius("temp", 82))))
}

// dryMix rubs the lumping powders with part of the sugar, if there is any.
func (b *builder) dryMix() {
	mixable := b.doses(func(p Process) bool {
		return p.Premix.Known() && !p.Salt && (p.Way == DryBlend || p.Way == Shear || p.Way == RainCold)
	})
	if len(mixable) == 0 || b.sugar == 0 {
		return
	}
	want, ref := unit.Mass(0), source.Ref{}
	for _, d := range mixable {
		want += d.Mass * unit.Mass(d.Process.Premix.Typical)
		ref = d.Process.Premix.Source
	}
	b.inMix = min(want, b.sugar)
	b.add(newStep(DryMix, names(mixable), b.in.Liquid.ids(Sugar)).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		arg(grams("sugar", b.inMix), grams("powder", mass(mixable)), note.Num("ratio", float64(b.inMix/mass(mixable)), unit.One)).
		why(reason(CodeLumps, ref)))
}

// bloomRatio is how much cold water powdered gelatin is soaked in, grams per
// gram, and about what sheets carry after squeezing.
var bloomRatio = Fact{unit.Range{Low: 4, Typical: 5, High: 6}, source.Ref{Tag: source.Tertiary, Text: "trade pages on gelatin: four to six times its weight of cold water"}}

func (b *builder) bloom() {
	for _, d := range b.doses(func(p Process) bool { return p.Way == Soak }) {
		water := d.Mass * unit.Mass(bloomRatio.Typical)
		s := newStep(Bloom, []string{d.Process.ID}, nil).takes(d.Process.Rest.Range).waits().
			arg(grams("agent", d.Mass), grams("water", water), minutes("low", d.Process.Rest.Low), minutes("high", d.Process.Rest.Typical)).
			atLeast(Time, d.Process.Rest.Low, unit.Minute, d.Process.Rest.Source).
			atMost(Temperature, 20, unit.DegreeC, practice).
			why(reason(CodeSwell, d.Process.Rest.Source))
		if d.Sheets {
			s = s.why(reason(CodeSheetWater, bloomRatio.Source, grams("low", d.Mass*unit.Mass(bloomRatio.Low)), grams("high", d.Mass*unit.Mass(bloomRatio.High))))
		}
		b.add(s)
	}
}

package lab

import (
	"maps"
	"math"
	"strconv"
	"strings"

	"tremblant/internal/dry"
	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// drier dries the pan's mix to a powder, a crisp or a sheet: the mass is the
// pan's, the water is the liquid's.
type drier struct {
	plate
	typed  figuresTyped
	in     dry.Input
	start  unit.Range // moisture of the wet mix; zero when not known
	auto   bool       // the body is a guess
	warm   bool       // the temperature is the usual one
	answer dry.Answer
	of     dry.Input
	span   unit.Range // product, g, by what is not known of the water
	runs   []dry.Trial
}

func newDrier() *drier { return &drier{plate: plate{name: "dry"}} }

// dryFigures are the inputs that hold a figure.
var dryFigures = [...]figureAsked{
	{"want", 0.1, 100_000, unit.Gram},
	{"residual", -100, 100, unit.PercentOf}, // below zero is the core's to answer
	{"loss", 0, 99, unit.PercentOf},
	{"load", 0.001, 5, unit.One},
	{"long", 1, 500, unit.One},
	{"wide", 1, 500, unit.One},
	{"temp", 1, 120, unit.DegreeC},
	{"humidity", 1, 100, unit.PercentOf},
	{"water", 0, 100, unit.PercentOf},
	{"took", 0.05, 240, unit.Hour},
	{"tray-wet", 0.1, 100_000, unit.Gram},
	{"tray-now", 0.1, 100_000, unit.Gram},
}

// What holds where nothing is typed (common practice).
const (
	usualLoad = 0.2 // g/cm²: a thin layer
	usualHeat = 55  // °C
	mostRuns  = 6
)

var dryForms = [...]struct {
	word     string
	form     dry.Form
	residual float64 // %
}{
	{"powder", dry.Powder, 5}, {"crisp", dry.Crisp, 4}, {"sheet", dry.Sheet, 15},
}

var dryBodies = [...]string{"leaf", "fruit", "starch"}

func (d *drier) inputs() []string {
	ticks := []string{"body", "animal"}
	for _, w := range dry.Windows {
		ticks = append(ticks, "keep-"+string(w.Kept))
	}
	return d.names(dryFigures[:], ticks)
}

// show implements section.
func (d *drier) show(s *state) {
	d.typed = s.readFigures(d.input, dryFigures[:])
	d.read(s)
	d.showTaken(s)
	d.showRuns(s)
	switch {
	case s.refused != nil || !(s.batch.Yield > 0):
		d.stale(s, s.say("lab.wrong"))
		return
	case d.typed.bad:
		d.stale(s, "")
		return
	case d.start == (unit.Range{}):
		d.stale(s, d.say(s, "water-needed"))
		return
	}
	a, err := dry.Make(d.in)
	if err != nil {
		d.refuse(s, err, map[string]string{"residual": "residual", "load": "load", "temperature": "temp", "loss": "loss", "want": "want", "humidity": "humidity", "parts.0": "water", "parts": "water"})
		return
	}
	d.answer, d.of = a, d.in
	d.span = d.spread()
	d.good(s)
	d.showWeights(s)
	d.showPicture(s)
	d.showReadings(s)
	d.showTray(s)
	d.notes(s, append(s.counted, append(a.Notes, s.allergenNotes(CodeHolds)...)...))
	d.steps(s, d.method(s))
	s.showWorks(d.input("work"), &d.works)
}

// read puts the question together.
func (d *drier) read(s *state) {
	t := d.typed
	form := dryForms[0]
	for _, f := range dryForms {
		if f.word == s.fields[d.input("form")] {
			form = f
		}
	}
	s.page.Value(d.input("form"), form.word)
	d.start = d.moisture(s)
	d.in = dry.Input{
		Form: form.form, Residual: unit.Percent(t.or("residual", form.residual)), Loss: t.share("loss"), Want: unit.Mass(t.or("want", 0)),
		Load: t.or("load", usualLoad), Tray: t.or("long", 0) * t.or("wide", 0), Humidity: t.share("humidity"),
		Animal: s.ticked(d.input("animal")) || s.flagged(liquid.FromMeat|liquid.FromFish|liquid.RawEgg, liquid.Milk|liquid.Egg|liquid.Fish|liquid.Crustaceans|liquid.Molluscs),
		Swells: d.swells(s), Trials: d.readRuns(s),
	}
	d.in.Parts = []dry.Part{{Mass: s.batch.Yield, Water: unit.Fraction(d.start.Typical), Ethanol: d.ethanol(s), Fat: d.fat(s)}}
	if m := s.mix; m != nil {
		d.in.Density = unit.Density(m.of(liquid.PropDensity).Typical)
	}
	for _, w := range dry.Windows {
		if s.ticked(d.input("keep-" + string(w.Kept))) {
			d.in.Keep = append(d.in.Keep, w.Kept)
		}
	}
	d.in.Body = d.body(s)
	d.warm = !t.known("temp")
	d.in.Temperature = unit.Celsius(t.or("temp", d.usualHeat()))
}

// moisture is the water of what goes on the tray, with its range: typed, or the
// liquid's thinned by the agents and by what boils off.
func (d *drier) moisture(s *state) unit.Range {
	if d.typed.known("water") {
		return unit.Exactly(float64(d.typed.share("water")))
	}
	b := s.batch
	if s.mix == nil || s.refused != nil || !(b.AfterBoil > 0) {
		return unit.Range{}
	}
	off := float64(b.Total - b.AfterBoil)
	at := func(w float64) float64 {
		return min(1, max(0, (float64(b.Liquid)*w-off)/float64(b.AfterBoil)))
	}
	r := s.mix.of(liquid.PropWater)
	return unit.Range{Low: at(r.Low), Typical: at(r.Typical), High: at(r.High)}
}

func (d *drier) ethanol(s *state) unit.Fraction {
	if s.mix == nil || s.refused != nil || !(s.batch.AfterBoil > 0) {
		return 0
	}
	x := s.mix.of(liquid.PropABW).Typical * float64(s.batch.Liquid/s.batch.AfterBoil)
	return unit.Fraction(min(x, max(0, 1-d.start.Typical)))
}

// fat is what of the tray is fat, thinned as the water is.
func (d *drier) fat(s *state) unit.Fraction {
	if s.mix == nil || s.refused != nil || !(s.batch.AfterBoil > 0) {
		return 0
	}
	return unit.Fraction(min(1, s.mix.of(liquid.PropFat).Typical*float64(s.batch.Liquid/s.batch.AfterBoil)))
}

// swells is what of the tray swells in the throat.
func (d *drier) swells(s *state) unit.Fraction {
	if s.refused != nil || !(s.batch.AfterBoil > 0) {
		return 0
	}
	var gum unit.Mass
	for i, x := range s.reading.Formula.Doses {
		switch x.Agent {
		case "konjac", "guar", "lbg", "tara", "xanthan":
			gum += s.batch.Doses[i].Mass
		}
	}
	return unit.Fraction(min(1, gum/s.batch.AfterBoil))
}

// body is the chosen one, or what the dry matter of the liquid tells: mostly
// sugar, starch, or neither (common practice).
func (d *drier) body(s *state) dry.Body {
	d.auto = false
	for i, word := range dryBodies {
		if s.fields[d.input("body")] == word {
			return dry.Body(i)
		}
	}
	d.auto = true
	m := s.mix
	if m == nil {
		return dry.Leaf
	}
	solid := m.of(liquid.PropDryMatter).Typical
	switch {
	case m.of(liquid.PropStarch).Typical > solid/3:
		return dry.Starch
	case m.of(liquid.PropSugars).Typical > solid/3:
		return dry.Fruit
	}
	return dry.Leaf
}

// usualHeat is the middle of the air that keeps what is chosen.
func (d *drier) usualHeat() float64 {
	low, high := 0.0, 120.0
	for _, w := range dry.Windows {
		for _, k := range d.in.Keep {
			if k == w.Kept {
				low, high = max(low, float64(w.Low)), min(high, float64(w.High))
			}
		}
	}
	if len(d.in.Keep) == 0 || low > high {
		return usualHeat
	}
	return math.Round((low + high) / 2)
}

// spread is the product over the range of the water.
func (d *drier) spread() unit.Range {
	at := func(water float64) float64 {
		parts := []dry.Part{d.of.Parts[0]}
		parts[0].Mass = d.answer.Balance.Wet
		parts[0].Water = unit.Fraction(water)
		b, err := dry.Dry(parts, d.of.Residual, d.of.Loss)
		if err != nil {
			return float64(d.answer.Balance.Product)
		}
		return float64(b.Product)
	}
	return unit.Range{Low: at(d.start.High), Typical: float64(d.answer.Balance.Product), High: at(d.start.Low)}
}

// runField is where a run of the kitchen is kept with the formula.
func (d *drier) runField(i int, what string) string {
	return d.input("run-" + strconv.Itoa(i+1) + "-" + what)
}

var runWhats = [...]string{"temp", "load", "start", "end", "hours"}

// readRuns reads the kitchen's own runs.
func (d *drier) readRuns(s *state) []dry.Trial {
	d.runs = nil
	for i := range mostRuns {
		var v [len(runWhats)]float64
		whole := true
		for n, what := range runWhats {
			x, err := strconv.ParseFloat(s.fields[d.runField(i, what)], 64)
			v[n], whole = x, whole && err == nil
		}
		run := dry.Trial{Temperature: unit.Celsius(v[0]), Load: v[1], Start: unit.Percent(v[2]), End: unit.Percent(v[3]), Time: unit.Seconds(v[4] * 3600)}
		if !whole {
			break
		}
		if _, err := dry.Time(run, []dry.Trial{run}); err == nil {
			d.runs = append(d.runs, run)
		}
	}
	return d.runs
}

// do implements section.
func (d *drier) do(what string, row int, s *state) *formula.Change {
	switch what {
	case "make":
		return d.makeThis(s)
	case "note":
		return d.noteRun(s)
	case "drop":
		return d.dropRun(s, row)
	}
	return nil
}

// makeThis sets the pan to the wet mix that the wanted product needs.
func (d *drier) makeThis(s *state) *formula.Change {
	if !d.fresh || !(d.of.Want > 0) {
		return nil
	}
	fields := maps.Clone(s.fields)
	wet := unit.Mass(rounded(float64(d.answer.Balance.Wet), 6))
	onePortion(s, fields, wet)
	return &formula.Change{Fields: fields, What: d.say(s, "made", note.Typed("mass", s.onScale(wet)))}
}

// noteRun keeps how long this run took, with what it was.
func (d *drier) noteRun(s *state) *formula.Change {
	took := d.typed.or("took", 0)
	if !d.fresh || !(took > 0) {
		return nil
	}
	fields := maps.Clone(s.fields)
	at := len(d.runs)
	if at >= mostRuns { // the oldest goes
		dropRow(fields, d.input("run"), 0, mostRuns, runWhats[:])
		at--
	}
	plain := func(v float64) string { return strconv.FormatFloat(rounded(v, 6), 'g', -1, 64) }
	for n, v := range [...]float64{float64(d.of.Temperature), d.of.Load, d.answer.Balance.Start.Percent(), d.of.Residual.Percent(), took} {
		fields[d.runField(at, runWhats[n])] = plain(v)
	}
	delete(fields, d.input("took"))
	return &formula.Change{Fields: fields, What: d.say(s, "noted")}
}

func (d *drier) dropRun(s *state, row int) *formula.Change {
	if row < 1 || row > len(d.runs) {
		return nil
	}
	fields := maps.Clone(s.fields)
	dropRow(fields, d.input("run"), row-1, mostRuns, runWhats[:])
	return &formula.Change{Fields: fields, What: d.say(s, "dropped")}
}

// fits reports whether the pan makes just the wet mix.
func (d *drier) fits(s *state) bool {
	return math.Abs(float64(s.batch.Yield/d.answer.Balance.Wet)-1) < 1e-3
}

// showTaken says what is counted where nothing is typed.
func (d *drier) showTaken(s *state) {
	s.page.Say(d.input("body"), s.sayIf(d.auto && s.mix != nil, "lab-dry.body-guess", note.Word("body", "lab-dry.body-"+dryBodies[d.in.Body])), true)
	set := func(name string, v float64) {
		s.page.Set(d.input(name), "placeholder", s.words.Style.Significant(v, 3))
	}
	if !d.typed.known("residual") {
		set("residual", d.in.Residual.Percent())
	}
	set("load", usualLoad)
	if d.warm {
		set("temp", float64(d.in.Temperature))
	}
	water := d.say(s, "water-unknown")
	if d.start != (unit.Range{}) {
		water = d.say(s, "water-from", note.Typed("range", s.about(d.start.Scale(100), unit.PercentOf)))
	}
	d.hint(s, "water", water)
	d.hint(s, "want", d.say(s, "want-pan"))
	if strings.TrimSpace(s.fields[d.input("long")]) != "" {
		d.hint(s, "wide", s.sayIf(!d.typed.known("wide"), "lab-dry.both-sides"))
	}
}

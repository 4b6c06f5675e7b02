package lab

import (
	"errors"
	"math"

	"tremblant/internal/dry"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// showWeights shows the wet mix, what comes of it, and the room it takes.
func (d *drier) showWeights(s *state) {
	b := d.answer.Balance
	s.weight(d.input("wet"), b.Wet)
	s.page.Figure(d.input("product"), float64(b.Product), s.words.Figure(float64(b.Product), unit.Gram)) // no scale knows it yet
	s.page.Line(d.input("product-range"), textIf(s.about(d.span, unit.Gram) != s.rough(d.span.Typical, unit.Gram), s.about(d.span, unit.Gram)))
	s.page.Figure(d.input("area"), d.answer.Area, s.rough(d.answer.Area, unit.SquareCm))
	trays := d.say(s, "square", note.Typed("side", s.words.Style.Significant(math.Sqrt(d.answer.Area), 2)))
	if n := d.answer.Trays; n > 0 {
		trays = d.say(s, map[bool]string{true: "tray-one", false: "trays"}[n == 1], note.Num("trays", float64(n), unit.One))
	}
	s.page.Text(d.input("trays"), trays)
	s.page.Show(d.input("make"), d.of.Want > 0 && !d.fits(s))
	s.page.Show(d.input("fits"), d.of.Want > 0 && d.fits(s))
}

// The bars: the wet mix across the whole width, what is left of it below.
const (
	barLeft, barWide = 8.0, 304.0
	leastBar         = 2.0
)

func (d *drier) showPicture(s *state) {
	b := d.answer.Balance
	of := func(m unit.Mass) float64 { return barWide * min(1, max(0, float64(m/b.Wet))) }
	bar := func(name string, x, w float64) {
		s.page.Set(d.input(name), "x", coordinate(x))
		s.page.Set(d.input(name), "width", coordinate(w))
	}
	solids := of(b.Solids)
	bar("wet-solids", barLeft, max(leastBar, solids))
	bar("wet-water", barLeft+max(leastBar, solids), barWide-max(leastBar, solids))
	product := max(leastBar, of(b.Product))
	keeps := product * float64(1-b.Residual)
	bar("dry-solids", barLeft, keeps)
	bar("dry-water", barLeft+keeps, product-keeps)
	s.page.Text(d.input("wet-says"), d.say(s, "wet-says", note.Typed("mass", s.onScale(b.Wet)), note.Typed("water", s.rough(b.Start.Percent(), unit.PercentOf))))
	s.page.Text(d.input("dry-says"), d.say(s, "dry-says", note.Num("mass", float64(b.Product), unit.Gram), note.Typed("water", s.rough(b.Residual.Percent(), unit.PercentOf))))
	s.page.Text(d.input("ratio-says"), d.say(s, "ratio", note.Typed("ratio", s.words.Style.Significant(b.Ratio, 2)), note.Typed("off", s.rough(float64(b.Off), unit.Gram))))
}

func (d *drier) showReadings(s *state) {
	a := &d.answer
	s.page.Figure(d.input("yield"), float64(a.Balance.Yield), s.rough(a.Balance.Yield.Percent(), unit.PercentOf))
	s.page.Figure(d.input("time"), a.Time.Typical, s.roughTime(a.Time.Typical))
	s.page.Text(d.input("time-range"), s.roughTimes(a.Time))
	key := "time-thumb"
	if a.ByTrials {
		key = "time-runs"
	}
	s.page.Text(d.input("time-of"), d.say(s, key))
	s.page.Figure(d.input("air"), float64(d.of.Temperature), s.words.Figure(float64(d.of.Temperature), unit.DegreeC))
	window := d.say(s, "no-window")
	if len(d.of.Keep) > 0 {
		window = d.say(s, "window", note.Num("low", float64(a.From), unit.DegreeC), note.Num("high", float64(a.To), unit.DegreeC))
	}
	s.page.Text(d.input("window"), window)
	s.page.Figure(d.input("layer"), a.Layer, s.rough(a.Layer, unit.Millimetre))
	s.page.Figure(d.input("activity"), a.Activity.Typical, s.words.Style.Significant(a.Activity.Typical, 2))
	s.page.Text(d.input("activity-range"), s.about(a.Activity, unit.One))
	s.page.Show(d.input("room-row"), a.RoomMoisture > 0)
	s.page.Figure(d.input("room"), float64(a.RoomMoisture), s.rough(a.RoomMoisture.Percent(), unit.PercentOf))
}

// showTray says how far a tray that is weighed on the way has come.
func (d *drier) showTray(s *state) {
	wet := unit.Mass(d.typed.or("tray-wet", float64(d.answer.Balance.Wet)))
	stop := float64(wet) * (1 - float64(d.answer.Balance.Start+d.answer.Balance.Ethanol)) / (1 - float64(d.of.Residual))
	s.page.Set(d.input("tray-wet"), "placeholder", s.words.Style.Significant(float64(d.answer.Balance.Wet), 3))
	s.weight(d.input("stop"), unit.Mass(stop))
	s.page.Show(d.input("now-row"), d.typed.known("tray-now"))
	if !d.typed.known("tray-now") {
		return
	}
	now, err := dry.MoistureNow(wet, d.answer.Balance.Start+d.answer.Balance.Ethanol, unit.Mass(d.typed.or("tray-now", 0)))
	var r *note.Refusal
	if errors.As(err, &r) {
		s.page.Invalid(d.input("tray-now"), true)
		s.page.Say(d.input("tray-now"), s.words.Note(r.Note), false)
		s.page.NoFigure(d.input("now"))
		return
	}
	s.page.Figure(d.input("now"), float64(now), s.rough(now.Percent(), unit.PercentOf))
}

// showRuns lists the kitchen's own runs.
func (d *drier) showRuns(s *state) {
	list := d.input("run")
	s.page.Rows(list, len(d.runs))
	for i, r := range d.runs {
		s.page.Text(view.Row(list, i, "text"), d.say(s, "run", note.Typed("time", s.duration(float64(r.Time)/60)), note.Num("at", float64(r.Temperature), unit.DegreeC),
			note.Num("load", r.Load, unit.One), note.Num("start", r.Start.Percent(), unit.PercentOf), note.Num("end", r.End.Percent(), unit.PercentOf)))
	}
	s.page.Show(d.input("no-runs"), len(d.runs) == 0)
}

// method is the order of the work with its times.
func (d *drier) method(s *state) []string {
	a := &d.answer
	var out []string
	add := func(key string, args ...note.Arg) { out = append(out, d.say(s, key, args...)) }
	if d.of.Animal {
		add("step-cook")
	}
	add("step-blend")
	add("step-spread", note.Num("load", d.of.Load, unit.One), note.Typed("layer", s.rough(a.Layer, unit.Millimetre)))
	add("step-dry", note.Num("at", float64(d.of.Temperature), unit.DegreeC), note.Typed("time", s.roughTime(a.Time.Typical)), note.Typed("range", s.roughTimes(a.Time)))
	add("step-weigh", note.Typed("each", s.rough(float64(a.Balance.Dry/a.Balance.Wet)*100, unit.Gram)))
	switch d.of.Form {
	case dry.Powder:
		add("step-grind")
	case dry.Crisp:
		add("step-break")
	default:
		add("step-peel")
	}
	if d.of.Form == dry.Sheet {
		add("step-store-sheet")
	} else {
		add("step-store")
	}
	return out
}

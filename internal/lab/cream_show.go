package lab

import (
	"math"
	"slices"
	"strings"

	"tremblant/internal/emulsion"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// showWeights shows what to weigh, the most first in sight.
func (c *cream) showWeights(s *state) {
	list := c.input("weigh")
	s.page.Rows(list, len(c.parts))
	for i, p := range c.parts {
		from := c.scaled.Water
		if p.inOil {
			from = c.scaled.Oil
		}
		m := from[p.at].Mass
		s.page.Text(view.Row(list, i, "name"), p.name)
		s.weight(view.Row(list, i, "mass"), m)
		aside := s.missed(m)
		if n := emulsion.Yolks(m); p.part.Like == "yolk" && n > 0 {
			aside = c.say(s, "yolks", note.Num("count", float64(n), unit.One))
			if n == 1 {
				aside = c.say(s, "yolk-one")
			}
		}
		s.page.Line(view.Row(list, i, "aside"), aside)
	}
	s.weight(c.input("total"), c.scaled.Total)
	covers, feeds := 0.0, ""
	if c.ask.want.Portion > 0 && c.scaled.Covers > 0 {
		covers = math.Floor(c.scaled.Covers + 1e-6)
		key := "feeds"
		if covers == 1 {
			key = "feeds-one"
		}
		feeds = c.say(s, key, note.Num("portion", float64(c.ask.want.Portion), unit.Gram))
	}
	s.page.Figure(c.input("feeds"), covers, s.words.Figure(covers, unit.One))
	s.page.Show(c.input("feeds-row"), feeds != "")
	s.page.Text(c.input("feeds-of"), feeds)
	limit := ""
	for _, n := range c.scaled.Notes {
		limit = capital(s.words.Note(n))
		if c.scaled.Short <= 0 {
			limit = c.say(s, "limit-only", note.Typed("yield", s.onScale(c.scaled.Yield)))
		}
	}
	if c.ask.limit != nil && c.scaled.Limit == nil {
		limit = c.say(s, "limit-enough")
	}
	s.page.Line(c.input("limited"), limit)
	can := c.scaled.Limit != nil || c.ask.known("covers")
	s.page.Show(c.input("make"), can && !c.fits())
	s.page.Show(c.input("fits"), can && c.fits())
}

var classWords = [...]string{"thin", "spoonable", "stiff", "edge", "beyond"}

// The scale of the picture: oil shares by volume from left to right.
const (
	placeFrom, placeTo    = 0.5, 1.0
	placeLeft, placeRight = 8.0, 312.0
)

func placeX(phi float64) float64 {
	x := (phi - placeFrom) / (placeTo - placeFrom)
	return placeLeft + (placeRight-placeLeft)*min(1, max(0, x))
}

// showPlace draws where the emulsion stands and says it.
func (c *cream) showPlace(s *state) {
	a := c.answer
	x := placeX(float64(a.OilByVolume))
	var mark, span path
	mark.move(x-7, 8)
	mark.line(x+7, 8)
	mark.line(x, 20)
	mark.close()
	mark.move(x, 20)
	mark.line(x, 70)
	span.move(placeX(a.Phi.Low), 74)
	span.line(max(placeX(a.Phi.High), placeX(a.Phi.Low)+2), 74)
	s.page.Set(c.input("place-mark"), "d", mark.String())
	s.page.Set(c.input("place-span"), "d", span.String())
	s.page.Text(c.input("place-word"), c.placeWord(s))
	s.page.Figure(c.input("oil-volume"), float64(a.OilByVolume), s.rough(a.OilByVolume.Percent(), unit.PercentOf))
	s.page.Figure(c.input("oil-mass"), float64(a.OilByMass), s.words.Style.Significant(a.OilByMass.Percent(), 3)+nbsp+"%")
	var says []string
	for _, n := range a.Notes {
		if n.Code == emulsion.OnTheLine || n.Code == emulsion.IsEdge || n.Code == emulsion.IsBeyond {
			says = append(says, s.words.Note(n))
		}
	}
	s.page.Line(c.input("place-says"), strings.Join(says, " "))
}

// placeWord names the class, or the two that it may be of.
func (c *cream) placeWord(s *state) string {
	low, high := emulsion.ClassOf(unit.Fraction(c.answer.Phi.Low)), emulsion.ClassOf(unit.Fraction(c.answer.Phi.High))
	if low == high {
		return c.say(s, "is-"+classWords[low])
	}
	return c.say(s, "is-between-"+classWords[high])
}

// showReadings shows what it still takes, and what brings it back.
func (c *cream) showReadings(s *state) {
	a := c.answer
	stiff, edge := a.Steps[1], a.Steps[2]
	amount := func(name string, m unit.Mass, on bool) {
		s.page.Show(c.input(name+"-row"), on)
		s.page.Figure(c.input(name), float64(m), s.rough(float64(m), unit.Gram))
	}
	amount("more-oil", stiff.MoreOil, stiff.MoreOil > 0 && stiff.Reachable)
	amount("most-oil", edge.MoreOil, edge.MoreOil > 0 && edge.Reachable)
	amount("loosen", a.Rescue.Loosen, a.Class >= emulsion.Stiff && a.Rescue.Loosen > 0)
	amount("start", a.Rescue.StartWith, a.Rescue.StartWith > 0)
	s.page.Show(c.input("loosen-do"), a.Class >= emulsion.Stiff && a.Rescue.Loosen > 0)
	ph := c.ask.in.PH
	if ph == (unit.Range{}) {
		s.page.NoFigure(c.input("ph-is"))
		s.page.Text(c.input("ph-range"), c.say(s, "ph-measure"))
	} else {
		s.page.Figure(c.input("ph-is"), ph.Typical, s.words.Style.Fixed(ph.Typical, 1))
		s.page.Text(c.input("ph-range"), s.say("lab.range", note.Num("low", ph.Low, unit.PH), note.Num("high", ph.High, unit.PH)))
	}
	s.page.Figure(c.input("salt"), float64(a.SaltInWater), s.rough(a.SaltInWater.Percent(), unit.PercentOf))
	acid := a.AceticInWater + a.CitricInWater
	s.page.Figure(c.input("acid"), float64(acid), s.rough(acid.Percent(), unit.PercentOf))
	s.page.Figure(c.input("load"), a.Load, s.rough(a.Capacity.Typical, unit.Gram))
	s.page.Text(c.input("load-of"), c.say(s, "load-of", note.Typed("oil", s.rough(float64(a.Oil), unit.Gram))))
	s.page.Show(c.input("load-row"), a.Capacity.Typical > 0)
	keep := ""
	for _, w := range a.Windows {
		keep = c.say(s, "keep-cold", note.Num("low", float64(w.Hold[0]), unit.DegreeC), note.Num("high", float64(w.Hold[1]), unit.DegreeC))
		if w.MostHours > 0 {
			keep = c.say(s, "keep-hot", note.Num("low", float64(w.Hold[0]), unit.DegreeC), note.Num("high", float64(w.Hold[1]), unit.DegreeC), note.Num("hours", w.MostHours, unit.Hour))
		}
	}
	s.page.Text(c.input("keep"), keep)
}

// siphonCodes are said in the siphon's own place.
var siphonCodes = map[note.Code]bool{emulsion.SiphonReady: true, emulsion.SiphonDilute: true, emulsion.SiphonRawEgg: true, emulsion.SiphonWall: true, emulsion.SiphonWallWarm: true, emulsion.SiphonSieve: true}

// placeCodes are said with the picture and in the readings.
var placeCodes = map[note.Code]bool{emulsion.OnTheLine: true, emulsion.IsEdge: true, emulsion.IsBeyond: true, emulsion.Allergen: true}

// showSiphon says whether it can be charged, how thin, and what it gives there.
func (c *cream) showSiphon(s *state) {
	a := c.answer.Siphon
	var says []note.Note
	for _, n := range c.answer.Notes {
		if siphonCodes[n.Code] && !(a.Barred && n.Code != emulsion.SiphonRawEgg && n.Code != emulsion.SiphonDilute) {
			says = append(says, n)
		}
	}
	word := "siphon-thin"
	switch {
	case a.Barred:
		word = "siphon-no"
	case a.Ready:
		word = "siphon-yes"
	}
	s.page.Text(c.input("siphon-word"), c.say(s, word))
	s.noteRows(c.input("siphon"), &c.works, says)
	s.page.Figure(c.input("siphon-add"), float64(a.Add), s.rough(float64(a.Add), unit.Gram))
	s.page.Show(c.input("siphon-do"), !a.Barred && a.Add > 0)
}

// showNotes lists what warns, and the reasons.
func (c *cream) showNotes(s *state) {
	var notes []note.Note
	notes = append(notes, s.counted...)
	for _, n := range c.answer.Notes {
		if !siphonCodes[n.Code] && !placeCodes[n.Code] {
			notes = append(notes, n)
		}
	}
	var also []string
	for _, name := range creamHolds {
		if s.ticked(c.input(name)) {
			also = append(also, name)
		}
	}
	for _, p := range c.parts {
		if row, ok := emulsion.Find(p.part.Kind); ok && row.Allergen != "" {
			also = append(also, strings.TrimPrefix(row.Allergen, "allergen."))
		}
	}
	notes = append(notes, s.allergenNotes(emulsion.Allergen, also...)...)
	if s.mix != nil {
		for _, n := range s.mix.state.Notes {
			if n.Code == liquid.CodeSpores {
				notes = append(notes, n)
			}
		}
	}
	c.notes(s, notes)
}

var metWords = [...]string{"egg-not", "egg-measure", "egg-inside"}

// showRules lists the published figures for raw egg and for the name mayonnaise.
func (c *cream) showRules(s *state) {
	list := c.input("egg")
	s.page.Show(c.input("egg-box"), len(c.answer.EggRules) > 0)
	s.page.Rows(list, len(c.answer.EggRules))
	for i, r := range c.answer.EggRules {
		met := metWords[min(r.PH, r.Amount)]
		if !r.Applies {
			met = "egg-other-acid"
		}
		s.page.Text(view.Row(list, i, "text"), c.say(s, "egg-rule", note.Num("ph", r.Rule.MaxPH, unit.PH), note.Typed("hold", c.holdText(s, r.Rule))))
		s.page.Text(view.Row(list, i, "met"), c.say(s, met))
		s.page.Line(view.Row(list, i, "source"), s.trust(&c.works, r.Rule.Source))
	}
	list = c.input("standard")
	s.page.Rows(list, len(c.answer.Standards))
	for i, v := range c.answer.Standards {
		var lacks []string
		for _, l := range v.Lacks {
			lacks = append(lacks, s.say("standard.lack."+l.What))
		}
		met := c.say(s, "standard-meets")
		if len(lacks) > 0 {
			met = s.list(lacks)
		}
		s.page.Text(view.Row(list, i, "text"), s.say("standard."+v.Standard.ID))
		s.page.Text(view.Row(list, i, "met"), met)
		s.page.Line(view.Row(list, i, "source"), s.trust(&c.works, v.Standard.Source))
	}
}

func (c *cream) holdText(s *state, r emulsion.EggRule) string {
	switch {
	case r.HoldHours <= 0:
		return c.say(s, "egg-no-hold")
	case r.HoldFrom <= 0:
		return c.say(s, "egg-hold", note.Num("hours", r.HoldHours, unit.Hour))
	}
	return c.say(s, "egg-hold-at", note.Num("hours", r.HoldHours, unit.Hour), note.Num("at", float64(r.HoldFrom), unit.DegreeC))
}

// How fast oil goes in, g a minute, and the share of it that goes in by drops
// (common practice, no source).
var oilPace = map[emulsion.Tool]float64{emulsion.Whisk: 40, emulsion.StickBlender: 100, emulsion.Homogeniser: 200}

const (
	byDrops    = 0.1
	dropsTimes = 4 // as slow as the stream
)

// pours is the fat from which a part of the oil side can be dropped and poured:
// oils and clarified butter, but no butter, paste, cream or chocolate.
const pours = 0.9

// fatSteps is how each kind of fat goes in.
func (c *cream) fatSteps(s *state) []string {
	var paste, cubes, soft, oil float64
	for _, p := range c.scaled.Oil {
		m := float64(p.Mass)
		switch {
		case p.Own.Fat >= pours:
			oil += m
		case p.Like == "almond-paste" || p.Like == "sesame-paste":
			paste += m
		case p.Like == "butter" && c.ask.in.Style == emulsion.ButterSauce:
			cubes += m
		case p.Like == "butter": // melted
			oil += m
		default:
			soft += m
		}
	}
	var steps []string
	add := func(key string, mass float64) {
		if mass > 0 {
			steps = append(steps, c.say(s, key, note.Num("mass", rounded(mass, 2), unit.Gram)))
		}
	}
	add("step-paste", paste)
	add("step-soft", soft)
	add("step-cubes", cubes)
	if oil > 0 {
		minutes := oil * (1 - byDrops + byDrops*dropsTimes) / oilPace[c.ask.in.Tool]
		steps = append(steps,
			c.say(s, "step-drops", note.Num("first", rounded(oil*byDrops, 2), unit.Gram)),
			c.say(s, "step-stream", note.Num("rest", rounded(oil*(1-byDrops), 2), unit.Gram), note.Typed("time", s.duration(max(1, minutes)))))
	}
	return steps
}

// method is the order of the work with its times.
func (c *cream) method(s *state) []string {
	a, in := c.answer, c.ask.in
	first := "step-water-plain"
	if slices.ContainsFunc(c.parts, creamPart.isEgg) {
		first = "step-water"
	}
	steps := []string{c.say(s, first)}
	if in.Style == emulsion.ButterSauce {
		steps = append(steps, c.say(s, "step-warm", note.Num("low", float64(a.Windows[0].Hold[0]), unit.DegreeC), note.Num("high", float64(a.Windows[0].Hold[1]), unit.DegreeC)))
	}
	if in.Style == emulsion.Vinaigrette && a.Capacity.High <= 0 && !a.Netted {
		steps = append(steps, c.say(s, "step-shake"))
	} else {
		steps = append(steps, c.fatSteps(s)...)
	}
	steps = append(steps, c.say(s, "step-taste"))
	if len(a.EggRules) > 0 {
		steps = append(steps, c.say(s, "step-ph"))
	}
	w := a.Windows[0]
	key := "step-cold"
	if w.MostHours > 0 {
		key = "step-hot"
	}
	return append(steps, c.say(s, key, note.Num("low", float64(w.Hold[0]), unit.DegreeC), note.Num("high", float64(w.Hold[1]), unit.DegreeC), note.Num("hours", max(2, w.MostHours), unit.Hour)))
}

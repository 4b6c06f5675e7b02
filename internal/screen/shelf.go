//go:build js && wasm

package screen

import (
	"errors"
	"strconv"
	"strings"

	"tremblant/internal/dom"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

// shelf is what this kitchen owns. It is kept when it is typed and right.
type shelf struct {
	app    *App
	own    formula.Shelf
	scales []weigh.Scale
	says   map[string]*line
	rows   []*scaleRow
	keep   func() // writes the shelf into the book
}

// scaleRow is one scale on the page.
type scaleRow struct {
	el        dom.El
	step, max dom.El
	say       *line
}

func newShelf(a *App) *shelf {
	s := &shelf{app: a, says: map[string]*line{}, keep: func() {}}
	for _, el := range dom.ByID("shelf").All(".say[data-for]") {
		s.says[el.Attr("data-for")] = &line{el: el}
	}
	a.does["add-scale"] = func(dom.El) { s.addScale("", ""); s.rows[len(s.rows)-1].step.Focus() }
	a.does["drop-scale"] = s.dropScale
	s.fill(formula.UsualShelf())
	return s
}

// fill shows a shelf and uses it.
func (s *shelf) fill(own formula.Shelf) {
	s.own = own
	s.useScales()
	st := s.app.words.Style
	for field, v := range map[string]float64{"sheet-mass": float64(own.SheetMass), "sheet-bloom": own.SheetBloom, "powder-bloom": own.PowderBloom} {
		text := ""
		if v != 0 {
			text = st.Plain(v)
		}
		dom.ByID(field).SetTyped(text)
	}
	dom.ByID("scales").Empty()
	s.rows = nil
	for _, sc := range own.Scales {
		s.addScale(st.Plain(float64(sc.Step)), st.Plain(float64(sc.Max)))
	}
}

func (s *shelf) useScales() {
	s.scales = nil
	for i, sc := range s.own.Scales {
		s.scales = append(s.scales, weigh.Scale{ID: strconv.Itoa(i), Step: sc.Step, Capacity: sc.Max})
	}
}

func (s *shelf) kitchen() gel.Kitchen { return gel.Kitchen{SheetMass: s.own.SheetMass} }

// set takes a figure that was typed in another place.
func (s *shelf) set(field, text string) {
	dom.ByID(field).SetTyped(text)
	s.typed(field, dom.ByID(field))
}

func (s *shelf) typed(name string, el dom.El) {
	switch name {
	case "sheet-mass":
		s.take(name, el, 0.2, formula.MaxSheetMass, unit.Gram, func(v float64) { s.own.SheetMass = unit.Mass(v) })
	case "sheet-bloom":
		s.take(name, el, formula.MinBloom, formula.MaxBloom, unit.Bloom, func(v float64) { s.own.SheetBloom = v })
	case "powder-bloom":
		s.take(name, el, formula.MinBloom, formula.MaxBloom, unit.Bloom, func(v float64) { s.own.PowderBloom = v })
	default:
		s.readScales()
	}
	s.app.pan.answer()
}

// take reads one figure of the shelf; an empty one means not known.
func (s *shelf) take(field string, el dom.El, low, high float64, u unit.Symbol, set func(float64)) {
	v, refused := figureIn(el.Typed(), low, high, u, true)
	s.refuse(s.says[field], el, refused)
	if refused == nil {
		set(v)
		s.keep()
	}
}

func (s *shelf) refuse(l *line, el dom.El, refused *note.Refusal) {
	bad := ""
	text := ""
	if refused != nil {
		bad, text = "true", s.app.words.Note(refused.Note)
	}
	el.SetAttr("aria-invalid", bad)
	if l != nil {
		l.say(text)
	}
}

// figureIn reads a figure between two limits.
func figureIn(text string, low, high float64, u unit.Symbol, mayBeEmpty bool) (float64, *note.Refusal) {
	v, err := unit.ParseFigure(text)
	switch {
	case err != nil && strings.TrimSpace(text) == "":
		if mayBeEmpty {
			return 0, nil
		}
		return 0, note.Refuse("", formula.FigureMissing)
	case errors.Is(err, unit.ErrTwoMarks):
		return 0, note.Refuse("", formula.FigureTwoMarks)
	case err != nil:
		return 0, note.Refuse("", formula.FigureBad)
	case v < low:
		return 0, note.Refuse("", formula.FigureUnder, note.Num("limit", low, u))
	case v > high:
		return 0, note.Refuse("", formula.FigureOver, note.Num("limit", high, u))
	}
	return v, nil
}

func (s *shelf) addScale(step, most string) {
	if len(s.rows) == formula.MaxScales {
		return
	}
	el := dom.Clone("t-scale")
	r := &scaleRow{el: el, step: el.Find(`[data-prop="step"]`), max: el.Find(`[data-prop="max"]`), say: &line{el: el.Find(".say")}}
	i := strconv.Itoa(len(s.rows) + 1)
	r.step.SetAttr("name", "scale-"+i+"-step")
	r.max.SetAttr("name", "scale-"+i+"-max")
	r.step.SetTyped(step)
	r.max.SetTyped(most)
	s.rows = append(s.rows, r)
	dom.ByID("scales").Append(el)
}

func (s *shelf) dropScale(el dom.El) {
	before := s.own
	at := el.Closest(".row")
	var left []formula.Scale
	for i, r := range s.rows {
		if !r.el.Equal(at.Value) && i < len(s.own.Scales) {
			left = append(left, s.own.Scales[i])
		}
	}
	next := s.own
	next.Scales = left
	s.use(next)
	s.app.offer(s.app.text("undo.row", note.Word("name", "shelf.scales")), func() { s.use(before) })
}

// use shows and keeps a shelf, and answers with it.
func (s *shelf) use(own formula.Shelf) {
	s.fill(own)
	s.keep()
	s.app.pan.answer()
}

// readScales takes the scales when every row of them is right.
func (s *shelf) readScales() {
	var list []formula.Scale
	fine := true
	for _, r := range s.rows {
		step, badStep := figureIn(r.step.Typed(), formula.MinStep, formula.MaxStep, unit.Gram, false)
		most, badMax := figureIn(r.max.Typed(), step, formula.MaxCapacity, unit.Gram, false)
		s.refuse(nil, r.step, badStep)
		s.refuse(nil, r.max, badMax)
		first := badStep
		if first == nil {
			first = badMax
		}
		if first != nil {
			fine = false
			r.say.say(s.app.words.Note(first.Note))
			continue
		}
		r.say.say("")
		list = append(list, formula.Scale{Step: unit.Mass(step), Max: unit.Mass(most)})
	}
	if fine {
		s.own.Scales = list
		s.useScales()
		s.keep()
	}
}

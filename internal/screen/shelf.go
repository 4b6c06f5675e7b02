package screen

import (
	"bytes"
	"context"
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
	"tremblant/internal/view"
	"tremblant/internal/wire"
)

// shelfKey is the setting of the book that holds the shelf.
const shelfKey = "shelf"

// shelf is what this kitchen owns. It is kept as soon as it is typed and right.
type shelf struct {
	app    *App
	own    formula.Shelf
	scales []weigh.Scale
	rows   []scaleRow // as typed
	agents []ownedRow // as typed
	keeper *keeper
	bodies []bodyRow // as typed
	lent   bool      // it is as the last visit left it, until the book is read
}

// scaleRow is one scale as typed.
type scaleRow struct{ step, max string }

func (r scaleRow) empty() bool { return strings.TrimSpace(r.step+r.max) == "" }

// shelfFields are the inputs of the shelf outside rows.
var shelfFields = map[string]bool{"sheet-mass": true, "sheet-grade": true, "powder-bloom": true, "chargers": true}

func newShelf(a *App) *shelf {
	s := &shelf{app: a}
	s.keeper = &keeper{app: a, key: shelfKey, load: s.load, join: s.join, again: shelfAgain,
		body: func() ([]byte, error) { return s.own.Encode() }}
	a.does["add-scale"] = func(int) { s.addScale() }
	a.does["drop-scale"] = s.dropScale
	a.does["add-own"] = func(int) { s.addOwned() }
	a.does["drop-own"] = s.dropOwned
	a.does["add-body"] = func(int) { s.addBody() }
	a.does["drop-body"] = s.dropBody
	a.does["drop-liquid"] = s.dropLiquid
	s.beginWith(formula.UsualShelf())
	return s
}

// beginWith shows the shelf that stands on the page until the book has been read.
func (s *shelf) beginWith(own formula.Shelf) {
	s.fill(own)
	s.keeper.base, _ = own.Encode() // of a shelf that cannot be written, all counts as typed here
}

// fill shows a shelf and uses it.
func (s *shelf) fill(own formula.Shelf) {
	s.own = own
	s.useScales()
	st := s.app.words.Style
	page := s.app.page
	plain := func(v float64) string {
		if v == 0 {
			return ""
		}
		return st.Plain(v)
	}
	page.Value("sheet-mass", plain(float64(own.SheetMass)))
	page.Value("sheet-grade", own.SheetGrade)
	page.Value("powder-bloom", plain(own.PowderBloom))
	s.rows = nil
	for _, sc := range own.Scales {
		s.rows = append(s.rows, scaleRow{st.Plain(float64(sc.Step)), st.Plain(float64(sc.Max))})
	}
	s.showScales()
	s.agents = nil
	for _, o := range own.Agents {
		s.agents = append(s.agents, ownedRow{s.app.text("agent." + o.Agent), plain(o.Grade), s.stock(o.Stock)})
	}
	s.showOwned()
	s.fillBodies()
	s.showLiquids()
}

func (s *shelf) useScales() {
	s.scales = nil
	for i, sc := range s.own.Scales {
		s.scales = append(s.scales, weigh.Scale{ID: strconv.Itoa(i), Step: sc.Step, Capacity: sc.Max})
	}
}

func (s *shelf) showScales() {
	s.app.page.Rows("scale", len(s.rows))
	for i, r := range s.rows {
		s.app.page.Value(view.Row("scale", i, "step"), r.step)
		s.app.page.Value(view.Row("scale", i, "max"), r.max)
	}
}

func (s *shelf) kitchen() gel.Shelf {
	return gel.Shelf{SheetMass: s.own.SheetMass, SheetGrade: agent.Word(s.own.SheetGrade)}
}

func (s *shelf) typed(name, text string) {
	switch name {
	case "sheet-mass":
		v, refused := formula.SheetMass(text)
		v, ok := s.taken(name, text, v, refused)
		if ok {
			s.own.SheetMass = unit.Mass(v)
			s.keep()
		}
	case "sheet-grade":
		s.own.SheetGrade = text
		s.keep()
	case "powder-bloom":
		if v, ok := s.take(name, text, formula.MinBloom, formula.MaxBloom, unit.Bloom); ok {
			s.own.PowderBloom = v
			s.keep()
		}
	case "chargers":
		v, refused := formula.CountBetween(text, 0, formula.MaxChargers, unit.Charger)
		if v, ok := s.taken(name, text, v, refused); ok {
			s.own.Chargers = formula.Stock{Known: strings.TrimSpace(text) != "", Amount: v}
			s.keep()
		}
	default:
		s.typedRow(name, text)
	}
	s.app.pan.answer()
}

// typedRow takes an input of one of the lists.
func (s *shelf) typedRow(name, text string) {
	switch kind, _, _ := strings.Cut(name, "-"); kind {
	case "own":
		s.typedOwned(name, text)
	case "body":
		s.typedBody(name, text)
	default:
		s.typedScale(name, text)
	}
}

// take reads one figure of the shelf; an empty one means not known.
func (s *shelf) take(field, text string, low, high float64, u unit.Symbol) (float64, bool) {
	v, refused := formula.FigureBetween(text, low, high, u)
	return s.taken(field, text, v, refused)
}

func (s *shelf) taken(field, text string, v float64, refused *note.Refusal) (float64, bool) {
	if strings.TrimSpace(text) == "" {
		v, refused = 0, nil
	}
	s.refuse(field, field, refused)
	return v, refused == nil
}

// refuse says at a place what is wrong with an input, or that nothing is.
func (s *shelf) refuse(field, place string, refused *note.Refusal) {
	text := ""
	if refused != nil {
		text = s.app.words.Note(refused.Note)
	}
	s.app.page.Invalid(field, refused != nil)
	s.app.page.Say(place, text, false)
}

func (s *shelf) addScale() {
	if len(s.rows) == formula.MaxScales {
		return
	}
	s.rows = append(s.rows, scaleRow{})
	s.showScales()
	s.app.page.Focus(view.Row("scale", len(s.rows)-1, "step"))
}

func (s *shelf) dropScale(row int) {
	if row < 1 || row > len(s.rows) {
		return
	}
	dropRow(s, &s.rows, row-1, formula.MaxScales, note.Word("name", "shelf.scales"), func() {
		s.showScales()
		s.readScales()
	})
}

// dropRow takes a row out of one of the lists, which can be taken back: what was typed
// since, in the list and elsewhere on the shelf, stays. A list that is full by then
// gives an empty row for it, or else is as it was before. take shows the list and
// reads it.
func dropRow[T interface{ empty() bool }](s *shelf, list *[]T, at, limit int, name note.Arg, take func()) {
	before, row := *list, (*list)[at]
	put := func(rows []T) {
		*list = rows
		take()
		s.app.pan.answer()
	}
	put(slices.Delete(slices.Clone(before), at, at+1))
	if row.empty() {
		return
	}
	s.app.offer(s.app.text("undo.row", name), func() {
		now := slices.Clone(*list)
		if i := slices.IndexFunc(now, T.empty); len(now) >= limit && i >= 0 {
			now = slices.Delete(now, i, i+1)
		}
		if len(now) >= limit {
			put(before)
			return
		}
		put(slices.Insert(now, min(at, len(now)), row))
	})
}

func (s *shelf) typedScale(name, text string) {
	i := view.RowOf(name) - 1
	if i < 0 || i >= len(s.rows) {
		return
	}
	if strings.HasSuffix(name, "-step") {
		s.rows[i].step = text
	} else {
		s.rows[i].max = text
	}
	s.readScales()
}

// readScales takes the scales when every row of them is right.
func (s *shelf) readScales() {
	var list []formula.Scale
	fine := true
	for i, r := range s.rows {
		step, badStep := formula.FigureBetween(r.step, formula.MinStep, formula.MaxStep, unit.Gram)
		most, badMax := formula.FigureBetween(r.max, step, formula.MaxCapacity, unit.Gram)
		first := badStep
		if first == nil {
			first = badMax
		}
		s.refuse(view.Row("scale", i, "step"), view.Row("scale", i, "say"), first)
		s.app.page.Invalid(view.Row("scale", i, "max"), badMax != nil)
		fine = fine && first == nil
		list = append(list, formula.Scale{Step: unit.Mass(step), Max: unit.Mass(most)})
	}
	if fine {
		s.own.Scales = list
		s.useScales()
		s.keep()
	}
}

// stored takes the shelf as it stands in the book.
func (s *shelf) stored(set book.Setting) {
	own, err := readShelf(set.Body)
	if err != nil {
		return
	}
	s.keeper.stored = set
	s.become(own)
}

// become shows another shelf. Where it is the same, rows that are half typed stay.
func (s *shelf) become(own formula.Shelf) {
	if sameShelf(own, s.own) {
		return
	}
	s.fill(own)
	s.rightAll()
	s.app.pan.answer()
}

// rightAll takes away what was said beside inputs that are right now.
func (s *shelf) rightAll() {
	for _, field := range []string{"sheet-mass", "powder-bloom", "chargers"} {
		s.refuse(field, field, nil)
	}
	right := func(list string, rows int, fields ...string) {
		for i := range rows {
			for _, field := range fields {
				s.refuse(view.Row(list, i, field), view.Row(list, i, "say"), nil)
			}
		}
	}
	right("scale", len(s.rows), "step", "max")
	right("own", len(s.agents), "name", "grade", "stock")
	right("body", len(s.bodies), "size", "count")
}

// lend shows the shelf that a draft was weighed with, so that its figures are right
// before the book is there, which has the last word. No draft is written for what the
// book says: this window's may be older than another one's.
func (s *shelf) lend(own formula.Shelf) {
	s.lent = true
	s.beginWith(own)
}

// load reads the shelf from a book that has just been opened.
func (s *shelf) load(ctx context.Context) error {
	var none []byte
	if s.lent { // a book without one
		none, _ = formula.UsualShelf().Encode()
	}
	set, news, err := s.keeper.first(ctx, none)
	if err == nil {
		s.lent = false
	}
	if news {
		s.stored(set)
	}
	return err
}

func sameShelf(a, b formula.Shelf) bool {
	x, errX := a.Encode()
	y, errY := b.Encode()
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

func readShelf(body []byte) (formula.Shelf, error) {
	v, err := wire.Read(body, wire.Limits{})
	if err != nil {
		return formula.Shelf{}, err
	}
	return formula.DecodeShelf(v)
}

func shelfAgain(body []byte) ([]byte, error) {
	own, err := readShelf(body)
	if err != nil {
		return nil, err
	}
	return own.Encode()
}

// keep writes the shelf into the book.
func (s *shelf) keep() {
	s.keeper.keep()
	s.app.keepDraft()
}

// join takes what another window has changed of the shelf. What both have
// changed stays as it is here.
func (s *shelf) join(base, theirs []byte) {
	was, errWas := readShelf(base)
	now, errNow := readShelf(theirs)
	if errNow != nil {
		return
	}
	if errWas != nil {
		was = formula.UsualShelf()
	}
	own := s.own
	if slices.Equal(own.Scales, was.Scales) {
		own.Scales = now.Scales
	}
	if slices.Equal(own.Agents, was.Agents) {
		own.Agents = now.Agents
	}
	if own.SheetMass == was.SheetMass {
		own.SheetMass = now.SheetMass
	}
	if own.SheetGrade == was.SheetGrade {
		own.SheetGrade = now.SheetGrade
	}
	if own.PowderBloom == was.PowderBloom {
		own.PowderBloom = now.PowderBloom
	}
	if slices.Equal(own.Siphons, was.Siphons) {
		own.Siphons = now.Siphons
	}
	if own.Chargers == was.Chargers {
		own.Chargers = now.Chargers
	}
	if slices.EqualFunc(own.Liquids, was.Liquids, formula.OwnLiquid.Same) {
		own.Liquids = now.Liquids
	}
	own.Extra, s.own.Extra = now.Extra, now.Extra
	s.become(own)
}

// refresh shows the shelf of the book, or what another window has made of it.
func (s *shelf) refresh(ctx context.Context) error {
	if !s.keeper.loaded {
		return s.load(ctx)
	}
	set, news, err := s.keeper.refresh(ctx)
	if news {
		s.stored(set)
	}
	return err
}

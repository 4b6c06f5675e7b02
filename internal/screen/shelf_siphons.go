package screen

import (
	"strconv"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// bodyRow is the siphons of one size as typed.
type bodyRow struct{ size, count string }

// empty tells a row of no size, as a new one is: its count is of nothing.
func (r bodyRow) empty() bool { return strings.TrimSpace(r.size) == "" }

// readStock reads how much of something is there; empty is not known.
func readStock(text string, most float64, u unit.Symbol) (formula.Stock, *note.Refusal) {
	if strings.TrimSpace(text) == "" {
		return formula.Stock{}, nil
	}
	v, refused := formula.FigureBetween(text, 0, most, u)
	return formula.Stock{Known: refused == nil, Amount: v}, refused
}

// stock writes a stock as it would be typed.
func (s *shelf) stock(of formula.Stock) string {
	if !of.Known {
		return ""
	}
	return s.app.words.Style.Plain(of.Amount)
}

// fillBodies shows the siphons and chargers of the shelf.
func (s *shelf) fillBodies() {
	s.app.page.Value("chargers", s.stock(s.own.Chargers))
	s.bodies = nil
	for _, b := range s.own.Siphons {
		s.bodies = append(s.bodies, bodyRow{s.app.words.Style.Plain(float64(b.Size)), strconv.Itoa(b.Count)})
	}
	s.showBodies()
}

func (s *shelf) showBodies() {
	s.app.page.Rows("body", len(s.bodies))
	for i, r := range s.bodies {
		s.app.page.Value(view.Row("body", i, "size"), r.size)
		s.app.page.Value(view.Row("body", i, "count"), r.count)
	}
}

func (s *shelf) addBody() {
	if len(s.bodies) == formula.MaxSiphons {
		return
	}
	s.bodies = append(s.bodies, bodyRow{count: "1"})
	s.showBodies()
	s.app.page.Focus(view.Row("body", len(s.bodies)-1, "size"))
}

func (s *shelf) dropBody(row int) {
	if row < 1 || row > len(s.bodies) {
		return
	}
	dropRow(s, &s.bodies, row-1, formula.MaxSiphons, note.Word("name", "shelf.siphons"), func() {
		s.showBodies()
		s.readBodies()
	})
}

func (s *shelf) typedBody(name, text string) {
	i := view.RowOf(name) - 1
	if i < 0 || i >= len(s.bodies) {
		return
	}
	if strings.HasSuffix(name, "-size") {
		s.bodies[i].size = text
	} else {
		s.bodies[i].count = text
	}
	s.readBodies()
}

// readBodies takes the siphons when every row of them is right. A row without a
// size waits. Half a siphon holds nothing.
func (s *shelf) readBodies() {
	var list []formula.Siphons
	fine := true
	for i, r := range s.bodies {
		var size, count float64
		var badSize, badCount *note.Refusal
		if strings.TrimSpace(r.size) != "" {
			size, badSize = formula.FigureBetween(r.size, formula.MinSiphon, formula.MaxSiphon, unit.Millilitre)
			count, badCount = formula.CountBetween(r.count, 0, formula.MaxBodies, unit.One)
		}
		first := badSize
		if first == nil {
			first = badCount
		}
		s.refuse(view.Row("body", i, "size"), view.Row("body", i, "say"), first)
		s.app.page.Invalid(view.Row("body", i, "count"), badCount != nil)
		s.app.page.Invalid(view.Row("body", i, "size"), badSize != nil)
		fine = fine && first == nil
		if first == nil && size > 0 {
			list = append(list, formula.Siphons{Size: unit.Volume(size), Count: int(count)})
		}
	}
	if fine {
		s.own.Siphons = list
		s.keep()
	}
}

package screen

import (
	"slices"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/view"
)

// showLiquids lists the ingredients that this kitchen has described in formulas.
func (s *shelf) showLiquids() {
	page := s.app.page
	page.Show("liquids", len(s.own.Liquids) > 0)
	page.Rows("liquid", len(s.own.Liquids))
	for i, l := range s.own.Liquids {
		page.Text(view.Row("liquid", i, "name"), l.Name)
	}
}

// remember takes what a formula that was saved says of its ingredients. What stood in it
// before, as in one that came from somebody else, does not take the place of what this
// kitchen says of the same name.
func (s *shelf) remember(saved, before []formula.OwnLiquid) {
	list := slices.Clone(s.own.Liquids)
	for _, l := range saved {
		at := formula.FindLiquid(list, l.Name)
		if at >= 0 && (list[at].Same(l) || slices.ContainsFunc(before, l.Same)) {
			continue
		}
		if at >= 0 {
			list = slices.Delete(list, at, at+1)
		}
		list = append(list, l)
	}
	if slices.EqualFunc(list, s.own.Liquids, formula.OwnLiquid.Same) {
		return
	}
	s.setLiquids(list)
}

// setLiquids shows and keeps another list. In one that is too long the oldest make way:
// a shelf that holds too many would not be read again.
func (s *shelf) setLiquids(list []formula.OwnLiquid) {
	s.own.Liquids = list[max(0, len(list)-formula.MaxLiquids):]
	s.showLiquids()
	s.keep()
	s.app.pan.answer()
}

// dropLiquid forgets one. The formulas in which it is described keep what they say.
func (s *shelf) dropLiquid(row int) {
	if row < 1 || row > len(s.own.Liquids) {
		return
	}
	gone := s.own.Liquids[row-1]
	s.setLiquids(slices.Delete(slices.Clone(s.own.Liquids), row-1, row))
	s.app.offer(s.app.text("undo.row", note.Typed("name", gone.Name)), func() {
		if formula.FindLiquid(s.own.Liquids, gone.Name) >= 0 {
			return // described anew since
		}
		s.setLiquids(slices.Insert(slices.Clone(s.own.Liquids), min(row-1, len(s.own.Liquids)), gone))
	})
}

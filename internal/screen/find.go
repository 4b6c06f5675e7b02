package screen

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/note"
	"tremblant/internal/view"
)

// chip is one choice among the filters: an agent, a texture, a diet or a tag.
type chip struct {
	facet, tag string
	text       string
	count      int
}

func (c chip) same(d chip) bool { return c.facet == d.facet && book.Fold(c.tag) == book.Fold(d.tag) }

// diet is 1 for a diet, 0 for anything else.
func (c chip) diet() int {
	if strings.HasPrefix(c.facet, "diet.") {
		return 1
	}
	return 0
}

// finder is what narrows the list of the book, beside the words.
type finder struct {
	app    *App
	all    []chip // diets first, then the most frequent
	shown  []chip // by row
	chosen []chip
	binned []book.Head // those in the bin, by row
}

func newFinder(a *App) *finder {
	f := &finder{app: a}
	a.does["chips-off"] = func(int) { f.chosen = nil; a.book.showList() }
	a.does["restore"] = f.restore
	a.does["purge"] = func(int) { a.page.Show("purge-sure", true) }
	a.does["purge-no"] = func(int) { a.page.Show("purge-sure", false) }
	a.does["purge-yes"] = func(int) { f.purge() }
	return f
}

// query adds the chosen filters to what is searched.
func (f *finder) query(q book.Query) book.Query {
	for _, c := range f.chosen {
		if c.facet != "" {
			q.Facets = append(q.Facets, c.facet)
		} else {
			q.Tags = append(q.Tags, c.tag)
		}
	}
	return q
}

// read finds out what the book can be filtered by.
func (f *finder) read(heads []book.Head, index *book.Index) {
	f.all = nil
	for _, c := range index.Facets() {
		text, ok := f.app.words.Find(c.Facet)
		if ok {
			f.all = append(f.all, chip{facet: c.Facet, text: text, count: c.Count})
		}
	}
	f.readTags(heads)
	slices.SortStableFunc(f.all, func(a, b chip) int {
		return cmp.Or(cmp.Compare(b.diet(), a.diet()), b.count-a.count)
	})
	f.chosen = slices.DeleteFunc(f.chosen, func(c chip) bool { return !slices.ContainsFunc(f.all, c.same) })
	f.showBin(index)
}

func (f *finder) readTags(heads []book.Head) {
	at := map[string]int{} // by folded tag
	for i := range heads {
		if heads[i].Binned != 0 {
			continue
		}
		for _, tag := range heads[i].Tags {
			key := book.Fold(tag)
			n, ok := at[key]
			if !ok {
				n = len(f.all)
				at[key] = n
				f.all = append(f.all, chip{tag: tag, text: tag})
			}
			f.all[n].count++
		}
	}
}

// listedChips is how many filters stand on the page: the chosen ones, and the
// most frequent of the others.
const listedChips = 24

func (f *finder) showChips() {
	f.shown = slices.Clone(f.chosen)
	for _, c := range f.all {
		if len(f.shown) < listedChips && !slices.ContainsFunc(f.shown, c.same) {
			f.shown = append(f.shown, c)
		}
	}
	page := f.app.page
	page.Show("chips", len(f.shown) > 0)
	page.Rows("chip", len(f.shown))
	var names []string
	for i, c := range f.shown {
		on := i < len(f.chosen)
		page.Text(view.Row("chip", i, "text"), c.text)
		page.Value(view.Row("chip", i, "on"), map[bool]string{true: "1"}[on])
		if on {
			names = append(names, c.text)
		}
	}
	page.Text("chips-sum", strings.Join(names, ", "))
	page.Show("chips-off", len(names) > 0)
}

// choose follows the tick of a filter.
func (f *finder) choose(row int) {
	if row < 1 || row > len(f.shown) {
		return
	}
	c := f.shown[row-1]
	if i := slices.IndexFunc(f.chosen, c.same); i >= 0 {
		f.chosen = slices.Delete(f.chosen, i, i+1)
	} else {
		f.chosen = append(f.chosen, c)
	}
	f.app.book.showList()
}

// showBin lists what was deleted.
func (f *finder) showBin(index *book.Index) {
	page := f.app.page
	all := 0
	f.binned, all = index.Find(book.Query{Binned: true, Limit: listed})
	page.Show("bin", all > 0)
	page.Show("purge-sure", false)
	page.Text("bin-sum", f.app.text("bin.count", counted("count", all)))
	page.Text("purge-ask", f.app.text("bin.ask", counted("count", all)))
	page.Rows("binned", len(f.binned))
	for i, h := range f.binned {
		page.Text(view.Row("binned", i, "name"), h.Name)
		page.Text(view.Row("binned", i, "what"), f.app.text("bin.when", note.Typed("date", f.app.env.Date(h.Binned))))
	}
}

func (f *finder) restore(row int) {
	if row < 1 || row > len(f.binned) {
		return
	}
	b, h := f.app.book, f.binned[row-1]
	if o := f.app.offered; o != nil && o.binned == h.ID {
		f.app.takeBack()
		return
	}
	b.later(func(ctx context.Context) error {
		if _, err := b.store.Restore(ctx, h.ID, h.Rev, f.app.env.Now()); err != nil {
			return err
		}
		return b.reload(ctx)
	})
}

// purge empties the bin. What is gone from it is no change that a backup lacks.
func (f *finder) purge() {
	b := f.app.book
	b.later(func(ctx context.Context) error {
		before := f.app.backup.sum
		n, err := b.store.Purge(ctx, book.MaxUnixMs+1) // also what a clock set too late has deleted
		if err != nil {
			return err
		}
		if err := b.reload(ctx); err != nil {
			return err
		}
		f.app.backup.shift(ctx, f.app.backup.sum-before)
		f.app.withdraw(func(o *offer) bool { return o.binned != "" })
		f.app.notice(f.app.text("bin.purged", counted("count", n)))
		return f.app.learned.read(ctx)
	})
}

package screen

import (
	"cmp"
	"context"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/view"
	"tremblant/internal/wire"
)

// Checks tell the book what a formula and a setting are.
func Checks() book.Checks {
	return book.Checks{
		Body: func(v wire.Value) (book.Reading, error) {
			f, err := formula.DecodeValue(v)
			if err != nil {
				return book.Reading{}, ofBook(err)
			}
			return readingOf(f), nil
		},
		Batch: func(v wire.Value) error {
			_, err := formula.DecodeMade(v)
			return ofBook(err)
		},
		Setting: func(key string, v wire.Value) error {
			switch key {
			case shelfKey:
				_, err := formula.DecodeShelf(v)
				return ofBook(err)
			case eveningKey:
				_, err := formula.DecodeEvening(v)
				return ofBook(err)
			case learnedKey:
				f := v.Fields()
				f.Texts("off", maxOff, book.MaxID)
				return f.Err()
			}
			return nil
		},
	}
}

// ofBook is an error as the book knows it: a form that a newer program wrote is no damage.
func ofBook(err error) error {
	var shape *wire.ShapeError
	if errors.Is(err, formula.ErrNewer) && errors.As(err, &shape) {
		return &wire.ShapeError{Place: shape.Place, Err: errors.Join(book.ErrNewer, shape.Err)}
	}
	return err
}

// strangeFacet marks a formula with an agent that the catalogue does not know:
// nothing can be said of what it suits.
const strangeFacet = "strange"

// withDiets adds the diets that every agent of an entry suits. They are worked
// out anew each time and not stored, so that an entry saved long ago follows
// what the catalogue says today. Of the liquid they say nothing.
func withDiets(heads []book.Head) {
	suits := map[string][]string{} // by facet of an agent
	for i := range heads {
		h := &heads[i]
		fit, some := agent.Diets(), false
		for _, facet := range h.Facets {
			id, ok := strings.CutPrefix(facet, "agent.")
			if !ok && facet != strangeFacet {
				continue
			}
			list, seen := suits[facet]
			if !seen {
				for _, d := range agent.Diets() {
					if agent.Suits(agent.ID(id), d) {
						list = append(list, d)
					}
				}
				suits[facet] = list
			}
			some = true
			fit = slices.DeleteFunc(fit, func(d string) bool { return !slices.Contains(list, d) })
		}
		if !some {
			continue
		}
		h.Facets = slices.Clip(h.Facets)
		for _, d := range fit {
			h.Facets = append(h.Facets, "diet."+d)
		}
	}
}

// readingOf is what search and filters know of a formula.
func readingOf(f formula.Formula) book.Reading {
	words := []string{f.Dish, f.Station, f.Notes}
	var facets []string
	for _, p := range f.Parts {
		words = append(words, p.Name)
	}
	for _, d := range f.Doses {
		words = append(words, d.Name)
		if slices.Contains(agent.IDs(), agent.ID(d.Agent)) {
			facets = append(facets, "agent."+d.Agent)
		} else {
			facets = append(facets, strangeFacet)
		}
	}
	if t := cmp.Or(f.Texture, f.Lab[wantedTexture]); t != "" {
		facets = append(facets, "texture."+t)
	}
	return book.Reading{Words: strings.Join(words, " "), Facets: facets}
}

// begin reads shelf and list once the store is open.
func (v *bookView) begin(ctx context.Context) {
	err := errors.Join(v.app.shelf.refresh(ctx), v.app.evening.refresh(ctx))
	if err = errors.Join(err, v.app.learned.begin(ctx), v.app.backup.begin(ctx)); err != nil {
		v.failed(err)
	}
	v.refresh(ctx)
}

func (v *bookView) refresh(ctx context.Context) {
	if err := v.reload(ctx); err != nil {
		v.failed(err)
	}
}

// reload reads the list anew.
func (v *bookView) reload(ctx context.Context) error {
	held := v.held
	l, err := v.store.List(ctx)
	if err != nil {
		return err
	}
	had := v.size > 0
	withDiets(l.Heads)
	v.index, v.size = book.NewIndex(l.Heads), 0
	there, behind := false, false
	for _, h := range l.Heads {
		behind = behind || h.ID == v.open.id && h.Rev > v.open.rev
		if h.Binned == 0 {
			v.size++
		}
		there = there || h.ID == v.open.id && h.Binned == 0
		if v.open.saved == 0 && h.ID == v.open.id && h.Rev == v.open.rev {
			v.open.saved = h.Saved
			v.showState()
		}
	}
	known := v.open.id != "" && v.held == held && !v.brief
	if len(l.Heads)+len(l.Damaged) == 0 && (had || known) {
		// What a person deletes goes through the bin: this was the browser.
		v.app.notice(v.app.text("storage.gone"))
	}
	if known && !there && len(l.Damaged) == 0 {
		v.settled(entryRef{}, nil) // it is in no book any more, or in the bin
	}
	if v.held == held && behind != v.behind {
		v.behind = behind
		v.showState()
	}
	if n := len(l.Damaged); n > 0 {
		v.app.notice(v.app.text("storage.damaged", counted("count", n)))
	}
	v.app.finder.read(l.Heads, v.index)
	v.app.backup.count(l.Heads)
	v.app.evening.offer(v.index)
	v.app.evening.tell()
	v.showList()
	return nil
}

// listed is how many entries are shown at once; search finds the others.
const listed = 60

// showList shows the entries that the search finds, newest first.
func (v *bookView) showList() {
	if v.index == nil {
		return
	}
	found := 0
	v.shown, found = v.index.Find(v.app.finder.query(book.Query{Text: v.find, Limit: listed}))
	page := v.app.page
	page.Rows("entry", len(v.shown))
	for i, h := range v.shown {
		page.Text(view.Row("entry", i, "name"), h.Name)
		page.Text(view.Row("entry", i, "what"), v.what(h))
		page.Show(view.Row("entry", i, "rename-ask"), h.ID == v.renames)
		if h.ID == v.renames {
			page.Value(view.Row("entry", i, "rename"), v.renamed)
		}
	}
	page.Show("book-empty", v.index.Len() == 0) // what was deleted can still be taken back
	count := ""
	if v.size > 0 {
		count = v.app.text("book.count", counted("count", found), counted("all", v.size))
	}
	page.Text("book-count", count)
	v.app.finder.showChips()
}

// what is the second line of an entry: tags, agents, day.
func (v *bookView) what(h book.Head) string {
	what := append([]string(nil), h.Tags...)
	for _, f := range h.Facets {
		if strings.HasPrefix(f, "agent.") {
			what = append(what, v.app.text(f))
		}
	}
	if h.Conflict != "" {
		what = append(what, v.app.text("book.conflict-mark"))
	}
	return strings.Join(append(what, v.app.env.Date(h.Saved)), " · ")
}

// examples are the sizes of the formulas to start from; their names and lines
// stand in the text catalogue.
var examples = [...]formula.Fields{
	{"make": "liquid", "batch-liquid": "350", wantedTexture: "fluid-gel"},
	{"make": "portions", "portions": "24", "portion-size": "18", "spare": "10", "liquid-density": "1.02", "loss-boil": "15", "loss-sieve": "2", wantedTexture: "sliceable"},
	{"make": "portions", "portions": "12", "portion-size": "70", "spare": "5", "loss-blender": "3", wantedTexture: "soft-set"},
}

// wantedTexture is the lab's field for what a formula is to become.
const wantedTexture = "lab-swap-texture"

func exampleText(i int, property string) string {
	return "example." + strconv.Itoa(i+1) + "." + property
}

func (v *bookView) showExamples() {
	page := v.app.page
	page.Rows("example", len(examples))
	for i := range examples {
		page.Text(view.Row("example", i, "name"), v.app.text(exampleText(i, "name")))
		page.Text(view.Row("example", i, "what"), v.app.text(exampleText(i, "tags")))
	}
}

// openExample puts an example into the pan. It is not in the book, but also
// nothing that would be lost.
func (a *App) openExample(i int) {
	if i < 0 || i >= len(examples) {
		return
	}
	f := maps.Clone(examples[i])
	f["name"], f["tags"] = a.text(exampleText(i, "name")), a.text(exampleText(i, "tags"))
	f = a.pan.withLines(f, formula.ParseLines(a.text(exampleText(i, "lines")), findInRecipe))
	a.pan.replace(f, a.text("undo.opened", note.Typed("name", f["name"])))
	a.book.settled(entryRef{}, a.pan.fields)
}

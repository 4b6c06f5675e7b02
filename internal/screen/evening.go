package screen

import (
	"context"
	"errors"
	"maps"
	"slices"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/wire"
)

// eveningKey is the setting of the book that holds the evening.
const eveningKey = "evening"

// evening is the set of formulas for one service: which they are, and what was
// typed about them. The lab works it out; it is told of every change here but
// those that are typed, which it sees itself.
type evening struct {
	app    *App
	keeper *keeper
	now    formula.Evening
}

func newEvening(a *App) *evening {
	e := &evening{app: a}
	e.keeper = &keeper{app: a, key: eveningKey, load: e.load, join: e.join, again: eveningAgain,
		body: func() ([]byte, error) { return e.now.Encode() }}
	a.does["evening-add"] = func(row int) {
		if h, ok := a.book.entry(row); ok {
			e.add(h.ID)
		}
	}
	a.does["evening-drop"] = e.drop
	a.does["evening-open"] = e.open
	a.does["evening-new"] = func(int) {
		before := e.now
		e.change(formula.Evening{}, a.text("evening.emptied"), func() formula.Evening { return before })
	}
	return e
}

// stored takes the evening as it stands in the book.
func (e *evening) stored(set book.Setting) {
	if now, err := readEvening(set.Body); err == nil {
		e.keeper.stored, e.now = set, now
	}
}

func readEvening(body []byte) (formula.Evening, error) {
	v, err := wire.Read(body, wire.Limits{})
	if err != nil {
		return formula.Evening{}, err
	}
	return formula.DecodeEvening(v)
}

func eveningAgain(body []byte) ([]byte, error) {
	now, err := readEvening(body)
	if err != nil {
		return nil, err
	}
	return now.Encode()
}

// join takes the formulas that another window has chosen, unless others were
// chosen here as well; and likewise of each input what was typed there.
func (e *evening) join(base, theirs []byte) {
	was, _ := readEvening(base) // nothing was there before the first
	now, err := readEvening(theirs)
	if err != nil {
		return
	}
	if slices.Equal(e.now.Dishes, was.Dishes) {
		e.now.Dishes = now.Dishes
	}
	typed := maps.Clone(now.Typed)
	for name, text := range e.now.Typed {
		if text != was.Typed[name] {
			if typed == nil {
				typed = map[string]string{}
			}
			typed[name] = text
		}
	}
	e.now.Typed, e.now.Extra = typed, now.Extra
	e.tell()
}

// refresh shows the evening of the book, or what another window has made of it.
func (e *evening) refresh(ctx context.Context) error {
	if !e.keeper.loaded {
		return e.load(ctx)
	}
	set, news, err := e.keeper.refresh(ctx)
	e.show(set, news)
	return err
}

// load reads the evening from a book that has just been opened.
func (e *evening) load(ctx context.Context) error {
	set, news, err := e.keeper.first(ctx, nil)
	e.show(set, news)
	return err
}

func (e *evening) show(set book.Setting, news bool) {
	if news {
		e.stored(set)
		e.tell()
	}
}

// typed takes an input of the evening, which the lab has been told of.
func (e *evening) typed(name, text string) {
	e.now.Take(name, text)
	if name == serviceDay {
		e.now.Take(serviceOn, e.app.dayMeant(text))
	}
	e.keeper.keep()
}

// The day of service and the day that was meant by it.
const (
	serviceDay = formula.EveningPrefix + "day"
	serviceOn  = formula.EveningPrefix + "day-is" // as [Env] writes a day
)

// passDays counts the day of service from today. It reports whether that changed it.
func (e *evening) passDays() bool {
	meant := e.now.Typed[serviceOn]
	if meant == "" {
		return false
	}
	days := e.app.daysTo(meant)
	if days == e.now.Typed[serviceDay] {
		return false
	}
	e.now.Typed = maps.Clone(e.now.Typed)
	e.now.Typed[serviceDay] = days
	return true
}

// pick takes an entry from the list that offers them.
func (e *evening) pick(id string) {
	e.app.page.Value("evening-pick", "")
	if id != "" {
		e.add(id)
	}
}

// add takes one more formula, for as many as the last one.
func (e *evening) add(id string) {
	if len(e.now.Dishes) == formula.MaxDishes {
		e.app.notice(e.app.text("evening.full", counted("most", formula.MaxDishes)))
		return
	}
	e.app.book.later(func(ctx context.Context) error {
		entry, err := e.app.book.store.Open(ctx, id)
		if err != nil {
			return err
		}
		f, err := formula.Decode(entry.Body)
		if err != nil {
			return err
		}
		dish := formula.DishOf(f, e.app.words.Style)
		dish.ID = id
		if n := len(e.now.Dishes); n > 0 {
			dish.Covers = e.now.Dishes[n-1].Covers
		}
		at := len(e.now.Dishes)
		e.change(e.with(append(slices.Clone(e.now.Dishes), dish)), e.app.text("evening.added", note.Typed("name", dish.Name)), func() formula.Evening {
			if at >= len(e.now.Dishes) || e.now.Dishes[at].ID != id {
				return e.now // another window has taken it out
			}
			return e.with(slices.Delete(slices.Clone(e.now.Dishes), at, at+1))
		})
		return nil
	})
}

func (e *evening) drop(row int) {
	if row < 1 || row > len(e.now.Dishes) {
		return
	}
	dish := e.now.Dishes[row-1]
	e.change(e.with(slices.Delete(slices.Clone(e.now.Dishes), row-1, row)), e.app.text("undo.row", note.Typed("name", dish.Name)), func() formula.Evening {
		if len(e.now.Dishes) == formula.MaxDishes {
			return e.now // another window has filled it
		}
		return e.with(slices.Insert(slices.Clone(e.now.Dishes), min(row-1, len(e.now.Dishes)), dish))
	})
}

// with is the evening with other formulas.
func (e *evening) with(dishes []formula.Dish) formula.Evening {
	now := e.now
	now.Dishes = dishes
	return now
}

// open puts a formula of the evening into the pan.
func (e *evening) open(row int) {
	if row < 1 || row > len(e.now.Dishes) {
		return
	}
	id := e.now.Dishes[row-1].ID
	e.app.book.later(func(ctx context.Context) error {
		entry, err := e.app.book.store.Open(ctx, id)
		if err != nil {
			return err
		}
		return e.app.book.putInPan(entry, entry)
	})
}

// change puts another evening in its place, which can be taken back: back is the evening
// of then without the step, so that what was typed meanwhile stays.
func (e *evening) change(to formula.Evening, what string, back func() formula.Evening) {
	put := func(now formula.Evening) {
		e.now = now
		e.keeper.keep()
		e.tell()
	}
	put(to)
	e.app.offer(what, func() { put(back()) })
}

// mostOffered is how many entries the list offers: one of thousands would be no list.
const mostOffered = 200

// offer lists the entries that can be taken, once the lab has brought the list.
func (e *evening) offer(index *book.Index) {
	if !e.app.labOn || index == nil {
		return
	}
	pairs := []string{"", e.app.text("evening.pick")}
	heads, all := index.Find(book.Query{Limit: mostOffered})
	for _, h := range heads {
		pairs = append(pairs, h.ID, h.Name)
	}
	if all > len(heads) { // its choice picks nothing
		pairs = append(pairs, "", e.app.text("evening.more", counted("shown", len(heads)), counted("all", all), note.Word("add", "evening.add")))
	}
	e.app.page.Choices("evening-pick", pairs...)
}

// tell hands the evening and the newest version of its formulas to the lab, if
// it is there. A formula that is in the bin, or gone, is handed over as missing.
func (e *evening) tell() {
	e.passDays()
	if !e.app.labOn {
		return
	}
	e.app.book.later(func(ctx context.Context) error {
		told := formula.Tonight{}
		for i := range e.now.Dishes {
			d := &e.now.Dishes[i]
			if told.Body(d.ID) != nil {
				continue
			}
			entry, err := e.app.book.store.Open(ctx, d.ID)
			switch {
			case err == nil && entry.Binned == 0:
				d.Name = entry.Name
				told.Records = append(told.Records, formula.Record{ID: d.ID, Body: entry.Body})
			case err != nil && !errors.Is(err, book.ErrMissing):
				e.app.book.failed(err)
			}
		}
		told.Evening = e.now
		body, err := told.Encode()
		if err == nil {
			e.app.env.Lab("evening", string(body))
		}
		return err
	})
}

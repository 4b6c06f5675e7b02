// Package screen is what stands on the page: it takes what a person does, asks
// the core, and says what each place of the page is to show. It knows names of
// places and inputs, but no browser: the shell carries its patches to the page
// and the page's events to it, so that all of it is tested natively.
//
// The page has three places, each with files of its own here: the pan (the
// working formula), the book (saved formulas) and the shelf (what this kitchen
// owns).
package screen

import (
	"context"
	"errors"
	"strconv"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/phrase"
	"tremblant/internal/view"
)

// Env is what the shell does for the page.
type Env interface {
	Now() int64                        // Unix time in ms
	NewID() string                     // a random id
	Date(ms int64) string              // a day as the reader writes it
	Day(ms int64) string               // the same day as every file system sorts it: 2026-11-28
	Link() string                      // the page's address without what stands behind "#"
	Go(work func(ctx context.Context)) // work that waits for the store; its patch follows by itself
	KeepDraft()                        // asks for App.Draft soon and keeps it
	AskToKeep()                        // asks the browser to keep the book
	Visit(place string)                // moves the address to a place; "kept" stands in the book
	Speak(text string)                 // tells a screen reader, when typing pauses
	Lab(kind, text string)             // tells the lab the working formula, or the evening
	LabTexts()                         // fetches the lab's texts; App.LabTexts says that they are there
}

// App is the running page.
type App struct {
	Files Files // set by a shell that can hand out files

	env   Env
	words phrase.Book
	page  *view.Page
	pan   *pan
	shelf *shelf
	book  *bookView

	kept     *keptView
	learned  *learned
	transfer *transfer
	backup   *backup
	finder   *finder
	evening  *evening

	restored int // records that the store brought back, as far as told

	doing *press        // the button that is being carried out; nil for none
	busy  map[press]int // works of the store that buttons wait for

	labOn    bool                     // the lab has been loaded
	surfaced int64                    // when an offer came from under another, Unix time in ms
	offered  *offer                   // how to take back the last step that took something away; nil for none
	does     map[string]func(row int) // what the buttons do, by data-do
}

// New makes the page's program with its texts. It shows nothing of a formula
// until [App.Begin]: the two are steps of their own, so that the page can answer
// a finger in between.
func New(env Env, words phrase.Book) *App {
	a := &App{env: env, words: words, page: view.New(), does: map[string]func(int){}, busy: map[press]int{}}
	a.shelf = newShelf(a)
	a.pan = newPan(a)
	a.learned, a.backup = newLearned(a), newBackup(a)
	a.kept, a.transfer, a.finder = newKeptView(a), newTransfer(a), newFinder(a)
	a.evening = newEvening(a)
	a.book = newBookView(a)
	a.does["undo"] = func(int) { a.takeBack() }
	a.offerAgents()
	return a
}

// Begin shows the draft that was left of the working formula, or else an example
// to change; draft is "" when nothing was left.
func (a *App) Begin(draft string) {
	if d, ok := readDraft(draft); ok {
		if d.Shelf != nil {
			a.shelf.lend(*d.Shelf)
		}
		a.book.open = entryRef{id: d.ID, rev: d.Rev} // the day follows from the book
		a.book.saved = d.Saved
		a.kept.resume(d.Judged)
		a.pan.fill(d.Fields)
		if b := d.Before; b != nil {
			a.pan.offerBack(a.text("undo.opened", note.Typed("name", a.pan.nameIn(d.Fields))), b.Fields, entryRef{id: b.ID, rev: b.Rev}, b.Saved)
		}
		return
	}
	a.openExample(0)
}

// Patch is what the page has to change now.
func (a *App) Patch() string { return a.page.Patch() }

// Input takes what was typed or chosen in an input.
func (a *App) Input(name, value string) {
	a.page.Typed(name, value)
	switch {
	case strings.HasPrefix(name, "scale-"), strings.HasPrefix(name, "own-"), strings.HasPrefix(name, "body-"), shelfFields[name]:
		a.shelf.typed(name, value)
	case name == "find":
		a.book.find = value
		a.book.showList()
	case strings.HasPrefix(name, formula.EveningPrefix):
		a.evening.typed(name, value)
	case name == "evening-pick":
		a.evening.pick(value)
	case a.kept.takes(name):
		a.kept.input(name, value)
		a.keepDraft()
	case strings.HasPrefix(name, "chip-"):
		a.finder.choose(view.RowOf(name))
	case strings.HasPrefix(name, "learned-"):
		a.learned.use(name, value)
	case strings.HasSuffix(name, "-rename"):
		a.book.renamed = value
	default:
		a.pan.typed(name, value)
	}
}

// press is a button as it was pressed: what it does, and in which row.
type press struct {
	what string
	row  int
}

// Do carries out what a button says; row is the number of its row, from 1, or 0. One
// that the store has not answered yet is not carried out again: a wet finger presses
// twice, and means one trial.
func (a *App) Do(what string, row int) {
	do, ok := a.does[what]
	if now := (press{what, row}); ok && a.busy[now] == 0 {
		a.doing = &now
		defer func() { a.doing = nil }()
		do(row)
	}
}

// Enter ends the input in a one-line field.
func (a *App) Enter(name, value string) {
	if strings.HasPrefix(name, "entry-") && strings.HasSuffix(name, "-rename") {
		a.book.rename(value)
	}
}

var places = [...]string{"pan", "book", "shelf"}

// GoTo shows the place that the address names behind "#", or opens the formula
// that stands there. A place or formula that is not known leads to the pan.
func (a *App) GoTo(hash string) {
	if fields, ok, err := formula.ParseLink(hash); ok {
		a.pan.openLink(fields, err)
		a.env.Visit("pan")
		hash = "#pan"
	}
	at := "pan"
	for _, p := range places {
		if hash == "#"+p {
			at = p
		}
	}
	for _, p := range places {
		a.page.Show(p, p == at)
		a.page.State("to-"+p, map[bool]string{true: "here"}[p == at])
	}
	a.pan.passDays()
	if at == "book" {
		a.kept.returned()
		if a.evening.passDays() {
			a.evening.tell()
		}
	} else if a.book.renames != "" {
		a.book.rename(a.book.renamed)
	}
}

// visit moves to a place from within the program.
func (a *App) visit(place string) {
	a.env.Visit(place)
	a.GoTo("#" + place)
}

// Store gives the page its book. problem says why it is only one in memory,
// as a key of the text catalogue; "" when the book is kept.
func (a *App) Store(ctx context.Context, store *book.Book, problem string) {
	if problem != "" {
		a.notice(a.text(problem))
		state := problem // why nothing is kept now; or that it never is here
		if problem == "storage.none" {
			state = "kept.none"
		}
		a.page.Text("kept-state", a.text(state))
		a.book.brief = true
		a.shelf.lent = false // a book that cannot be opened says nothing of the shelf
	}
	a.book.store = store
	a.book.begin(ctx)
}

// Outdated says that a newer page wants the book: this one must be loaded anew.
func (a *App) Outdated() { a.notice(a.text("storage.outdated")) }

// Blocked says that the book waits for another window.
func (a *App) Blocked() { a.notice(a.text("storage.blocked")) }

// Kept says whether the browser has promised to keep the book.
func (a *App) Kept(promised bool) {
	key := "kept.no"
	if promised {
		key = "kept.yes"
	}
	a.page.Text("kept-state", a.text(key))
}

// Restored tells how many records the browser had lost and the store brought
// back from its second copy.
func (a *App) Restored(records int) {
	if records > a.restored {
		a.restored = records
		a.notice(a.text("storage.restored"))
	}
}

// Changed tells that another window has changed the book.
func (a *App) Changed(ctx context.Context) {
	if a.book.store != nil {
		if err := errors.Join(a.shelf.refresh(ctx), a.evening.refresh(ctx), a.learned.begin(ctx)); err != nil {
			a.book.failed(err)
		}
		a.book.refresh(ctx)
		a.kept.refresh(ctx)
	}
}

// Crashed shows a panic that was caught; the formula stays where it is.
func (a *App) Crashed(detail string) {
	a.page.Text("crash-detail", detail)
	a.page.Show("notice-crash", false) // shown anew even when it was closed
	a.page.Show("notice-crash", true)
}

// Closed notes that a notice was closed on the page.
func (a *App) Closed(id string) {
	a.page.Closed(id)
	switch {
	case id != "notice-undo" || a.offered == nil:
	case a.slips():
		a.showOffer(a.offered)
	default:
		a.resurface()
	}
}

// notice shows a sentence at the top of the page until it is closed.
func (a *App) notice(text string) {
	a.page.Text("storage-problem", text)
	a.page.Show("notice-storage", true)
}

// offer is a step that can be taken back.
type offer struct {
	back   func()
	what   string          // says what happened
	inPan  bool            // the step was one in the formula that is open
	fields map[string]bool // what taking it back would write over
	saved  string          // an entry that, saved again, leaves nothing to take back; "" for none
	binned string          // the entry that the step put into the bin; "" for none
	pan    *formula.Draft  // the formula that it brings back, which is nowhere else; nil for none
	under  *offer          // such an offer, which comes again when this one goes
}

// offer says what happened and how to take it back. It stays until it is used,
// closed, or another step takes its place: never by a clock, which some would not
// beat.
func (a *App) offer(what string, back func()) { a.offerStep(what, offer{back: back}) }

// offerInPan is offer for a step in the formula that is open: it goes with it, when
// it is saved, and when something is typed that taking it back would write over.
func (a *App) offerInPan(what string, back func(), fields map[string]bool) {
	a.offerStep(what, offer{back: back, inPan: true, fields: fields})
}

// offerStep shows an offer. One that brings back a formula waits under those of smaller
// steps: a row that is taken out, or a file, must not cost the work of an hour.
func (a *App) offerStep(what string, o offer) {
	o.what = what
	if was := a.offered; was != nil && o.pan == nil {
		o.under = was.under
		if was.pan != nil {
			o.under = was
		}
	}
	a.showOffer(&o)
}

// showOffer shows what is offered from now on; nil for nothing.
func (a *App) showOffer(o *offer) {
	before := a.before()
	a.offered = o
	if o != nil {
		a.page.Text("undo-what", o.what)
	}
	a.page.Show("notice-undo", o != nil)
	if a.before() != before {
		a.keepDraft()
	}
}

// before is the formula that can be brought back into the pan; nil for none.
func (a *App) before() *formula.Draft {
	for o := a.offered; o != nil; o = o.under {
		if o.pan != nil {
			return o.pan
		}
	}
	return nil
}

// withdraw takes away what is offered, if it is such a step.
func (a *App) withdraw(such func(o *offer) bool) {
	if a.offered != nil && such(a.offered) {
		a.showOffer(a.offered.under)
	}
}

// slipMs is for how long a press on an offer that has just come from under another may
// have been meant for that one (common practice, no source).
const slipMs = 700

// resurface shows the offer under the one that is used or closed.
func (a *App) resurface() {
	a.showOffer(a.offered.under)
	a.surfaced = a.env.Now()
}

// slips reports whether a press follows the last one so soon that it was the same one.
func (a *App) slips() bool {
	return a.offered != nil && a.offered.pan != nil && a.env.Now()-a.surfaced < slipMs
}

// leavePan takes away what is offered for a formula that is not in the pan any more.
func (a *App) leavePan() { a.withdraw(func(o *offer) bool { return o.inPan }) }

// typedOver takes away what is offered if it would write over what has been typed.
func (a *App) typedOver(name string) {
	a.withdraw(func(o *offer) bool { return o.fields[name] })
}

// savedOver takes away what was offered when a save of an entry began: what is saved
// is what the person settled on, and the version before it can be gone back to.
func (a *App) savedOver(then *offer, id string) {
	a.withdraw(func(o *offer) bool { return o == then && (o.inPan || id != "" && o.saved == id) })
}

func (a *App) takeBack() {
	if o := a.offered; o != nil && !a.slips() {
		a.resurface() // or what is offered in turn
		o.back()
	}
}

// text fills a sentence of the page's own, which is not a note of the core.
func (a *App) text(key string, args ...note.Arg) string { return a.words.Fill(key, args) }

// noteRows shows notes in a list: the word for the level, since colour is never
// alone, and the sentence.
func (a *App) noteRows(list string, notes []note.Note) {
	a.page.Rows(list, len(notes))
	for i, n := range notes {
		state, kind := "", ""
		switch n.Level {
		case note.Caution:
			state, kind = "warn", a.text("kind.caution")
		case note.Danger, note.Refused:
			state, kind = "bad", a.text("kind.danger")
		}
		a.page.State(view.Row(list, i, "item"), state)
		a.page.Line(view.Row(list, i, "kind"), kind)
		a.page.Text(view.Row(list, i, "text"), a.words.Note(n))
	}
}

// counted is a number of things, to the last one.
func counted(name string, n int) note.Arg { return note.Typed(name, strconv.Itoa(n)) }

package screen

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/view"
)

// keptView is one entry of the book on the page, in place of the list: its
// versions, and what came of the batches that were made of it.
type keptView struct {
	app    *App
	id     string       // of the entry; "" while the list is shown
	revs   []book.Entry // newest first
	trials []book.Trial // newest first
	typed  map[string]string
	formOf string // the entry that the form of a trial is filled in for; "" for none
	cups   []cup
	judged map[string]string // how a cup came out and was not kept yet, by [cup.key]
	photo  book.Photo        // zero for none
	edited *book.Trial       // what the form changes; nil for a new trial
	aside  formula.Fields    // what was written of a new trial when that began

	photoFor string // the entry that a picture is being made for
}

func newKeptView(a *App) *keptView {
	k := &keptView{app: a, typed: map[string]string{}, judged: map[string]string{}}
	a.does["kept"] = func(row int) {
		if h, ok := a.book.entry(row); ok {
			k.open(h.ID)
		}
	}
	a.does["kept-pan"] = func(int) { k.open(a.book.open.id) }
	a.does["kept-close"] = func(int) { k.close() }
	a.does["version-open"] = k.openVersion
	a.does["version-back"] = k.goBack
	a.does["version-branch"] = k.branch
	a.does["trial-save"] = func(int) { k.saveTrial() }
	a.does["trial-edit"] = k.editTrial
	a.does["trial-cancel"] = func(int) { k.leaveTrial() }
	a.does["trial-drop"] = k.dropTrial
	a.does["photo-drop"] = func(int) { k.dropPhoto() }
	a.does["ladder-save"] = func(int) { k.saveLadder() }
	a.does["ladder-use"] = k.useCup
	return k
}

// takes reports whether an input is one of the entry's.
func (k *keptView) takes(name string) bool {
	return strings.HasPrefix(name, "trial-") || strings.HasPrefix(name, "ladder-") || strings.HasPrefix(name, "compare-")
}

func (k *keptView) input(name, value string) {
	k.typed[name] = value
	switch {
	case strings.HasPrefix(name, "trial-"):
		k.formOf = cmp.Or(k.id, k.formOf)
		k.unask()
	case strings.HasPrefix(name, "compare-"):
		k.showCompared()
	case strings.HasPrefix(name, "ladder-") && strings.HasSuffix(name, "-firmness"):
		k.judge(view.RowOf(name), value)
	case strings.HasPrefix(name, "ladder-"):
		k.showLadder()
	}
}

// open shows an entry. The two versions to compare are the newest ones at first.
func (k *keptView) open(id string) {
	if id == "" {
		return
	}
	if k.edited != nil || k.formOf != id {
		k.clearTrial()
	}
	for _, name := range trialInputs() { // of an earlier visit
		k.app.page.Value(name, k.typed[name])
	}
	k.unask()
	k.app.page.Say("ladder-save", "", false)
	k.id, k.revs, k.trials = id, nil, nil
	maps.DeleteFunc(k.typed, func(name, _ string) bool { return !strings.HasPrefix(name, "trial-") })
	maps.Copy(k.typed, map[string]string{"ladder-agent": "0", "ladder-cups": usualCups, "ladder-cup": usualCup})
	k.app.book.later(func(ctx context.Context) error {
		if err := k.load(ctx); err != nil {
			k.close()
			return err
		}
		k.app.env.Visit("kept") // a place of its own only for the browser's way back
		k.app.GoTo("#book")
		return nil
	})
}

// judging is what was said and not kept. A trial that is being changed is in the book.
func (k *keptView) judging() formula.Judging {
	j := formula.Judging{Of: k.formOf, Form: k.written(), Cups: k.judged}
	if k.edited != nil {
		j.Of, j.Form = k.edited.Entry, k.aside
	}
	return j
}

// resume takes up what an earlier visit left. It is shown when the entry is opened.
func (k *keptView) resume(j formula.Judging) {
	for _, name := range trialInputs() {
		if text := j.Form[name]; text != "" {
			k.typed[name], k.formOf = text, j.Of
		}
	}
	for key, grade := range j.Cups {
		k.judged[key] = grade
	}
	if k.formOf != "" {
		k.app.page.Set("trial-fold", "open", "")
	}
}

func (k *keptView) close() {
	k.id = ""
	k.app.page.Show("kept", false)
	k.app.page.Show("book-list", true)
}

// load reads the entry anew and shows it.
func (k *keptView) load(ctx context.Context) error {
	if k.id == "" {
		return nil
	}
	store := k.app.book.store
	revs, bad, err := store.Versions(ctx, k.id)
	if err != nil {
		return err
	}
	trials, worse, err := store.Trials(ctx, k.id)
	if err != nil {
		return err
	}
	if len(revs) == 0 {
		return book.ErrMissing
	}
	dark, err := k.readPhoto(ctx)
	if err != nil {
		return err
	}
	slices.SortStableFunc(trials, func(a, b book.Trial) int { return cmp.Compare(b.Made, a.Made) })
	k.revs, k.trials = revs, trials
	k.show()
	if n := len(bad) + len(worse) + dark; n > 0 {
		k.app.notice(k.app.text("storage.damaged", counted("count", n)))
	}
	return nil
}

// refresh shows what another window, or a save of the pan, has done to the entry.
func (k *keptView) refresh(ctx context.Context) {
	if err := k.load(ctx); err != nil {
		k.close()
		k.app.book.failed(err)
	}
}

// change does work on the store and shows the entry and the list anew.
func (k *keptView) change(work func(ctx context.Context) error) {
	k.app.book.later(func(ctx context.Context) error {
		if err := work(ctx); err != nil {
			return err
		}
		k.app.env.AskToKeep()
		if err := k.load(ctx); err != nil {
			return err
		}
		return k.app.book.reload(ctx)
	})
}

func (k *keptView) show() {
	page := k.app.page
	page.Show("book-list", false)
	page.Show("kept", true)
	page.Text("kept-name", k.revs[0].Name)
	k.showPhoto()
	k.app.askForLabTexts(k.revs)
	k.showVersions()
	k.showCompared()
	k.showTrials()
	k.showLadder()
}

// returned shows what the pan has changed meanwhile: what a trial would be of.
func (k *keptView) returned() {
	if k.id != "" {
		k.showTrialForm()
		k.showLadder()
	}
}

// subject is the formula that a trial is made of, the one that was aimed at,
// and its revision: what stands in the pan, if the pan holds this entry.
func (k *keptView) subject() (made, aim formula.Formula, rev int, fine bool) {
	pan := k.app.pan
	newest := &k.revs[0]
	if k.app.book.open.id == k.id && pan.wrong == "" {
		return pan.reading.Formula, pan.reading.Formula, k.app.book.open.rev, true
	}
	made, err := formula.Decode(newest.Body)
	return made, made, newest.Rev, err == nil
}

// kept finds what a version's number stands for.
func (k *keptView) kept(rev int) *book.Entry {
	for i := range k.revs {
		if k.revs[i].Rev == rev {
			return &k.revs[i]
		}
	}
	return nil
}

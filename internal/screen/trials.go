package screen

import (
	"context"
	"maps"
	"strconv"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// judgements are the inputs of a trial that are chosen from a scale, with the
// scale's lowest grade.
var judgements = [...]struct {
	name   string
	lowest int
	of     func(*book.Outcome) **int
}{
	{"firmness", -2, func(o *book.Outcome) **int { return &o.Firmness }},
	{"weeping", 0, func(o *book.Outcome) **int { return &o.Weeping }},
	{"clarity", 0, func(o *book.Outcome) **int { return &o.Clarity }},
	{"taste", 0, func(o *book.Outcome) **int { return &o.Taste }},
}

// measures are those that are measured, with the most that is taken.
var measures = [...]struct {
	name string
	most float64
	unit unit.Symbol
	of   func(*book.Outcome) **float64
}{
	{"plunger", 10_000, unit.Gram, func(o *book.Outcome) **float64 { return &o.Plunger }},
	{"spread", 1_000, unit.Millimetre, func(o *book.Outcome) **float64 { return &o.Spread }},
}

// judged is the word for a grade: firmness from 1, far too soft, to 5.
func (a *App) judged(name string, lowest, grade int) string {
	return a.text("judge." + name + "-" + strconv.Itoa(grade-lowest+1))
}

// outcome reads the form. wrong is the first field that is wrong, or that is missing
// where the form says nothing; "" when all is fine.
func (k *keptView) outcome() (o book.Outcome, wrong string) {
	said := false
	for _, j := range judgements {
		if grade, err := strconv.Atoi(k.typed["trial-"+j.name]); err == nil {
			*j.of(&o), said = &grade, true
		}
	}
	for _, m := range measures {
		name := "trial-" + m.name
		text := k.typed[name]
		if strings.TrimSpace(text) == "" {
			k.app.shelf.refuse(name, name, nil)
			continue
		}
		v, refused := formula.FigureBetween(text, 0, m.most, m.unit)
		k.app.shelf.refuse(name, name, refused)
		if refused != nil && wrong == "" {
			wrong = name
		}
		said = true
		*m.of(&o) = &v
	}
	o.Note = strings.TrimSpace(k.typed["trial-note"])
	k.unask()
	if !said && o.Note == "" {
		wrong = "trial-firmness"
		k.app.page.Say(wrong, k.app.text("trial.empty"), false)
	}
	return o, wrong
}

// unask takes away the sentence that asks for a judgement.
func (k *keptView) unask() { k.app.page.Say("trial-firmness", "", false) }

// saveTrial keeps what came of the batch.
func (k *keptView) saveTrial() {
	if k.id == "" {
		return
	}
	o, wrong := k.outcome()
	made, aim, rev, known := k.subject()
	if wrong != "" {
		k.app.page.Focus(wrong) // it may be far above the button
		return
	}
	if k.edited != nil {
		t := *k.edited
		t.Outcome, t.Saved = o, k.app.env.Now()
		k.keepTrials([]book.Trial{t}, k.leaveTrial)
	} else if known {
		k.keepTrials([]book.Trial{k.trialOf(made, aim, rev, o)}, k.clearTrial)
	}
}

// editTrial puts a trial into the form, to be judged anew. The batch that it
// was made of stays.
func (k *keptView) editTrial(row int) {
	if k.id == "" || row < 1 || row > len(k.trials) {
		return
	}
	t := k.trials[row-1]
	aside := k.aside
	if k.edited == nil {
		aside = k.written()
	}
	k.clearTrial()
	k.edited, k.aside = &t, aside
	for _, j := range judgements {
		if grade := *j.of(&t.Outcome); grade != nil {
			k.fillTrial(j.name, strconv.Itoa(*grade))
		}
	}
	for _, m := range measures {
		if v := *m.of(&t.Outcome); v != nil {
			k.fillTrial(m.name, k.app.words.Style.Plain(*v))
		}
	}
	k.fillTrial("note", t.Note)
	k.showTrialForm()
	k.app.page.Focus("trial-note")
}

func (k *keptView) fillTrial(name, text string) {
	k.typed["trial-"+name] = text
	k.app.page.Value("trial-"+name, text)
}

// written is what stands in the form, of what is filled in.
func (k *keptView) written() formula.Fields {
	f := formula.Fields{}
	for _, name := range trialInputs() {
		if text := k.typed[name]; text != "" {
			f[name] = text
		}
	}
	return f
}

// leaveTrial empties the form for the next trial. One that was being written when another
// was to be changed comes again.
func (k *keptView) leaveTrial() {
	aside := k.aside
	k.clearTrial()
	for name, text := range aside {
		k.typed[name], k.formOf = text, k.id
		k.app.page.Value(name, text)
	}
}

// clearTrial empties the form.
func (k *keptView) clearTrial() {
	k.edited, k.formOf, k.aside = nil, "", nil
	for _, name := range trialInputs() {
		delete(k.typed, name)
		k.app.page.Value(name, "")
	}
	for _, m := range measures {
		k.app.shelf.refuse("trial-"+m.name, "trial-"+m.name, nil)
	}
	k.unask()
	k.showTrialForm()
}

func trialInputs() []string {
	names := []string{"trial-note"}
	for _, j := range judgements {
		names = append(names, "trial-"+j.name)
	}
	for _, m := range measures {
		names = append(names, "trial-"+m.name)
	}
	return names
}

// trialOf is a trial of the shown entry. A batch that cannot be written is left
// out: what was seen counts more.
func (k *keptView) trialOf(made, aim formula.Formula, rev int, o book.Outcome) book.Trial {
	now := k.app.env.Now()
	batch, err := formula.Made{Made: made, Aim: aim}.Encode()
	if err != nil {
		batch = nil
	}
	return book.Trial{ID: k.app.env.NewID(), Entry: k.id, Rev: rev, Made: now, Saved: now, Outcome: o, Batch: batch}
}

// keepTrials stores trials, one after the other; then clears what was typed.
func (k *keptView) keepTrials(list []book.Trial, then func()) {
	k.change(func(ctx context.Context) error {
		for _, t := range list {
			if _, err := k.app.book.store.PutTrial(ctx, t); err != nil {
				return err
			}
		}
		then()
		k.app.keepDraft()
		return k.app.learned.changed(ctx, len(list))
	})
}

func (k *keptView) dropTrial(row int) {
	if k.id == "" || row < 1 || row > len(k.trials) {
		return
	}
	t := k.trials[row-1]
	k.change(func(ctx context.Context) error {
		if err := k.app.book.store.RemoveTrial(ctx, t.Entry, t.ID); err != nil {
			return err
		}
		if k.edited != nil && k.edited.ID == t.ID {
			k.leaveTrial()
		}
		k.app.offer(k.app.text("undo.trial", note.Typed("date", k.app.env.Date(t.Made))), func() {
			t.Edition = 0
			k.keepTrials([]book.Trial{t}, func() {})
		})
		return k.app.learned.changed(ctx, 1)
	})
}

// listedTrials is how many trials the page lists.
const listedTrials = 100

// showTrials shows the form, and lists the trials that were made.
func (k *keptView) showTrials() {
	page := k.app.page
	k.showTrialForm()
	n := min(len(k.trials), listedTrials)
	page.Rows("trial", n)
	for i := range n {
		t := &k.trials[i]
		when := k.app.text("trial.when", note.Typed("date", k.app.env.Date(t.Made)), counted("rev", t.Rev))
		if m, ok := madeOf(t.Batch); ok {
			when = k.markChanged(when, m.Aim, t.Rev)
		}
		page.Text(view.Row("trial", i, "when"), when)
		page.Text(view.Row("trial", i, "what"), k.app.outcomeWords(&t.Outcome))
		page.Line(view.Row("trial", i, "doses"), k.app.dosesMade(t.Batch))
		page.Line(view.Row("trial", i, "note"), t.Note)
	}
	page.Show("trial-none", n == 0)
}

// showTrialForm says what the form is about: the trial that is changed, or what
// a new one would be of.
func (k *keptView) showTrialForm() {
	if len(k.revs) == 0 {
		return
	}
	of := ""
	if k.edited != nil {
		of = k.app.text("trial.edits", note.Typed("date", k.app.env.Date(k.edited.Made)), note.Typed("doses", k.app.dosesMade(k.edited.Batch)))
	} else if made, aim, rev, fine := k.subject(); fine && k.kept(rev) != nil {
		version := k.markChanged(k.versionName(k.kept(rev)), aim, rev)
		of = k.app.text("trial.of", note.Typed("version", version), note.Typed("doses", k.app.doses(made)))
	}
	k.app.page.Text("trial-of", of)
	k.app.page.Show("trial-cancel", k.edited != nil)
}

// markChanged adds to the name of a version that what was aimed at differs from it:
// with the pan changed and not saved, the version's number alone would say too much.
func (k *keptView) markChanged(version string, aim formula.Formula, rev int) string {
	e := k.kept(rev)
	if e == nil {
		return version
	}
	saved, err := formula.Decode(e.Body)
	if err != nil || sameInside(saved, aim) {
		return version
	}
	return k.app.text("trial.changed", note.Typed("version", version))
}

// sameInside compares what goes into a batch; not names, nor how much is made of it.
func sameInside(a, b formula.Formula) bool {
	x, errX := inside(a).Encode()
	y, errY := inside(b).Encode()
	return errX == nil && errY == nil && string(x) == string(y)
}

// ofTheLiquid begins the lab's inputs that say what the liquid is and is mixed with.
const ofTheLiquid = "lab-liquid-"

func inside(f formula.Formula) formula.Formula {
	lab := maps.Clone(f.Lab)
	maps.DeleteFunc(lab, func(name, _ string) bool { return !strings.HasPrefix(name, ofTheLiquid) })
	return formula.Formula{Parts: f.Parts, Density: f.Density, Doses: f.Doses, Lab: lab}
}

// doses lists the agents of a formula with their doses.
func (a *App) doses(f formula.Formula) string {
	var list []string
	for _, d := range f.Doses {
		list = append(list, d.Name+" "+a.dose(d))
	}
	return strings.Join(list, ", ")
}

func (a *App) dosesMade(batch []byte) string {
	m, ok := madeOf(batch)
	if !ok {
		return ""
	}
	return a.doses(m.Made)
}

// outcomeWords is what came of a trial, in words.
func (a *App) outcomeWords(o *book.Outcome) string {
	var list []string
	for _, j := range judgements {
		if grade := *j.of(o); grade != nil {
			list = append(list, a.judged(j.name, j.lowest, *grade))
		}
	}
	for _, m := range measures {
		if v := *m.of(o); v != nil {
			list = append(list, a.text("trial."+m.name+"-was", note.Num("value", *v, m.unit)))
		}
	}
	return strings.Join(list, " · ")
}

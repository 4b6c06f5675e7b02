package screen

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// stored reads the trials of the only entry.
func (k *kitchen) stored() []book.Trial {
	k.t.Helper()
	list, bad, err := book.New(k.store, Checks()).AllTrials(k.t.Context())
	require.NoError(k.t, err)
	require.Empty(k.t, bad)
	return list
}

// told is what the lab was told last.
func (k *kitchen) told() formula.Working {
	k.t.Helper()
	w, err := formula.DecodeWorking(k.lab)
	require.NoError(k.t, err)
	return w
}

func TestTrialIsKeptWithItsBatch(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	assert.Contains(t, k.paper.texts["trial-of"], "Version 3, 2026-05-06: agar 3\u00a0g")
	assert.True(t, k.shown("trial-none"))
	k.typing("trial-firmness", "1", "trial-weeping", "2", "trial-clarity", "0", "trial-taste", "1", "trial-plunger", "43,5", "trial-spread", "60", "trial-note", "  a bit grainy ")
	k.press("trial-save")
	list := k.stored()
	require.Len(t, list, 1)
	got := list[0]
	assert.Equal(t, 3, got.Rev)
	assert.Equal(t, []int{1, 2, 0, 1}, []int{*got.Firmness, *got.Weeping, *got.Clarity, *got.Taste})
	assert.Equal(t, []float64{43.5, 60}, []float64{*got.Plunger, *got.Spread})
	assert.Equal(t, "a bit grainy", got.Note)
	m, ok := madeOf(got.Batch)
	require.True(t, ok)
	assert.Equal(t, "agar", m.Made.Doses[0].Agent)
	assert.InDelta(t, 700, m.Made.Make.Liquid.Value, 0)

	assert.Equal(t, []string{"too firm · a puddle · clear · tastes dull · plunger 43.5\u00a0g · spreads 60\u00a0mm"}, k.column("trial", "what"))
	assert.Equal(t, []string{"2026-05-06, version 3"}, k.column("trial", "when"))
	assert.Equal(t, "a bit grainy", k.paper.texts["trial-1-note"])
	for _, name := range trialInputs() {
		assert.Empty(t, k.paper.values[name], "%s is empty again", name)
	}
	k.press("trial-drop", 1)
	assert.Empty(t, k.stored())
	k.press("undo")
	assert.Len(t, k.stored(), 1)
	assert.Len(t, k.column("trial", "what"), 1)
}

func TestTrialThatSaysNothingOrTooMuch(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.press("trial-save")
	assert.Contains(t, k.paper.says["trial-firmness"], "Say how it came out")
	k.typing("trial-firmness", "0", "trial-plunger", "20000")
	k.press("trial-save")
	assert.Empty(t, k.paper.says["trial-firmness"])
	assert.NotEmpty(t, k.paper.says["trial-plunger"])
	assert.True(t, k.paper.invalid["trial-plunger"])
	assert.Empty(t, k.stored())
	k.typing("trial-plunger", "")
	k.press("trial-save")
	assert.Len(t, k.stored(), 1)
	assert.Empty(t, k.paper.says["trial-plunger"])
}

// The button stands far below what it asks for.
func TestTrialThatSaysNothingLeadsToItsField(t *testing.T) {
	k := quince(t)
	k.saveAs("Pear gel", "", "agar")
	k.press("kept-pan")
	k.press("trial-save")
	assert.Equal(t, "trial-firmness", k.paper.focus)
	k.typing("trial-weeping", "0")
	assert.Empty(t, k.paper.says["trial-firmness"], "it asks no more once something is said")
	k.typing("trial-spread", "60", "trial-plunger", "20000")
	k.press("trial-save")
	assert.Equal(t, "trial-plunger", k.paper.focus)

	k.press("kept-pan")
	assert.Equal(t, "60", k.paper.values["trial-spread"], "the same formula: what was typed stays")
	k.typing("trial-weeping", "", "trial-spread", "", "trial-plunger", "")
	k.press("trial-save")
	require.NotEmpty(t, k.paper.says["trial-firmness"])
	k.press("version-open", 1)
	assert.Empty(t, k.paper.says["trial-firmness"], "nor of a version that is left")
	k.press("trial-save")
	k.typing("trial-note", "of the pear")
	k.press("kept", 2)
	assert.Empty(t, k.paper.says["trial-firmness"])
	assert.Empty(t, k.paper.values["trial-note"])
}

// What stands in the pan is what was made, also when it was not saved.
func TestTrialOfTheChangedPan(t *testing.T) {
	k := quince(t)
	k.typing("dose-1-amount", "3.5")
	k.press("kept-pan")
	assert.Contains(t, k.paper.texts["trial-of"], "agar 3.5\u00a0g")
	k.typing("trial-firmness", "0")
	k.press("trial-save")
	assert.Contains(t, k.paper.texts["trial-1-doses"], "agar 3.5\u00a0g")
	k.press("new")
	k.press("kept", 1)
	assert.Contains(t, k.paper.texts["trial-of"], "agar 3\u00a0g", "another formula is in the pan: it is of the newest version")
}

// The number of a version alone would say that its dose was tried.
func TestTrialSaysThatItsVersionWasChanged(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.typing("trial-firmness", "0")
	k.press("trial-save")
	k.goTo("#pan")
	k.typing("batch-liquid", "640", "notes", "for Friday")
	k.goTo("#book")
	assert.Contains(t, k.paper.texts["trial-of"], "Version 3, 2026-05-06: agar 3", "more of the same")
	k.goTo("#pan")
	k.typing("dose-1-amount", "3.5")
	k.goTo("#book")
	assert.Contains(t, k.paper.texts["trial-of"], "Version 3, 2026-05-06, changed: agar 3.5\u00a0g")
	k.time += 1000
	k.typing("trial-firmness", "1")
	k.press("trial-save")
	assert.Equal(t, []string{"2026-05-06, version 3, changed", "2026-05-06, version 3"}, k.column("trial", "when"))
	k.app.LabOn()
	k.press("ladder-use", 3)
	k.press("undo")
	k.typing("dose-1-amount", "3")
	k.goTo("#book")
	k.typing("ladder-2-firmness", "0")
	k.time += 1000
	k.press("ladder-save")
	assert.Equal(t, "2026-05-06, version 3", k.column("trial", "when")[0], "a cup is a test dose of the version itself")
}

func TestLadderCups(t *testing.T) {
	f := formula.Formula{
		Parts: []formula.Part{{Name: "quince juice", Amount: unit.Grams(200)}},
		Doses: []formula.Dose{{Agent: "agar", Name: "agar", Amount: unit.Grams(2)}, {Agent: "xanthan", Name: "xanthan", Amount: unit.Amount{Value: 0.2, Unit: unit.PercentOf}, Basis: formula.OnLiquid}},
	}
	for cups := 3; cups <= 5; cups++ {
		list, others, ok := ladder(f, 0, cups, 80, gel.Shelf{})
		require.True(t, ok)
		require.Len(t, list, cups)
		assert.InDelta(t, 0.16, float64(others[1]), 1e-9, "0.2 %% of 80 g")
		present := false
		for i, c := range list {
			assert.InDelta(t, c.dose.Value/100*80, float64(c.mass), 1e-9)
			assert.InDelta(t, 0.2, c.made.Doses[1].Amount.Value, 0, "the other agent stays")
			present = present || math.Abs(c.dose.Value-1) < 1e-9
			if i > 0 {
				assert.InEpsilon(t, ladderStep, c.dose.Value/list[i-1].dose.Value, 0.01)
			}
			b, err := gel.Convert(c.made, gel.Shelf{})
			require.NoError(t, err)
			assert.InEpsilon(t, float64(c.mass), float64(b.Doses[0].Mass), 1e-9, "the batch weighs what the cup says")
		}
		assert.True(t, present, "the present dose, 1 %%, is among them")
	}
	assert.InDelta(t, 2, f.Doses[0].Amount.Value, 0, "the formula itself is left alone")
	for name, bad := range map[string]formula.Formula{"no doses": {Parts: f.Parts}, "no liquid": {Doses: f.Doses}} {
		_, _, ok := ladder(bad, 0, 3, 80, gel.Shelf{})
		assert.False(t, ok, name)
	}
}

func TestLadderOnThePage(t *testing.T) {
	k := someone(t)
	k.twoAgents() // 1 % agar, 0.5 % xanthan
	k.press("save")
	k.app.LabOn()
	k.show()
	k.press("kept-pan")
	assert.Equal(t, []string{"0", "agar", "1", "xanthan"}, k.paper.choices["ladder-agent"])
	assert.Equal(t, 5, k.paper.rows["ladder"])
	assert.InEpsilon(t, 1.0, k.figure("ladder-3-dose"), 1e-9)
	assert.InEpsilon(t, 0.8, k.figure("ladder-3-mass"), 1e-9)
	assert.True(t, k.shown("ladder-3-present") && !k.shown("ladder-2-present"))
	assert.Equal(t, "In each cup: 80\u00a0g of liquid, 0.4\u00a0g xanthan", k.paper.texts["ladder-each"])
	k.typing("ladder-cup", "40")
	assert.NotEmpty(t, k.paper.says["ladder-cup"])
	assert.False(t, k.shown("ladder-body"))
	k.typing("ladder-cup", "50", "ladder-cups", "3", "ladder-agent", "1")
	assert.Equal(t, 3, k.paper.rows["ladder"])
	assert.InEpsilon(t, 0.25, k.figure("ladder-2-mass"), 1e-9)
	assert.Contains(t, k.paper.texts["ladder-each"], "0.5\u00a0g agar")

	k.press("ladder-save")
	assert.Contains(t, k.paper.says["ladder-save"], "at least one cup")
	k.typing("ladder-1-firmness", "-1", "ladder-3-firmness", "0")
	k.press("ladder-save")
	assert.Empty(t, k.paper.says["ladder-save"])
	require.Len(t, k.stored(), 2)
	assert.ElementsMatch(t, []string{"too soft", "right"}, k.column("trial", "what"))
	assert.Empty(t, k.paper.values["ladder-1-firmness"])

	w := k.told()
	require.Len(t, w.Tried, 2)
	m, ok := madeOf(w.Tried[0].Batch)
	require.True(t, ok)
	assert.Equal(t, unit.PercentOf, m.Made.Doses[1].Amount.Unit)
	assert.NotEqual(t, m.Aim.Doses[1].Amount, m.Made.Doses[1].Amount, "the aim is the recipe, not the cup")

	k.press("ladder-use", 3)
	assert.Equal(t, "pan", k.at)
	assert.Equal(t, "0.6", k.paper.values["dose-2-amount"])
	assert.Equal(t, "%", k.paper.values["dose-2-unit"])
	assert.Equal(t, "Changed since it was saved", k.saveState())
	k.press("undo")
	assert.Equal(t, "1", k.paper.values["dose-2-amount"])
}

// What the page shows beside a cup is what is kept of it: in another formula, of another
// agent, and of a cup that was away for a while.
func TestJudgedCupsAreThoseOnThePage(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("new")
	k.time += day
	k.typing("name", "Pear gel", "part-1-name", "pear juice", "part-1-amount", "100", "dose-1-name", "agar", "dose-1-amount", "1", "batch-liquid", "100")
	k.press("save")
	shown := func() (list []string) {
		for i := range k.paper.rows["ladder"] {
			list = append(list, k.paper.values[view.Row("ladder", i, "firmness")])
		}
		return list
	}
	none := make([]string, 5)

	k.press("kept-pan")
	k.typing("ladder-2-firmness", "-1")
	k.press("kept-close")
	k.press("kept", 2)
	assert.Equal(t, none, shown(), "another formula's cups are not judged")
	k.press("ladder-save")
	assert.Empty(t, k.stored())

	k.typing("ladder-5-firmness", "1", "ladder-cups", "3")
	assert.Equal(t, none[:3], shown())
	k.press("ladder-save")
	assert.Empty(t, k.stored(), "a cup that is not there")
	k.typing("ladder-cups", "5")
	assert.Equal(t, []string{"", "", "", "", "1"}, shown())
	k.typing("ladder-5-firmness", "", "ladder-2-firmness", "-1", "ladder-4-firmness", "1")
	k.typing("ladder-cup", "60")
	assert.Equal(t, []string{"", "-1", "", "1", ""}, shown(), "as firm in a smaller cup")
	k.typing("ladder-cup", "")
	k.typing("ladder-cup", "70")
	assert.Equal(t, []string{"", "-1", "", "1", ""}, shown(), "a figure was typed anew meanwhile")
	k.press("kept-close")
	k.press("kept", 1)
	k.press("kept-close")
	k.press("kept", 2)
	assert.Equal(t, []string{"", "-1", "", "1", ""}, shown(), "they come again with their formula")
	k.typing("ladder-agent", "1")
	assert.Equal(t, none, shown(), "cups of another agent")
	k.press("ladder-save")
	assert.Empty(t, k.stored())
	k.typing("ladder-3-firmness", "0")
	k.press("ladder-save")
	assert.Len(t, k.stored(), 1)
	assert.Equal(t, none, shown())
}

// Who takes the dose of a cup has said how the cups came out.
func TestUsingACupKeepsWhatCameOut(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("kept-pan")
	k.press("ladder-save")
	assert.NotEmpty(t, k.paper.says["ladder-save"])
	k.typing("ladder-2-firmness", "-1", "ladder-4-firmness", "0")
	assert.Empty(t, k.paper.says["ladder-save"], "it has been said")
	k.press("ladder-use", 4)
	assert.Equal(t, "pan", k.at)
	assert.Equal(t, "1.2", k.paper.values["dose-1-amount"])
	require.Len(t, k.stored(), 2)
	assert.ElementsMatch(t, []string{"too soft", "right"}, k.column("trial", "what"))
	assert.ElementsMatch(t, []string{"agar 0.833\u00a0%, xanthan 0.5\u00a0%", "agar 1.2\u00a0%, xanthan 0.5\u00a0%"}, k.column("trial", "doses"))
}

// The dose of a cup may come into a pan that holds other work, which is nowhere else.
func TestUsingACupKeepsWhatWasInThePan(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("new")
	k.typing("name", "Unsaved", "part-1-name", "pear juice", "part-1-amount", "100", "dose-1-name", "agar", "dose-1-amount", "1", "batch-liquid", "100")
	k.press("kept", 1)
	k.press("ladder-use", 4)
	assert.Equal(t, "Quince gel", k.paper.values["name"])
	assert.Equal(t, "1.2", k.paper.values["dose-1-amount"])
	k.press("undo")
	assert.Equal(t, "2", k.paper.values["dose-1-amount"])
	require.True(t, k.shown("notice-undo"), "what lies under it")
	assert.Equal(t, "Quince gel is in the pan. What was there before was not saved.", k.paper.texts["undo-what"])
	k.press("undo")
	assert.Equal(t, "Unsaved", k.paper.values["name"])
	assert.Equal(t, "Not saved yet", k.saveState())
	assert.False(t, k.shown("notice-undo"))
}

// A dose that was changed in the pan makes other cups: what was judged of the ones before
// is of none of them.
func TestCupsOfAnotherDoseAreNotJudged(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("kept-pan")
	k.typing("ladder-2-firmness", "-1")
	k.goTo("#pan")
	k.typing("batch-liquid", "700")
	k.goTo("#book")
	assert.Equal(t, "-1", k.paper.values["ladder-2-firmness"], "the same cups")
	k.goTo("#pan")
	k.typing("dose-1-amount", "4")
	k.goTo("#book")
	assert.Empty(t, k.paper.values["ladder-2-firmness"])
	k.press("ladder-save")
	assert.Empty(t, k.stored())
	k.typing("dose-1-amount", "2")
	k.goTo("#book")
	assert.Equal(t, "-1", k.paper.values["ladder-2-firmness"], "the first ones again")
}

func TestLadderOfWhatCannotBeWorkedOut(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("name", "nothing yet", "part-1-name", "milk", "part-1-amount", "100", "batch-liquid", "100")
	k.press("save")
	k.press("kept-pan")
	assert.True(t, k.shown("ladder-unknown"))
	assert.False(t, k.shown("ladder-body"))
	k.press("ladder-save")
	assert.Empty(t, k.stored())
}

// A trial that was written is judged anew: the next day it weeps after all.
func TestTrialIsChangedAfterwards(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.typing("trial-firmness", "1", "trial-plunger", "43,5", "trial-note", "grainy")
	k.press("trial-save")
	before := k.stored()[0]
	text := strings.Replace(string(encoded(t, k, before)), `"note"`, `"of-tomorrow":1,"note"`, 1)
	require.NoError(t, k.store.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		return tx.Put(book.Trials, book.Key{ID: before.Entry, Sub: before.ID}, text)
	}))
	k.app.Changed(t.Context())
	k.time += day
	k.press("trial-edit", 1)
	assert.Contains(t, k.paper.texts["trial-of"], "Changing the trial of 2026-05-06: agar 3\u00a0g")
	assert.Equal(t, "trial-note", k.paper.focus)
	assert.True(t, k.shown("trial-cancel"))
	for name, want := range map[string]string{"trial-firmness": "1", "trial-plunger": "43.5", "trial-note": "grainy", "trial-weeping": ""} {
		assert.Equal(t, want, k.paper.values[name], name)
	}
	k.typing("trial-firmness", "0", "trial-weeping", "2", "trial-plunger", "")
	k.press("trial-save")
	list := k.stored()
	require.Len(t, list, 1)
	got := list[0]
	assert.Equal(t, before.ID, got.ID)
	assert.Equal(t, 2, got.Edition)
	assert.Equal(t, before.Made, got.Made)
	assert.Equal(t, string(before.Batch), string(got.Batch), "of the batch that was made then")
	assert.Equal(t, []int{0, 2}, []int{*got.Firmness, *got.Weeping})
	assert.Nil(t, got.Plunger)
	require.Len(t, got.Rest, 1, "what a newer program noted stays")
	assert.False(t, k.shown("trial-cancel"))
	assert.Empty(t, k.paper.values["trial-note"])
	assert.Contains(t, k.paper.texts["trial-of"], "Version 3")

	k.press("trial-edit", 1)
	k.press("trial-cancel")
	assert.Empty(t, k.paper.values["trial-note"])
	k.typing("trial-firmness", "-2")
	k.press("trial-save")
	assert.Len(t, k.stored(), 2, "the next one is a trial of its own")
	k.press("trial-edit", 2)
	k.press("trial-drop", 2)
	assert.False(t, k.shown("trial-cancel"), "what is gone cannot be changed")
	assert.Len(t, k.stored(), 1)
}

// A phone throws the page away while the cook is in the cold room.
func TestHalfWrittenTrialSurvivesAReload(t *testing.T) {
	k := quince(t)
	before := k.drafts
	k.press("kept-pan")
	k.typing("trial-firmness", "-1", "trial-note", "weeps at the edge", "ladder-2-firmness", "-1", "ladder-3-firmness", "1", "ladder-3-firmness", "")
	assert.Greater(t, k.drafts, before)
	again := returning(t, k.store.Connect(), k.app.Draft())
	again.ids = 1000
	again.press("kept-pan")
	assert.Equal(t, "-1", again.paper.values["trial-firmness"])
	assert.Equal(t, "weeps at the edge", again.paper.values["trial-note"])
	assert.Equal(t, "-1", again.paper.values["ladder-2-firmness"])
	assert.Empty(t, again.paper.values["ladder-3-firmness"])
	again.press("trial-save")
	again.press("ladder-save")
	assert.Equal(t, []string{"too soft", "too soft"}, again.column("trial", "what"))
	third := returning(t, k.store.Connect(), again.app.Draft())
	third.press("kept-pan")
	assert.Empty(t, third.paper.values["trial-note"], "it is kept")
	assert.Empty(t, third.paper.values["ladder-2-firmness"])
}

// A trial that is changed in between takes nothing of the one that is being written.
func TestHalfWrittenTrialWaitsForAChange(t *testing.T) {
	for name, end := range map[string]func(k *kitchen){
		"left":      func(k *kitchen) { k.press("trial-cancel") },
		"saved":     func(k *kitchen) { k.press("trial-save") },
		"taken out": func(k *kitchen) { k.press("trial-drop", 1) },
		"another":   func(k *kitchen) { k.press("trial-edit", 1); k.press("trial-cancel") },
		"reload":    func(k *kitchen) {},
	} {
		t.Run(name, func(t *testing.T) {
			k := quince(t)
			k.press("kept-pan")
			k.typing("trial-firmness", "1")
			k.press("trial-save")
			k.typing("trial-firmness", "-1", "trial-note", "weeps at the edge")
			k.press("trial-edit", 1)
			assert.Empty(t, k.paper.values["trial-note"])
			k.typing("trial-note", "grainy")
			end(k)
			if name == "reload" {
				k = returning(t, k.store.Connect(), k.app.Draft())
				k.ids = 1000
				k.press("kept-pan")
			}
			assert.Equal(t, "weeps at the edge", k.paper.values["trial-note"])
			assert.Equal(t, "-1", k.paper.values["trial-firmness"])
			assert.False(t, k.shown("trial-cancel"))
			before := len(k.stored())
			k.press("trial-save")
			assert.Len(t, k.stored(), before+1)
			assert.Empty(t, k.paper.values["trial-note"])
		})
	}
}

// What is changed of a trial that is in the book is not taken for a new one.
func TestChangeOfATrialIsNoDraft(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.typing("trial-firmness", "1")
	k.press("trial-save")
	k.press("trial-edit", 1)
	k.typing("trial-note", "grainy")
	again := returning(t, k.store.Connect(), k.app.Draft())
	again.press("kept-pan")
	assert.Empty(t, again.paper.values["trial-note"])
	again.press("trial-save")
	assert.Len(t, again.stored(), 1)
}

// Two windows judge the same trial: the second is told, and writes nothing over.
func TestTrialChangedInTwoWindows(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.typing("trial-firmness", "1")
	k.press("trial-save")
	other := returning(t, k.store.Connect(), k.app.Draft())
	other.press("kept-pan")
	for _, each := range []*kitchen{k, other} {
		each.press("trial-edit", 1)
	}
	k.typing("trial-firmness", "2")
	k.press("trial-save")
	other.typing("trial-firmness", "-1")
	other.press("trial-save")
	assert.NotEmpty(t, other.paper.texts["storage-problem"])
	assert.Equal(t, 2, *k.stored()[0].Firmness)
}

// encoded is the stored text of a trial.
func encoded(t *testing.T, k *kitchen, of book.Trial) (text string) {
	t.Helper()
	require.NoError(t, k.store.Read(t.Context(), book.Spaces, func(tx book.Tx) (err error) {
		text, _, err = tx.Get(book.Trials, book.Key{ID: of.Entry, Sub: of.ID})
		return err
	}))
	return text
}

func TestLearnedIsTakenAwayAndBack(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.app.LabOn()
	assert.False(t, k.shown("learned"))
	k.press("kept-pan")
	k.typing("trial-firmness", "-1")
	k.press("trial-save")
	assert.True(t, k.shown("learned"))
	assert.Equal(t, []string{"agar, trials judged: 1", "xanthan gum, trials judged: 1"}, k.column("learned", "what"))
	assert.Len(t, k.told().Tried, 1)

	k.typing("learned-1-use", "")
	assert.Empty(t, k.told().Tried, "the lab goes by the tables")
	again := returning(t, k.store.Connect(), k.app.Draft())
	again.app.LabOn()
	assert.Empty(t, again.told().Tried, "also at the next visit")
	assert.Empty(t, again.paper.values["learned-1-use"])
	again.typing("learned-1-use", "1")
	assert.Len(t, again.told().Tried, 1)

	k.press("new")
	k.typing("dose-1-name", "gelatin", "dose-1-amount", "5")
	assert.Empty(t, k.told().Tried, "trials of other agents are of no use here")
}

func TestLabHearsOfNoMoreTrialsThanItTakes(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.app.LabOn()
	k.press("kept-pan")
	for range formula.MaxTried + 5 {
		k.time++
		k.typing("trial-firmness", "0")
		k.press("trial-save")
	}
	assert.Len(t, k.told().Tried, formula.MaxTried)
}

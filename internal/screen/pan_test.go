package screen

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/formula"
)

func TestConvert(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	// 2 g and 1 g in 200 g are 1 % and 0.5 % of the liquid: common practice, no source.
	for name, want := range map[string]float64{
		"part-1-mass": 350, "dose-1-mass": 3.5, "dose-2-mass": 1.75, "dose-1-on-liquid": 1, "dose-2-on-liquid": 0.5,
		"dose-1-per-kg": 10, "dose-2-per-kg": 5, "total-mass": 355.25, "dose-1-on-batch": 100 * 3.5 / 355.25,
	} {
		assert.InEpsilon(t, want, k.figure(name), 1e-12, name)
	}
	assert.Equal(t, "3.50 g", k.text("dose-1-mass"))
	assert.Equal(t, "350 g", k.text("part-1-mass"))
	assert.Empty(t, k.paper.says["batch-liquid"])
	assert.Equal(t, "3.50\u00a0g agar, 1.75\u00a0g xanthan", k.spoken)
	k.spoken = ""
	k.typing("tags", "cold", "lab-foam-covers", "24")
	assert.Empty(t, k.spoken, "what changes nothing in the pan is not told again")
	k.typing("batch-liquid", "x", "batch-liquid", "350")
	assert.Equal(t, "3.50\u00a0g agar, 1.75\u00a0g xanthan", k.spoken, "but what was wrong and is right again is")
	assert.False(t, k.shown("sum-boiled"), "nothing boils")
	assert.False(t, k.shown("sum-yield"), "nothing is lost")
}

func TestBasisStays(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("dose-1-name", "agar", "dose-1-amount", "1", "dose-1-unit", "% batch", "batch-liquid", "99")
	assert.InEpsilon(t, 1.0, k.figure("dose-1-mass"), 1e-12, "1 g in 99 g makes 100 g with 1 %")
	assert.InEpsilon(t, 100.0/99, k.figure("dose-1-on-liquid"), 1e-12)
	k.typing("dose-1-unit", "%")
	assert.InEpsilon(t, 0.99, k.figure("dose-1-mass"), 1e-12)
}

// The chain by hand: 40 × 6 × 1.1 = 264; ÷ 0.95 (bottle) ÷ 0.92 (blender) =
// 302.0595; + 12 (boil) = 314.0595; ÷ 1.015 (agents) = 309.4182.
func TestBackwardYield(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.press("add-dose")
	k.typing("dose-1-name", "agar", "dose-1-amount", "1", "dose-1-unit", "%", "dose-2-name", "xanthan", "dose-2-amount", "0.5", "dose-2-unit", "%",
		"make", "portions", "portions", "40", "portion-size", "6", "spare", "10", "loss-blender", "8", "loss-bottle", "5", "loss-boil", "12")
	batch := 264/(0.95*0.92) + 12
	assert.InDelta(t, 314.0595, k.figure("total-mass"), 5e-5)
	assert.InDelta(t, 309.4182, k.figure("total-mass")-k.figure("dose-1-mass")-k.figure("dose-2-mass"), 5e-5)
	assert.InEpsilon(t, batch, k.figure("total-mass"), 1e-12)
	assert.InEpsilon(t, batch-12, k.figure("after-boil-mass"), 1e-12)
	assert.InEpsilon(t, 264.0, k.figure("yield-mass"), 1e-12)
	assert.InEpsilon(t, 40.0, k.figure("portions-count"), 1e-12)
	assert.InEpsilon(t, batch/1.015/100, k.figure("dose-1-mass"), 1e-12)
	assert.True(t, k.shown("make-portions") && !k.shown("make-liquid"))
	assert.Contains(t, k.paper.texts["losses-sum"], "50.1")
}

func TestAnEmptyPanIsAskedHowMuch(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("batch-liquid", "")
	assert.Equal(t, "Type how much to make.", k.paper.says["batch-liquid"])
	assert.True(t, k.paper.hints["batch-liquid"])
}

func TestBoilByMinutes(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("loss-boil-unit", "min", "loss-boil", "4")
	assert.True(t, k.shown("ask-boil-rate"))
	assert.Equal(t, "Type a figure here, such as 2 or 1,5.", k.paper.says["loss-boil-rate"])
	assert.True(t, k.paper.hints["loss-boil-rate"], "it is not wrong, only missing")
	k.typing("loss-boil-rate", "2.5")
	assert.InEpsilon(t, 345.25, k.figure("after-boil-mass"), 1e-12)
	k.typing("loss-boil-rate", "100")
	assert.Contains(t, k.paper.says["loss-boil"], "boil off")
	assert.True(t, k.paper.invalid["loss-boil"])
	assert.Equal(t, "stale", k.paper.states["pan"])
}

func TestWhatIsLeft(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("make", "left")
	assert.Equal(t, []string{"dose-1", "agar", "dose-2", "xanthan", "part-1", "quince juice"}, k.paper.choices["left-of"])
	k.typing("left-of", "dose-2", "left-amount", "1.4")
	assert.InEpsilon(t, 2.8, k.figure("dose-1-mass"), 1e-12)
	assert.InEpsilon(t, 280.0, k.figure("part-1-mass"), 1e-12)
	k.typing("left-amount-unit", "ml")
	assert.Equal(t, "This cannot be measured in ml here. Use a weight.", k.paper.says["left-amount"])
	k.typing("left-amount-unit", "g", "left-of", "part-1", "left-amount", "100")
	assert.InEpsilon(t, 1.0, k.figure("dose-1-mass"), 1e-12)

	// A row that goes takes the choice to another ingredient that is there.
	k.typing("left-of", "dose-2", "left-amount", "3")
	k.press("drop-dose", 2)
	assert.Equal(t, "dose-1", k.paper.values["left-of"])
	assert.InEpsilon(t, 300.0, k.figure("part-1-mass"), 1e-12)
}

func TestSheetsAskForTheirWeight(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("part-1-name", "milk", "part-1-amount", "500", "dose-1-name", "gelatin", "dose-1-amount", "4", "dose-1-unit", "sheet", "batch-liquid", "750")
	assert.InEpsilon(t, 6.0, k.figure("dose-1-mass"), 1e-12, "sheets scale without their weight")
	assert.Equal(t, "6 sheets", k.text("dose-1-mass"))
	assert.True(t, k.shown("ask-sheet"))
	assert.Contains(t, k.paper.says["ask-sheet-mass"], "Weigh one and type it")
	assert.False(t, k.shown("dose-1-shares"))

	k.typing("ask-sheet-mass", "2")
	assert.True(t, k.shown("ask-sheet"), "the rest of the figure is still to come")
	k.typing("ask-sheet-mass", "99")
	assert.Contains(t, k.paper.says["ask-sheet-mass"], "at the most", "said where it was typed")
	k.typing("ask-sheet-mass", "2,", "ask-sheet-mass", "2,5")
	assert.Equal(t, "2,5", k.paper.values["sheet-mass"], "it is the shelf's own figure")
	assert.True(t, k.shown("ask-sheet"), "and can be mended")
	assert.Empty(t, k.paper.says["ask-sheet-mass"])
	assert.InEpsilon(t, 4*2.5/500*100, k.figure("dose-1-on-liquid"), 1e-12)

	// Kept: the next visit does not ask.
	next := returning(t, k.store.Connect(), k.app.Draft())
	assert.False(t, next.shown("ask-sheet"))
	assert.InEpsilon(t, 2.0, next.figure("dose-1-on-liquid"), 1e-12)
}

func TestDensityIsAskedFor(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("dose-1-name", "agar", "dose-1-amount", "1", "dose-1-unit", "%", "batch-liquid", "350", "batch-liquid-unit", "ml")
	assert.True(t, k.shown("ask-density"))
	assert.Contains(t, k.paper.says["liquid-density"], "1\u00a0ml weighs")
	assert.True(t, k.paper.hints["liquid-density"])
	k.typing("liquid-density", "1.04")
	assert.InEpsilon(t, 3.64, k.figure("dose-1-mass"), 1e-12)
	assert.InEpsilon(t, 350.0, k.figure("liquid-volume"), 1e-12)
	assert.True(t, k.shown("ask-density"), "it stays to be changed")
}

func TestVolumesAloneNeedNoDensity(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("part-1-name", "juice", "part-1-amount", "200", "part-1-unit", "ml", "dose-1-name", "agar", "dose-1-amount", "2",
		"batch-liquid", "35", "batch-liquid-unit", "cl")
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
	assert.False(t, k.shown("sums"))
	assert.Contains(t, k.paper.says["liquid-density"], "by volume")
}

func TestWrongInputKeepsTheLastAnswer(t *testing.T) {
	for name, c := range map[string]struct{ field, text, says string }{
		"two marks":           {"batch-liquid", "1,2,3", "Two decimal marks"},
		"letters":             {"batch-liquid", "abc", "not a figure"},
		"1e309":               {"batch-liquid", "1e309", "figure"},
		"NaN":                 {"batch-liquid", "NaN", "not a figure"},
		"negative":            {"batch-liquid", "-5", "Below zero"},
		"zero":                {"batch-liquid", "0", "Zero makes nothing"},
		"a million kilograms": {"batch-liquid", "1000000 kg", "at the most"},
		"sieve":               {"loss-sieve", "100", "at the most"},
		"dose":                {"dose-1-amount", "101 %", "100"},
	} {
		t.Run(name, func(t *testing.T) {
			k := someone(t)
			k.twoAgents()
			k.typing(c.field, c.text)
			place := strings.Replace(c.field, "dose-1-amount", "dose-1-say", 1)
			assert.Contains(t, k.paper.says[place], c.says)
			assert.False(t, k.paper.hints[place], "it is a refusal")
			assert.True(t, k.paper.invalid[c.field])
			assert.Equal(t, "stale", k.paper.states["pan"])
			assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12, "the last good answer stays")
			assert.Equal(t, c.text, k.app.pan.fields[c.field], "nothing that was typed is lost")
			assert.Contains(t, k.spoken, "dimmed")

			k.press("save")
			assert.Equal(t, "One figure is wrong: correct it, then save", k.saveState())
			assert.Equal(t, c.field, k.paper.focus)
			assert.Empty(t, k.names())
		})
	}
}

func TestMissingTargetIsOnlyAskedFor(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("batch-liquid", "")
	assert.True(t, k.paper.hints["batch-liquid"])
	assert.False(t, k.paper.invalid["batch-liquid"])
	assert.Equal(t, "stale", k.paper.states["pan"])
	k.press("save")
	assert.Equal(t, "Saved 2026-05-04", k.saveState(), "a formula can be kept before its size is known")
}

func TestTwoWaysToReadAFigure(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("batch-liquid", "1.250")
	assert.Equal(t, "Read as 1.25. For thousands leave the mark out.", k.paper.says["batch-liquid"])
	assert.True(t, k.paper.hints["batch-liquid"])
	assert.InEpsilon(t, 0.0125, k.figure("dose-1-mass"), 1e-12, "it is a figure all the same")
}

func TestScaleRounding(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	assert.False(t, k.shown("dose-1-rounding"))
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)

	// One scale of 1 g steps: 3.5 g shows 4 (or 3), at worst (0.5 + 0.5) / 3.5 off.
	k.press("drop-scale", 2)
	assert.True(t, k.shown("dose-1-rounding"))
	assert.Equal(t, "4 g", k.text("dose-1-mass"))
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12, "the figure itself is not rounded")
	assert.Contains(t, k.paper.texts["dose-1-rounding"], "28.6")
	k.typing("batch-liquid", "20")
	assert.Equal(t, "0 g", k.text("dose-1-mass"))
	assert.Contains(t, k.paper.texts["dose-1-rounding"], "Lighter than one step")

	k.press("undo")
	assert.Equal(t, 2, k.paper.rows["scale"])
	assert.Equal(t, "0.20 g", k.text("dose-1-mass"))
	// 0.2 g in steps of 0.01: half a step is 2.5 %, more than 2 %.
	assert.Contains(t, k.paper.texts["dose-1-rounding"], "2.5")
	k.typing("batch-liquid", "25")
	assert.False(t, k.shown("dose-1-rounding"), "0.25 g is exactly 2 % off at worst")
}

// Weighed gelatin converts by grams × √Bloom: 6 g of 250 are 6 × √(250/200) =
// 6.708 g of 200 (common practice, no source).
func TestGelatinOfThisKitchen(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("part-1-name", "cream", "part-1-amount", "500", "dose-1-name", "gelatin", "dose-1-amount", "6", "dose-1-grade", "250", "batch-liquid", "500")
	assert.True(t, k.shown("dose-1-grade-ask"))
	assert.Empty(t, k.paper.figures["dose-1-as-powder"].value, "the shelf has not said what it has")

	k.typing("powder-bloom", "200")
	assert.InDelta(t, 6*math.Sqrt(250.0/200), k.figure("dose-1-as-powder"), 1e-9)
	assert.InDelta(t, 6.708, k.figure("dose-1-as-powder"), 5e-4)
	assert.True(t, k.shown("dose-1-powder"))
	assert.Equal(t, "= 6.71 g of your powder, 200 bloom", k.text("dose-1-as-powder"))

	// The laws for sheets disagree, so a range is shown: with 200 Bloom against
	// 160 of silver, from m/2.5 × √(250/160) to m/2.5 × 250/160.
	k.typing("sheet-mass", "2.5", "sheet-grade", "silver")
	assert.True(t, k.shown("dose-1-sheets"))
	low, high := 6/2.5*math.Sqrt(250.0/160), 6/2.5*250.0/160
	got := k.figure("dose-1-as-sheets")
	assert.GreaterOrEqual(t, got, low-1e-9)
	assert.LessOrEqual(t, got, high+1e-9)
	assert.Contains(t, k.text("dose-1-as-sheets"), "sources disagree")
	assert.Contains(t, k.text("dose-1-as-sheets"), "3 ", "the low end, 3.00 sheets")
	assert.Contains(t, k.text("dose-1-as-sheets"), "3.75 ")

	// A recipe in sheets, this kitchen with powder.
	k.typing("dose-1-unit", "sheet", "dose-1-amount", "4")
	assert.False(t, k.shown("dose-1-grade-ask"), "a sheet's Bloom is its grade's")
	assert.Contains(t, k.text("dose-1-as-powder"), "sources disagree")
	assert.False(t, k.shown("dose-1-sheets"))

	k.typing("dose-1-name", "agar", "dose-1-unit", "g")
	assert.False(t, k.shown("dose-1-powder") || k.shown("dose-1-sheets"), "only gelatin has a Bloom")
}

func TestPasteARecipe(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("lines", "350 ml apple juice\n1,5 g agar\n0.6% gellan\na pinch of luck\n3 lemons", "name", "Apple gel")
	k.press("read-lines")
	assert.Equal(t, "apple juice", k.paper.values["part-1-name"])
	assert.Equal(t, "ml", k.paper.values["part-1-unit"])
	assert.Equal(t, "1.5", k.paper.values["dose-1-amount"])
	assert.Equal(t, "gellan", k.paper.values["dose-2-name"])
	assert.Equal(t, "%", k.paper.values["dose-2-unit"])
	assert.Equal(t, "Apple gel", k.paper.values["name"], "the name stays")
	assert.Empty(t, k.paper.values["lines"], "what is in the pan need not be read twice")
	assert.True(t, k.shown("unread-box"))
	assert.Equal(t, 2, k.paper.rows["unread"])
	assert.Equal(t, "a pinch of luck", k.paper.texts["unread-1-line"])
	assert.Contains(t, k.paper.texts["unread-1-why"], "No amount found")
	assert.NotEmpty(t, k.paper.texts["unread-2-why"])

	// What was not understood is saved with the formula, and can be dropped and
	// taken back.
	k.typing("liquid-density", "1.04", "batch-liquid", "364")
	k.press("save")
	again := returning(t, k.store.Connect(), "")
	again.press("open", 1)
	assert.Equal(t, "a pinch of luck", again.paper.texts["unread-1-line"])
	again.press("drop-unread", 1)
	assert.Equal(t, 1, again.paper.rows["unread"])
	assert.Equal(t, "3 lemons", again.paper.texts["unread-1-line"])
	assert.Equal(t, "a pinch of luck is taken out.", again.paper.texts["undo-what"])
	again.press("undo")
	assert.Equal(t, 2, again.paper.rows["unread"])
	again.press("drop-unread", 2)
	again.press("drop-unread", 1)
	assert.False(t, again.shown("unread-box"))
}

// A recipe that is pasted into an empty pan is made as it is written, until somebody says
// how much; a figure that stands there holds.
func TestPasteMakesTheRecipeAsWritten(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("lines", "1 kg rhubarb juice\n120 g sugar\n9 g agar")
	k.press("read-lines")
	assert.Equal(t, "1120", k.paper.values["batch-liquid"])
	assert.InEpsilon(t, 9.0, k.figure("dose-1-mass"), 1e-12)
	k.typing("batch-liquid", "560", "lines", "500 g water\n5 g agar")
	k.press("read-lines")
	assert.Equal(t, "560", k.paper.values["batch-liquid"])

	k.press("new")
	k.typing("lines", "5 dl milk\n1 l cream\n9 g agar")
	k.press("read-lines")
	assert.Equal(t, "1500", k.paper.values["batch-liquid"])
	assert.Equal(t, "ml", k.paper.values["batch-liquid-unit"])
	k.press("new")
	k.typing("lines", "5 dl milk\n100 g sugar\n9 g agar")
	k.press("read-lines")
	assert.Empty(t, k.paper.values["batch-liquid"], "millilitres and grams do not add up")
}

func TestPasteCanBeTakenBack(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("lines", "100 g water\n1 g agar")
	k.press("read-lines")
	assert.Equal(t, 1, k.paper.rows["dose"])
	k.press("undo")
	assert.Equal(t, 2, k.paper.rows["dose"])
	assert.Equal(t, "quince juice", k.paper.values["part-1-name"])
	assert.Equal(t, "100 g water\n1 g agar", k.paper.values["lines"], "the pasted text is there to be mended")
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
}

func TestRowsAreDroppedAndTakenBack(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("drop-dose", 1)
	assert.Equal(t, 1, k.paper.rows["dose"])
	assert.Equal(t, "xanthan", k.paper.values["dose-1-name"])
	assert.InEpsilon(t, 1.75, k.figure("dose-1-mass"), 1e-12)
	assert.Equal(t, "agar is taken out.", k.paper.texts["undo-what"])
	assert.True(t, k.shown("notice-undo"))
	k.press("undo")
	assert.False(t, k.shown("notice-undo"))
	assert.Equal(t, "agar", k.paper.values["dose-1-name"])
	assert.InEpsilon(t, 1.75, k.figure("dose-2-mass"), 1e-12)

	// An empty row goes without a word; the last row stays as an empty one.
	k.press("add-dose")
	assert.Equal(t, "dose-3-name", k.paper.focus)
	k.press("drop-dose", 3)
	assert.False(t, k.shown("notice-undo"))
	k.press("drop-dose", 2)
	k.press("drop-dose", 1)
	assert.Equal(t, 1, k.paper.rows["dose"])
	assert.Empty(t, k.paper.values["dose-1-name"])
}

func TestRowsHaveALimit(t *testing.T) {
	k := someone(t)
	k.press("new")
	for range formula.MaxDoses + 5 {
		k.press("add-dose")
	}
	assert.Equal(t, formula.MaxDoses, k.paper.rows["dose"])
}

func TestNewFormula(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("new")
	assert.Equal(t, "pan", k.at)
	assert.Empty(t, k.paper.values["name"])
	assert.Equal(t, "–", k.paper.figures["dose-1-mass"].text)
	assert.False(t, k.shown("dose-1-shares"), "no shares of a dose that is gone")
	assert.True(t, k.shown("notice-undo"))
	k.press("undo")
	assert.Equal(t, "Quince gel", k.paper.values["name"])
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
}

func TestDraft(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("dose-1-amount", "2,x", "batch-liquid", "1,2,3", "notes", "stir\nthen wait", "dose-2-name", `<b>"xanthan"</b>`)
	before := k.drafts
	k.typing("spare", "7")
	assert.Greater(t, k.drafts, before, "every change asks to be kept")

	next := returning(t, k.store.Connect(), k.app.Draft())
	for field, want := range k.app.pan.fields {
		assert.Equal(t, want, next.app.pan.fields[field], field)
	}
	assert.Equal(t, "1,2,3", next.paper.values["batch-liquid"])
	assert.Contains(t, next.paper.says["batch-liquid"], "Two decimal marks")
	next.typing("dose-1-amount", "2", "batch-liquid", "350")
	assert.InEpsilon(t, 3.5, next.figure("dose-1-mass"), 1e-12)
}

func TestDraftOfSavedFormula(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	draft := k.app.Draft()

	next := opening(t, k.store.Connect(), draft)
	next.time += 5 * 24 * 3600_000
	next.app.Store(t.Context(), book.New(next.store, Checks()), "")
	next.show()
	assert.Equal(t, "Saved 2026-05-04", next.saveState(), "the day it was saved, not today")
	next.typing("batch-liquid", "700")
	assert.Equal(t, "Changed since it was saved", next.saveState())
	next.press("save")
	assert.Len(t, next.names(), 1, "it is the same entry")
}

func TestDamagedDraftIsPassedOver(t *testing.T) {
	for _, draft := range []string{"{", "null", `{"form":99}`, strings.Repeat("[", 5000), `{"form":1,"fields":[]}`} {
		k := returning(t, book.NewMemory(), draft)
		assert.Equal(t, "pear juice", k.paper.values["part-1-name"], "the first example is there")
		assert.InEpsilon(t, 2.8, k.figure("dose-1-mass"), 1e-12)
	}
}

func TestFirstVisitLeavesTheAddress(t *testing.T) {
	assert.Equal(t, "untouched", someone(t).at, "a link in it is read after the start")
}

// What is typed after a step stays when the step is taken back.
func TestTakingBackKeepsWhatWasTypedSince(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("drop-dose", 1)
	k.typing("batch-liquid", "1234", "name", "Quince sheet", "dose-1-amount", "0.4")
	k.press("undo")
	assert.Equal(t, "agar", k.paper.values["dose-1-name"])
	assert.Equal(t, "xanthan", k.paper.values["dose-2-name"])
	assert.Equal(t, "0.4", k.paper.values["dose-2-amount"])
	assert.Equal(t, "1234", k.paper.values["batch-liquid"])
	assert.Equal(t, "Quince sheet", k.paper.values["name"])

	// A step that changed several fields takes back those.
	fields := maps.Clone(k.app.pan.fields)
	fields["dose-1-name"], fields["dose-1-amount"] = "iota carrageenan", "2"
	k.app.changePan(fields, "swapped")
	k.typing("batch-liquid", "900")
	k.press("undo")
	assert.Equal(t, "agar", k.paper.values["dose-1-name"])
	assert.Equal(t, "900", k.paper.values["batch-liquid"])
}

// What is typed into a field of the step, or saved after it, supersedes the step: to
// take that back by a bar of long ago would take away what came since.
func TestStepThatIsSuperseded(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("lines", "100 g water\n1 g agar")
	k.press("read-lines")
	k.typing("name", "Water gel", "notes", "for the terrace")
	assert.True(t, k.shown("notice-undo"), "none of this would be lost")
	k.typing("dose-1-amount", "2")
	assert.False(t, k.shown("notice-undo"))
	k.press("undo")
	assert.Equal(t, "2", k.paper.values["dose-1-amount"], "nothing is left to be pressed by a late patch")

	k.press("drop-dose", 1)
	require.True(t, k.shown("notice-undo"))
	k.press("save")
	assert.False(t, k.shown("notice-undo"), "settled on")
	k.press("undo")
	assert.Empty(t, k.paper.values["dose-1-name"])
}

// A save settles what came before it was pressed, and only if it succeeds.
func TestStepWhileSaving(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.hold = true
	k.press("save")
	k.press("drop-dose", 1)
	k.settle()
	assert.True(t, k.shown("notice-undo"), "it is not what was saved")
	k.hold = false
	k.store.Fail = func(string) error { return &book.Failure{Op: "test", Kind: book.ErrQuota} }
	k.press("save")
	assert.True(t, k.shown("notice-undo"))
	k.press("undo")
	assert.Equal(t, "agar", k.paper.values["dose-1-name"])
}

// The formula that another one took the place of is nowhere else, and comes back
// without harm to the other.
func TestFormulaThatWasReplacedStaysInReach(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("open-example", 1)
	k.typing("dose-1-amount", "2")
	k.press("save")
	require.True(t, k.shown("notice-undo"))
	k.press("undo")
	assert.Equal(t, "Quince gel", k.paper.values["name"])
}

// A phone throws the page away: the formula in the pan comes again, and so does the way
// to the one that it took the place of.
func TestFormulaThatWasReplacedSurvivesAReload(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.typing("dose-1-amount", "2.5")
	k.press("open-example", 1)
	k.press("drop-dose", 1)
	again := returning(t, k.store, k.app.Draft())
	require.True(t, again.shown("notice-undo"))
	assert.Equal(t, k.paper.values["name"]+" is in the pan. What was there before was not saved.", again.paper.texts["undo-what"])
	again.press("undo")
	assert.Equal(t, "2.5", again.paper.values["dose-1-amount"])
	assert.Equal(t, "Changed since it was saved", again.saveState())
	again.press("save")
	assert.Equal(t, "Saved 2026-05-04", again.saveState())
	assert.Equal(t, []string{"Quince gel"}, again.names(), "a version of its own formula")

	third := returning(t, k.store, again.app.Draft())
	assert.False(t, third.shown("notice-undo"), "nothing was left of the other one")
	third.typing("dose-1-amount", "9")
	third.press("new")
	third.app.Closed("notice-undo")
	fourth := returning(t, k.store, third.app.Draft())
	assert.False(t, fourth.shown("notice-undo"), "closed is closed")
}

// Nor do the smaller steps that come after it put it out of reach.
func TestFormulaThatWasReplacedWaitsUnderSmallerSteps(t *testing.T) {
	for name, step := range map[string]func(k *kitchen){
		"row":      func(k *kitchen) { k.press("drop-dose", 1); k.press("undo") },
		"two rows": func(k *kitchen) { k.press("drop-dose", 1); k.press("drop-part", 1); k.press("undo") },
		"closed":   func(k *kitchen) { k.press("drop-dose", 1); k.app.Closed("notice-undo"); k.show() },
		"saved":    func(k *kitchen) { k.press("drop-dose", 2); k.press("save") },
		"typed": func(k *kitchen) {
			k.typing("lines", "100 g milk")
			k.press("read-lines")
			k.typing("part-1-amount", "90")
		},
		"shelf":     func(k *kitchen) { k.press("drop-scale", 1); k.press("undo") },
		"a formula": func(k *kitchen) { k.press("drop-dose", 1); k.press("undo"); k.press("save"); k.press("open", 1) },
	} {
		t.Run(name, func(t *testing.T) {
			k := someone(t)
			k.twoAgents()
			k.press("open-example", 1)
			k.typing("notes", "so")
			step(k)
			require.True(t, k.shown("notice-undo"))
			assert.Contains(t, k.paper.texts["undo-what"], "is in the pan. What was there before was not saved.")
			k.press("undo")
			assert.Equal(t, "Quince gel", k.paper.values["name"])
		})
	}
}

// A second press that was meant for the offer above reads no other one's words.
func TestOneSlipTakesBackOneStep(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("open-example", 1)
	name := k.paper.values["name"]
	for _, press := range []func(){
		func() { k.app.Do("undo", 0); k.show() },
		func() { k.app.Closed("notice-undo"); k.show() },
	} {
		k.press("drop-dose", 1)
		k.time += slipMs
		press()
		k.time += slipMs / 2
		press()
		assert.Equal(t, name, k.paper.values["name"])
		assert.True(t, k.shown("notice-undo"))
	}
	k.press("undo")
	assert.Equal(t, "Quince gel", k.paper.values["name"])
	k.app.Do("undo", 0)
	k.show()
	assert.Equal(t, "Quince gel", k.paper.values["name"], "the way forth has come to the same place")
}

// What is offered in turn comes to the same place, too.
func TestOneSlipSwapsFormulasOnce(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("open-example", 1)
	k.typing("notes", "so")
	k.press("undo")
	k.app.Do("undo", 0)
	k.show()
	assert.Equal(t, "Quince gel", k.paper.values["name"])
	assert.True(t, k.shown("notice-undo"))
}

func TestRowsTakenBackIntoAFullList(t *testing.T) {
	k := someone(t)
	for i := range formula.MaxDoses {
		k.press("add-dose")
		k.typing(fmt.Sprintf("dose-%d-name", i+1), fmt.Sprintf("agar %d", i+1), fmt.Sprintf("dose-%d-amount", i+1), "1")
	}
	k.press("drop-dose", 1)
	k.press("add-dose")
	last := fmt.Sprintf("dose-%d-name", formula.MaxDoses)
	k.typing(last, "gelatin", "batch-liquid", "700")
	k.press("undo")
	assert.Equal(t, "agar 1", k.paper.values["dose-1-name"])
	assert.Equal(t, fmt.Sprintf("agar %d", formula.MaxDoses), k.paper.values[last])
	assert.Equal(t, "700", k.paper.values["batch-liquid"])
}

// What is left stays on its ingredient when rows above it come and go.
func TestWhatIsLeftFollowsItsRow(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("make", "left", "left-of", "dose-2", "left-amount", "3")
	k.press("drop-dose", 1)
	assert.Equal(t, "dose-1", k.paper.values["left-of"])
	assert.Equal(t, "xanthan", k.paper.values["dose-1-name"])
	k.press("undo")
	assert.Equal(t, "dose-2", k.paper.values["left-of"])
	k.press("drop-dose", 2)
	assert.Equal(t, "dose-1", k.paper.values["left-of"])
	k.press("undo")
	assert.Equal(t, "dose-2", k.paper.values["left-of"])

	// What is chosen since stays, too.
	k.press("drop-dose", 2)
	k.typing("left-of", "part-1")
	k.press("undo")
	assert.Equal(t, "part-1", k.paper.values["left-of"])
}

// A step in a formula is not offered to be taken back in another one; and what was
// typed into one that is left by "undo" can be had again.
func TestTakingBackAcrossFormulas(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("name", "Quince sheet")
	k.press("drop-dose", 1)
	k.press("open-example", 1)
	assert.Contains(t, k.paper.texts["undo-what"], "is in the pan")
	k.typing("batch-liquid", "640")
	k.press("undo")
	assert.Equal(t, "Quince sheet", k.paper.values["name"])
	assert.Equal(t, "Quince sheet is in the pan. What was there before was not saved.", k.paper.texts["undo-what"])
	k.press("undo")
	assert.Equal(t, "640", k.paper.values["batch-liquid"])

	k.press("drop-dose", 1)
	require.True(t, k.shown("notice-undo"))
	k.press("new")
	k.press("undo")
	assert.NotEmpty(t, k.paper.values["part-1-name"], "the whole formula is back, without its agar")
}

// A part without a figure is asked for one.
func TestPartWithoutAFigure(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("part-1-amount", "")
	assert.Equal(t, "Type a figure here, such as 2 or 1,5.", k.paper.says["part-1-say"])
	k.typing("part-1-amount", "5")
	assert.Empty(t, k.paper.says["part-1-say"])
}

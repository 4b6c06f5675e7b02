package dry_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/dry"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

func table(t testing.TB, name string) [][]string {
	f, err := os.Open("../../testdata/" + name)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

func num(t testing.TB, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}

func sentences(t testing.TB) map[string]string {
	raw, err := os.ReadFile("../../web/text/en/lab/dry.json")
	require.NoError(t, err)
	var m map[string]string
	require.NoError(t, json.Unmarshal(raw, &m))
	return m
}

// says checks that the sentence of a note asks only for arguments that the note has.
func says(t testing.TB, text map[string]string, n note.Note) {
	sentence, ok := text["note."+string(n.Code)]
	require.True(t, ok, "no sentence for %s", n.Code)
	for _, m := range regexp.MustCompile(`\{([a-z]+)\}`).FindAllStringSubmatch(sentence, -1) {
		_, ok := n.Arg(m[1])
		require.True(t, ok, "%s asks for {%s}", n.Code, m[1])
	}
	for _, a := range n.Args {
		if a.Word != "" {
			require.Contains(t, text, a.Word)
		}
	}
	if n.Level < note.Refused {
		require.True(t, n.Source.Valid(), n.Code)
	}
}

func TestEveryCodeHasItsSentence(t *testing.T) {
	text := sentences(t)
	for _, c := range dry.Codes {
		assert.NotEmpty(t, text["note."+string(c)], c)
	}
	for _, w := range dry.Windows {
		assert.NotEmpty(t, text["dry.kept."+string(w.Kept)], w.Kept)
		assert.True(t, w.Source.Valid())
		assert.Less(t, w.Low, w.High)
	}
}

func one(mass, water float64) []dry.Part {
	return []dry.Part{{Mass: unit.Mass(mass), Water: unit.Fraction(water)}}
}

func TestYieldsOfFoods(t *testing.T) {
	rows := table(t, "dry-yields.csv")
	require.GreaterOrEqual(t, len(rows), 6)
	for _, row := range rows {
		b, err := dry.Dry(one(1000, num(t, row[2])/100), unit.Percent(num(t, row[3])), 0)
		require.NoError(t, err)
		assert.InDelta(t, num(t, row[4]), b.Yield.Percent(), 0.00006, row[1])
	}
}

// Some 4 to 4.5 kg of grapes make a kilogram of raisins (from memory, trade).
func TestGrapesToRaisins(t *testing.T) {
	b, err := dry.Dry(one(1000, 0.8054), 0.1543, 0)
	require.NoError(t, err)
	assert.Greater(t, b.Ratio, 4.0)
	assert.Less(t, b.Ratio, 4.5)
}

func TestMassBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 5))
	for range 3000 {
		var parts []dry.Part
		wet, solids := 0.0, 0.0
		for range 1 + r.IntN(4) {
			p := dry.Part{Mass: unit.Mass(math.Exp(r.Float64()*12 - 2)), Water: unit.Fraction(r.Float64() * 0.97)}
			p.Ethanol = unit.Fraction(r.Float64() * 0.02)
			parts = append(parts, p)
			wet += float64(p.Mass)
			solids += float64(p.Mass) * float64(1-p.Water-p.Ethanol)
		}
		residual, loss := unit.Fraction(r.Float64()*0.2), unit.Fraction(r.Float64()*0.5)
		b, err := dry.Dry(parts, residual, loss)
		if err != nil {
			require.ErrorIs(t, err, note.Refuse("", dry.ResidualAbove))
			require.GreaterOrEqual(t, residual, mean(parts)-1e-12)
			continue
		}
		require.InEpsilon(t, wet, float64(b.Dry+b.Off), 1e-12, "nothing comes or goes")
		require.InEpsilon(t, solids, float64(b.Dry)*(1-float64(residual)), 1e-9, "solids stay")
		require.InEpsilon(t, float64(b.Dry)*(1-float64(loss)), float64(b.Product), 1e-12)
		require.InEpsilon(t, 1, float64(b.Yield)*b.Ratio, 1e-12)

		want := unit.Mass(math.Exp(r.Float64()*8 - 2))
		scaled, back, err := dry.WetFor(parts, residual, loss, want)
		if err != nil {
			require.Greater(t, float64(want)*b.Ratio, 1e5, "only a batch beyond a tonne is refused")
			continue
		}
		require.InEpsilon(t, float64(want), float64(back.Product), 1e-9)
		require.InEpsilon(t, float64(b.Start), float64(back.Start), 1e-9)
		require.Len(t, scaled, len(parts))

		now, err := dry.MoistureNow(b.Wet, b.Start, b.Dry)
		if b.Ethanol == 0 {
			require.NoError(t, err)
			require.InDelta(t, float64(residual), float64(now), 1e-9)
		}
	}
}

func mean(parts []dry.Part) unit.Fraction {
	wet, water := unit.Mass(0), unit.Mass(0)
	for _, p := range parts {
		wet += p.Mass
		water += p.Mass * unit.Mass(p.Water)
	}
	return unit.Fraction(water / wet)
}

func TestMoistureOfATray(t *testing.T) {
	m, err := dry.MoistureNow(1000, 0.9, 200)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, float64(m), 1e-12)
	m, err = dry.MoistureNow(1000, 0.9, 1000)
	require.NoError(t, err)
	assert.InDelta(t, 0.9, float64(m), 1e-12)
	for _, c := range []struct {
		now  unit.Mass
		code note.Code
	}{{99, dry.TooLight}, {1001, dry.TooHeavy}, {0, dry.BadFigure}, {unit.Mass(math.NaN()), dry.BadFigure}} {
		_, err := dry.MoistureNow(1000, 0.9, c.now)
		assert.ErrorIs(t, err, note.Refuse("", c.code))
	}
}

// Common practice, no source: leaf pulp in a thin layer at 50 °C takes about five hours.
func TestLeafPulpTakesAboutFiveHours(t *testing.T) {
	got, err := dry.Time(dry.Trial{Temperature: 50, Load: 0.2, Start: 0.90, End: 0.06}, nil)
	require.NoError(t, err)
	assert.InDelta(t, 5, got.Typical/3600, 0.01)
	assert.Less(t, got.Low/3600, 4.0)
	assert.Greater(t, got.High/3600, 6.0)
}

// Kale leaf took 330, 162, 78 and 51 min at 35, 50, 70 and 85 °C (Oliveira et
// al. 2015). One trial of it must foretell the other three within the range.
func TestTemperatureAgainstPublishedTimes(t *testing.T) {
	rows := table(t, "dry-kale-times.csv")
	run := func(i int) dry.Trial {
		return dry.Trial{Temperature: unit.Celsius(num(t, rows[i][0])), Load: 0.1, Start: 0.85, End: 0.06, Time: unit.Seconds(60 * num(t, rows[i][1]))}
	}
	for i := range rows {
		for k := range rows {
			got, err := dry.Time(run(i), []dry.Trial{run(k)})
			require.NoError(t, err)
			if d := run(i).Temperature - run(k).Temperature; d > 35 || d < -35 {
				continue // from one end of the range to the other asks too much of one trial
			}
			assert.True(t, got.Contains(float64(run(i).Time)), "%v from %v: %v min of %.0f-%.0f", rows[i][0], rows[k][0], rows[i][1], got.Low/60, got.High/60)
		}
	}
}

// The kitchen's own trials replace the rule of thumb; it leaves no trace.
func TestTrialsReplaceTheRuleOfThumb(t *testing.T) {
	run := dry.Trial{Temperature: 45, Load: 0.3, Start: 0.88, End: 0.05}
	thumb, err := dry.Time(run, nil)
	require.NoError(t, err)
	var trials []dry.Trial
	for _, h := range []float64{20, 22, 24, 21, 23} {
		r := run
		r.Time = unit.Seconds(h * 3600)
		trials = append(trials, r)
		got, err := dry.Time(run, trials)
		require.NoError(t, err)
		sum := 0.0
		for _, x := range trials {
			sum += math.Log(float64(x.Time))
		}
		require.InEpsilon(t, math.Exp(sum/float64(len(trials))), got.Typical, 1e-9)
		require.Less(t, got.High/got.Low, thumb.High/thumb.Low)
	}
	got, err := dry.Time(run, trials)
	require.NoError(t, err)
	for _, r := range trials {
		assert.True(t, got.Contains(float64(r.Time)))
	}
}

// GAB at the layer: raisins hold 0.082 g/g there (Esmaiili Bazardeh & Esmaiili
// 2014); the fruit row must span it. And there and back.
func TestWaterActivity(t *testing.T) {
	assert.True(t, dry.Isotherms[dry.Fruit].Layer.Contains(0.082))
	for b, iso := range dry.Isotherms {
		last := 0.0
		for _, m := range []unit.Fraction{0.01, 0.03, 0.05, 0.1, 0.15, 0.2} {
			a := iso.Activity(m)
			require.True(t, a.Valid(), b)
			require.Greater(t, a.Typical, last)
			last = a.Typical
			x := float64(m / (1 - m))
			if a.Typical < 0.96 {
				require.InDelta(t, x, iso.Holds(iso.Layer.Typical, a.Typical), 1e-6)
			}
		}
	}
	// Dried fruit of 15 to 20 % moisture lies at 0.60 to 0.65 (table after Beuchat
	// 1981, secondary), dried vegetables at 0.2 to 0.3 with some 5 %.
	assert.True(t, dry.Isotherms[dry.Fruit].Activity(0.16).Overlaps(unit.Range{Low: 0.60, Typical: 0.62, High: 0.65}))
	assert.True(t, dry.Isotherms[dry.Leaf].Activity(0.05).Overlaps(unit.Range{Low: 0.2, Typical: 0.25, High: 0.3}))
}

func mustMake(t testing.TB, in dry.Input) dry.Answer {
	a, err := dry.Make(in)
	require.NoError(t, err)
	text := sentences(t)
	for _, n := range a.Notes {
		says(t, text, n)
	}
	return a
}

func codes(notes []note.Note) map[note.Code]note.Level {
	m := map[note.Code]note.Level{}
	for _, n := range notes {
		m[n.Code] = n.Level
	}
	return m
}

func leafPowder() dry.Input {
	return dry.Input{Parts: one(400, 0.877), Residual: 0.05, Load: 0.2, Tray: 30 * 40, Temperature: 45, Keep: []dry.Kept{"green", "aroma"}, Humidity: 0.55}
}

func TestMake(t *testing.T) {
	a := mustMake(t, leafPowder())
	assert.InDelta(t, 400*0.123/0.95, float64(a.Balance.Product), 1e-9)
	assert.InDelta(t, 2000, a.Area, 1e-9)
	assert.Equal(t, 2, a.Trays)
	assert.InDelta(t, 1.94, a.Layer, 0.01)
	assert.Equal(t, [2]unit.Celsius{35, 45}, [2]unit.Celsius{a.From, a.To})
	c := codes(a.Notes)
	for _, code := range []note.Code{dry.TimeThumb, dry.WindowKept, dry.WarmZone, dry.Spores, dry.Inhale, dry.StaysCrisp, dry.RoomDamp, dry.KeepAirtight} {
		assert.Contains(t, c, code)
	}
	assert.NotContains(t, c, dry.TooHot)

	want := leafPowder()
	want.Want, want.Loss = 30, 0.1
	b := mustMake(t, want)
	assert.InDelta(t, 30, float64(b.Balance.Product), 1e-9)
	assert.InDelta(t, 30/0.9*0.95/0.123, float64(b.Parts[0].Mass), 1e-9)
}

func TestCautions(t *testing.T) {
	for _, c := range []struct {
		name  string
		with  func(*dry.Input)
		code  note.Code
		level note.Level
	}{
		{"green and fast", func(i *dry.Input) { i.Keep = []dry.Kept{"green", "speed"} }, dry.WindowClash, note.Caution},
		{"hot for aroma", func(i *dry.Input) { i.Temperature = 65 }, dry.TooHot, note.Caution},
		{"cool", func(i *dry.Input) { i.Temperature = 30 }, dry.TooCool, note.Caution},
		{"meat", func(i *dry.Input) { i.Animal = true }, dry.WarmZone, note.Danger},
		{"egg", func(i *dry.Input) { i.Animal = true }, dry.AnimalFirst, note.Danger},
		{"konjac", func(i *dry.Input) { i.Swells = 0.01 }, dry.Swells, note.Danger},
		{"spirit", func(i *dry.Input) { i.Parts[0].Ethanol = 0.1 }, dry.Alcohol, note.Danger},
		{"thick", func(i *dry.Input) { i.Load = 1 }, dry.Thick, note.Caution},
		{"half dry", func(i *dry.Input) { i.Residual = 0.4 }, dry.NotShelf, note.Danger},
		{"moist", func(i *dry.Input) { i.Residual = 0.16 }, dry.MayMould, note.Danger},
		{"bone dry", func(i *dry.Input) { i.Residual = 0 }, dry.NearZero, note.Caution},
		{"bends", func(i *dry.Input) { i.Residual = 0.17 }, dry.Leathery, note.Reason},
		{"in between", func(i *dry.Input) { i.Residual = 0.09 }, dry.Softens, note.Reason},
	} {
		in := leafPowder()
		in.Parts = []dry.Part{{Mass: 400, Water: 0.8}}
		c.with(&in)
		got, ok := codes(mustMake(t, in).Notes)[c.code]
		assert.True(t, ok, c.name)
		assert.Equal(t, c.level, got, c.name)
	}
}

func TestRefusals(t *testing.T) {
	text := sentences(t)
	for _, c := range []struct {
		name  string
		with  func(*dry.Input)
		code  note.Code
		field string
	}{
		{"below zero water", func(i *dry.Input) { i.Residual = -0.01 }, dry.BelowZero, "residual"},
		{"residual above the start", func(i *dry.Input) { i.Residual = 0.9 }, dry.ResidualAbove, "residual"},
		{"residual not a number", func(i *dry.Input) { i.Residual = unit.Fraction(math.NaN()) }, dry.BadFigure, "residual"},
		{"nothing", func(i *dry.Input) { i.Parts = nil }, dry.NoParts, "parts"},
		{"all water", func(i *dry.Input) { i.Parts = one(100, 1) }, dry.NoSolids, "parts"},
		{"more than all water", func(i *dry.Input) { i.Parts = one(100, 1.2) }, dry.BadShare, "parts.0"},
		{"no mass", func(i *dry.Input) { i.Parts = one(0, 0.5) }, dry.BadFigure, "parts.0"},
		{"no load", func(i *dry.Input) { i.Load = 0 }, dry.BadFigure, "load"},
		{"lost it all", func(i *dry.Input) { i.Loss = 1 }, dry.BadFigure, "loss"},
		{"frozen", func(i *dry.Input) { i.Temperature = -5 }, dry.BadFigure, "temperature"},
		{"unknown wish", func(i *dry.Input) { i.Keep = []dry.Kept{"gold"} }, dry.BadFigure, "keep"},
		{"body", func(i *dry.Input) { i.Body = 9 }, dry.BadFigure, "body"},
		{"trial that gained water", func(i *dry.Input) {
			i.Trials = []dry.Trial{{Temperature: 50, Load: 0.2, Start: 0.5, End: 0.6, Time: 3600}}
		}, dry.BadTrial, "trials.0"},
		{"a tonne and more", func(i *dry.Input) { i.Want = 9e5 }, dry.BadFigure, "parts.0"},
	} {
		in := leafPowder()
		c.with(&in)
		_, err := dry.Make(in)
		var r *note.Refusal
		require.ErrorAs(t, err, &r, c.name)
		assert.Equal(t, c.code, r.Code, c.name)
		assert.Equal(t, c.field, r.Field, c.name)
		says(t, text, r.Note)
	}
}

func FuzzMake(f *testing.F) {
	f.Add(400.0, 0.88, 0.0, 0.05, 0.1, 30.0, 0.2, 1200.0, 45.0, 0.5, 3600.0, 0.9, uint8(0))
	f.Add(-1.0, 1.0, 2.0, math.NaN(), 1.0, math.Inf(1), 0.0, -5.0, 1e9, 3.0, 0.0, 0.0, uint8(77))
	f.Fuzz(func(t *testing.T, mass, water, ethanol, residual, loss, want, load, tray, at, humidity, took, start float64, flags uint8) {
		in := dry.Input{Form: dry.Form(flags % 3), Body: dry.Body(flags % 4), Residual: unit.Fraction(residual), Loss: unit.Fraction(loss), Want: unit.Mass(want),
			Parts: []dry.Part{{Mass: unit.Mass(mass), Water: unit.Fraction(water), Ethanol: unit.Fraction(ethanol)}},
			Load:  load, Tray: tray, Temperature: unit.Celsius(at), Humidity: unit.Fraction(humidity),
			Keep: []dry.Kept{dry.Windows[int(flags)%len(dry.Windows)].Kept}}
		if flags%2 == 1 {
			in.Trials = []dry.Trial{{Temperature: 50, Load: load, Start: unit.Fraction(start), End: unit.Fraction(residual), Time: unit.Seconds(took)}}
		}
		a, err := dry.Make(in)
		if err != nil {
			var r *note.Refusal
			if !errors.As(err, &r) {
				t.Fatal(err)
			}
			return
		}
		if !a.Time.Valid() || a.Time.Low < 0 || !a.Activity.Valid() || a.Activity.High > 0.98 || a.Trays < 0 {
			t.Fatalf("%+v gave %+v", in, a)
		}
		for _, x := range []float64{float64(a.Balance.Product), float64(a.Balance.Yield), a.Balance.Ratio, a.Area, a.Layer, float64(a.RoomMoisture)} {
			if !unit.Finite(x) || x < 0 {
				t.Fatalf("%+v gave %+v", in, a)
			}
		}
		if a.Balance.Off < -1e-9*a.Balance.Wet {
			t.Fatalf("water came from nowhere: %+v", a.Balance)
		}
	})
}

func ExampleDry() {
	b, err := dry.Dry([]dry.Part{{Name: "parsley pulp", Mass: 400, Water: 0.8771}}, 0.05, 0.10)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f g of powder from %.0f g: one gram from %.1f\n", float64(b.Product), float64(b.Wet), b.Ratio)
	// Output: 47 g of powder from 400 g: one gram from 8.6
}

// Fat holds no water: 5 g of water beside 47.5 g of fat stand in the other 47.5 g,
// so that the moisture is 5/52.5, as of a mix without the fat.
func TestFatHoldsNoWater(t *testing.T) {
	in := leafPowder()
	in.Keep = nil
	in.Parts = []dry.Part{{Mass: 200, Water: 1 - 2*47.5/200, Fat: 47.5 / 200}}
	fat, err := dry.Make(in)
	require.NoError(t, err)
	assert.InDelta(t, 47.5, float64(fat.Balance.Fat), 1e-9)
	lean := leafPowder()
	lean.Keep = nil
	lean.Parts, lean.Residual = []dry.Part{{Mass: 200, Water: 0.8}}, 5/52.5
	same, err := dry.Make(lean)
	require.NoError(t, err)
	assert.InDelta(t, same.Activity.Typical, fat.Activity.Typical, 1e-6)
	assert.InDelta(t, same.Activity.High, fat.Activity.High, 1e-6)
	assert.True(t, has(fat.Notes, dry.FatStays))
	assert.False(t, has(same.Notes, dry.FatStays))
	room := dry.Isotherms[dry.Leaf].Holds(dry.Isotherms[dry.Leaf].Layer.Typical, 0.55) * 47.5
	assert.InDelta(t, room/(95+room), float64(fat.RoomMoisture), 1e-9)

	in.Parts[0] = dry.Part{Mass: 100, Water: 0.1, Fat: 0.9}
	oil, err := dry.Make(in)
	require.NoError(t, err)
	assert.InDelta(t, 0.97, oil.Activity.Typical, 1e-6, "all its water stands loose")
	in.Residual = 0
	oil, err = dry.Make(in)
	require.NoError(t, err)
	assert.InDelta(t, 0, oil.Activity.High, 1e-6)
	in.Parts[0].Fat = 1.5
	_, err = dry.Make(in)
	assert.ErrorIs(t, err, note.Refuse("", dry.BadShare))
}

func has(notes []note.Note, c note.Code) bool {
	return slices.ContainsFunc(notes, func(n note.Note) bool { return n.Code == c })
}

// A drying sachet would take the water that lets a sheet bend.
func TestASheetIsKeptWithoutASachet(t *testing.T) {
	in := leafPowder()
	for form, want := range map[dry.Form]note.Code{dry.Powder: dry.KeepAirtight, dry.Crisp: dry.KeepAirtight, dry.Sheet: dry.KeepSheet} {
		in.Form = form
		a, err := dry.Make(in)
		require.NoError(t, err)
		for _, c := range []note.Code{dry.KeepAirtight, dry.KeepSheet} {
			assert.Equal(t, c == want, has(a.Notes, c), "%d %s", form, c)
		}
	}
}

// A rule of thumb is told with two digits.
func TestTheTimeIsToldAsRoughAsItIsKnown(t *testing.T) {
	a, err := dry.Make(leafPowder())
	require.NoError(t, err)
	for _, n := range a.Notes {
		if n.Code != dry.TimeThumb {
			continue
		}
		for _, arg := range n.Args {
			assert.InDelta(t, unit.Digits(arg.Value, 2), arg.Value, 1e-12, arg.Name)
		}
		return
	}
	t.Fatal("no time is told")
}

// A crisp with a pinch of gum in it may be eaten dry; the powder may not, nor what
// is hardly anything but gum. 0.3 % of 400 g wet are 2.3 % of 51.8 g dry.
func TestGumInACrispIsNoPowder(t *testing.T) {
	in := leafPowder()
	in.Swells = 0.003
	for _, c := range []struct {
		form  dry.Form
		gum   unit.Fraction
		want  note.Code
		level note.Level
	}{{dry.Powder, 0.003, dry.Swells, note.Danger}, {dry.Crisp, 0.003, dry.SwellsHeld, note.Caution}, {dry.Sheet, 0.003, dry.SwellsHeld, note.Caution},
		{dry.Crisp, 0.02, dry.Swells, note.Danger}} {
		in.Form, in.Swells = c.form, c.gum
		a, err := dry.Make(in)
		require.NoError(t, err)
		i := slices.IndexFunc(a.Notes, func(n note.Note) bool { return n.Code == c.want })
		if assert.GreaterOrEqual(t, i, 0, "%d %v", c.form, c.gum) {
			assert.Equal(t, c.level, a.Notes[i].Level)
		}
		assert.False(t, has(a.Notes, dry.Swells) && has(a.Notes, dry.SwellsHeld))
	}
	in.Swells = 0
	a, err := dry.Make(in)
	require.NoError(t, err)
	assert.False(t, has(a.Notes, dry.Swells) || has(a.Notes, dry.SwellsHeld))
	in.Swells = unit.Fraction(math.NaN())
	_, err = dry.Make(in)
	assert.ErrorIs(t, err, note.Refuse("", dry.BadShare))
}

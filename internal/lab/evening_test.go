package lab

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

// supper is the evening's part of the page with the lab behind it, and a book of
// an invented kitchen.
type supper struct {
	t       testing.TB
	lab     *Lab
	book    map[string]formula.Formula
	evening formula.Evening
	shelf   formula.Shelf
	shown   map[string]string
}

func resolve(name string) (string, bool) { return findAgent(name) }

// written reads lines of a recipe as the pan does.
func written(t testing.TB, name string, typed formula.Fields, parts ...[3]string) formula.Formula {
	t.Helper()
	f := formula.Fields{"name": name, "make": "liquid", "batch-liquid": "500", "batch-liquid-unit": "g"}
	liquids, doses := 0, 0
	for _, r := range parts {
		row, n := "part-", &liquids
		if strings.HasPrefix(r[0], "*") {
			row, n = "dose-", &doses
		}
		*n++
		at := row + strconv.Itoa(*n)
		f[at+"-name"], f[at+"-amount"], f[at+"-unit"] = strings.TrimPrefix(r[0], "*"), r[1], r[2]
	}
	for k, v := range typed {
		f[k] = v
	}
	reading := f.Read(resolve)
	require.False(t, reading.Bad(), "%v", reading.Notes)
	return reading.Formula
}

// larder is the book: a set gel, a fluid gel, a cream and a foam.
func larder(t testing.TB) map[string]formula.Formula {
	return map[string]formula.Formula{
		"tomato": written(t, "Clear tomato set", nil, [3]string{"tomato water", "1000", "g"}, [3]string{"salt", "8", "g"}, [3]string{"*agar", "0.9", "%"}),
		"quince": written(t, "Quince fluid gel", formula.Fields{"lab-method-target": "fluid"}, [3]string{"water", "250", "g"}, [3]string{"quince juice", "250", "g"},
			[3]string{"sugar", "40", "g"}, [3]string{"*agar", "3.5", "g"}, [3]string{"*low-acyl gellan", "0.6", "g"}),
		"bay": written(t, "Bay cream", formula.Fields{"lab-method-target": "set", "make": "portions", "portions": "10", "portion-size": "60", "spare": "10"}, [3]string{"cream", "300", "g"}, [3]string{"milk", "200", "g"},
			[3]string{"sugar", "50", "g"}, [3]string{"*gelatin", "5", "g"}),
		"leek": written(t, "Leek foam", formula.Fields{"lab-method-target": "siphon-cold", "lab-foam-gas": "1", "lab-foam-kind": "gelatin"},
			[3]string{"leek stock", "500", "g"}, [3]string{"*gelatin", "6", "g"}),
	}
}

func sitDown(t testing.TB, dishes ...formula.Dish) *supper {
	words := prepTexts(t)
	p := &supper{t: t, book: larder(t), shelf: benchShelf(), shown: map[string]string{}}
	p.shelf.Scales = append(p.shelf.Scales, formula.Scale{Step: 1, Max: 20_000})
	p.lab = New(phrase.Book{Find: func(key string) (string, bool) {
		s, ok := words[key]
		optional := strings.HasPrefix(key, "unit.") || strings.HasPrefix(key, "lab-method.do-") || strings.HasPrefix(key, "agent.")
		if !ok && !optional {
			t.Errorf("no text for %s", key)
		}
		return s, ok
	}})
	p.evening.Dishes = dishes
	p.lab.Open("evening", true)
	p.tell()
	return p
}

func (p *supper) tell() {
	p.t.Helper()
	working, err := formula.Working{Fields: pear(), Shelf: p.shelf}.Encode()
	require.NoError(p.t, err)
	require.NoError(p.t, p.lab.Working(string(working)))
	told := formula.Tonight{Evening: p.evening}
	for _, d := range p.evening.Dishes {
		f, ok := p.book[d.ID]
		if !ok || told.Body(d.ID) != nil {
			continue
		}
		body, err := f.Encode()
		require.NoError(p.t, err)
		told.Records = append(told.Records, formula.Record{ID: d.ID, Body: body})
	}
	message, err := told.Encode()
	require.NoError(p.t, err)
	require.NoError(p.t, p.lab.Evening(string(message)))
	p.take()
}

func (p *supper) typed(name, text string) {
	p.lab.Input(ename(name), text)
	p.take()
}

func (p *supper) take() {
	p.t.Helper()
	patch := p.lab.Patch()
	if patch == "" {
		return
	}
	var ops [][]string
	require.NoError(p.t, json.Unmarshal([]byte(patch), &ops))
	for _, op := range ops {
		for _, text := range op[2:] {
			if op[0] == "value" {
				break // as it was typed
			}
			assert.NotRegexp(p.t, unfilled, text, "%v", op)
			assert.Equal(p.t, strings.TrimSpace(text), text, "%v", op)
		}
		key := op[0] + " " + op[1]
		if op[0] == "set" {
			key += " " + op[2]
		}
		p.shown[key] = strings.Join(op[2:], "|")
	}
}

func (p *supper) text(id string) string { return p.shown["text "+ename(id)] }

func (p *supper) rows(list string) int {
	n, _ := strconv.Atoi(p.shown["rows "+ename(list)])
	return n
}

// figure is a figure's value in base units.
func (p *supper) figure(id string) float64 {
	p.t.Helper()
	value, _, _ := strings.Cut(p.shown["figure "+ename(id)], "|")
	v, err := strconv.ParseFloat(value, 64)
	require.NoError(p.t, err, id)
	return v
}

// need is the row of a thing that the shelf must hold, from 1.
func (p *supper) need(name string) int {
	p.t.Helper()
	for i := range p.rows("need") {
		if p.text(fmt.Sprintf("need-%d-name", i+1)) == name {
			return i + 1
		}
	}
	require.Fail(p.t, "not needed", name)
	return 0
}

func dish(id, name, covers, portion, u string) formula.Dish {
	return formula.Dish{ID: id, Name: name, Covers: covers, Portion: portion, Unit: u}
}

func fourDishes(covers string) []formula.Dish {
	return []formula.Dish{dish("tomato", "Clear tomato set", covers, "40", "g"), dish("quince", "Quince fluid gel", covers, "12", "g"),
		dish("bay", "Bay cream", covers, "60", "g"), dish("leek", "Leek foam", covers, "40", "ml")}
}

// The evening's sums are those of the sheets that each formula has by itself:
// the same code makes them, and nothing is lost or counted twice on the way.
func TestEveningSumsAreThoseOfTheSheets(t *testing.T) {
	r := rand.New(rand.NewPCG(38, 4))
	for range 25 {
		dishes := fourDishes("1")
		for i := range dishes {
			dishes[i].Covers = strconv.Itoa(1 + r.IntN(90))
			dishes[i].Portion = strconv.FormatFloat(5+r.Float64()*80, 'f', 1, 64)
		}
		r.Shuffle(len(dishes), func(i, j int) { dishes[i], dishes[j] = dishes[j], dishes[i] })
		p := sitDown(t, dishes[:1+r.IntN(4)]...)
		want := map[string]float64{}
		var order []string
		for _, c := range p.lab.evening().courses {
			if !c.fine() {
				continue // a foam for more covers than its siphons can serve
			}
			alone := c.s.course(c.dish, c.title, bodyOf(t, p.book[c.dish.ID]))
			require.Equal(t, len(c.sheet.Weights.Lines), len(alone.sheet.Weights.Lines))
			for _, line := range alone.sheet.Weights.Lines {
				name := alone.s.itemName(alone.p, line.ID)
				if _, ok := want[name]; !ok {
					order = append(order, name)
				}
				if line.Premix != nil { // the shelf must hold what goes into it, more than the dish has
					want[name] += max(float64(line.Wanted), float64(line.Premix.AgentIn.Shown))
					continue
				}
				want[name] += float64(line.Wanted)
			}
		}
		for _, name := range order {
			at := p.need(name)
			assert.Equal(t, want[name], p.figure(fmt.Sprintf("need-%d-amount", at)), name) // to the last bit
		}
	}
}

func bodyOf(t testing.TB, f formula.Formula) []byte {
	body, err := f.Encode()
	require.NoError(t, err)
	return body
}

// What the pan makes for the same covers is what the evening makes: 38 portions
// of 40 g are 1520 g of tomato water, salt and agar (mass balance, by hand:
// nothing is lost in this formula).
func TestEveningMakesWhatThePanWould(t *testing.T) {
	p := sitDown(t, dish("tomato", "Clear tomato set", "38", "40", "g"))
	assert.InDelta(t, 1520, p.figure("dish-1-make"), 1e-6)
	agar := p.figure(fmt.Sprintf("need-%d-amount", p.need("Agar")))
	assert.InDelta(t, 1520*0.009/1.009, agar, 1e-6, "0.9 g for each 100 g of liquid")
	salt := p.figure(fmt.Sprintf("need-%d-amount", p.need("Salt")))
	assert.InDelta(t, (1520-agar)*8/1008, salt, 1e-6)

	p = sitDown(t, dish("bay", "Bay cream", "10", "60", "g"))
	assert.InDelta(t, 660, p.figure("dish-1-make"), 1e-6, "a tenth to spare, as the formula says")
}

// A foam is sized by the siphon's section: base and chargers are its own.
func TestEveningSizesFoamsByTheSiphonsSection(t *testing.T) {
	p := sitDown(t, dish("leek", "Leek foam", "20", "40", "ml"))
	c := p.lab.evening().courses[0]
	require.True(t, c.fine(), c.cannot)
	f := p.book["leek"]
	fields := formula.FieldsOf(f, unit.Style{})
	fields["lab-foam-covers"], fields["lab-foam-portion"] = "20", "40"
	alone := newSiphon()
	s := &state{words: p.lab.state.words, page: New(p.lab.state.words).state.page, fields: fields, shelf: p.shelf}
	s.read()
	newKnow().tell(s)
	alone.show(s)
	require.NoError(t, alone.err)
	assert.InDelta(t, float64(alone.plan.Base), float64(c.s.batch.Yield), 0.5)
	assert.Equal(t, alone.plan.Chargers, c.foam.Chargers)
	assert.InDelta(t, float64(alone.plan.Chargers), p.figure(fmt.Sprintf("need-%d-amount", p.need("Chargers, 8\u00a0g"))), 0)
}

func TestEveningSaysWhatIsShort(t *testing.T) {
	p := sitDown(t, fourDishes("38")...)
	at := p.need("Agar")
	assert.Empty(t, p.shown["show "+ename(fmt.Sprintf("need-%d-short-box", at))], "nobody said how much is there")
	p.shelf.Agents = []formula.Owned{{Agent: "agar", Stock: formula.Stock{Known: true, Amount: 10}}}
	p.shelf.Siphons = []formula.Siphons{{Size: 500, Count: 1}, {Size: 1000, Count: 2}}
	p.shelf.Chargers = formula.Stock{Known: true, Amount: 1}
	p.tell()
	at = p.need("Agar")
	wanted := p.figure(fmt.Sprintf("need-%d-amount", at))
	assert.InDelta(t, wanted-10, p.figure(fmt.Sprintf("need-%d-short", at)), 1e-9)
	assert.Equal(t, "bad", p.shown["state "+ename(fmt.Sprintf("need-%d-item", at))])
	assert.Greater(t, p.figure(fmt.Sprintf("need-%d-short", p.need("Chargers, 8\u00a0g"))), 0.0)
	p.typed("there-agar", "1,5 ") // typed here wins over the shelf
	assert.InDelta(t, wanted-1.5, p.figure(fmt.Sprintf("need-%d-short", at)), 1e-9)
	p.typed("there-agar", "500")
	assert.Zero(t, p.figure(fmt.Sprintf("need-%d-short", at)))
	p.typed("there-agar", "a jar")
	assert.NotEmpty(t, p.shown["say "+ename("there-agar")])
	assert.InDelta(t, wanted-10, p.figure(fmt.Sprintf("need-%d-short", at)), 1e-9)
}

func TestEveningShowsClashesAndResolvesThem(t *testing.T) {
	p := sitDown(t, append(fourDishes("38"), dish("quince", "Quince fluid gel", "38", "12", "g"))...)
	alone := p.figure("begin")
	p.typed("rings", "1")
	clashes := ""
	for i := range p.rows("clash") {
		clashes += p.text(fmt.Sprintf("clash-%d-text", i+1)) + "\n"
	}
	assert.Contains(t, clashes, "Rings of the stove: up to 2 needed at once, 1 there")
	assert.Contains(t, clashes, "Quince fluid gel, no. 2")
	p.typed("rings", "")
	p.typed("cooks", "8")
	assert.LessOrEqual(t, p.figure("begin"), alone, "more hands never make it longer here")
	for i := range p.rows("clash") {
		assert.NotContains(t, p.text(fmt.Sprintf("clash-%d-text", i+1)), "pair of hands")
	}
	for _, bad := range []string{"0", "-2", "abc", "1e9", "NaN"} {
		p.typed("rings", bad)
		assert.NotEmpty(t, p.shown["say "+ename("rings")], bad)
		assert.Positive(t, p.figure("begin"), bad)
	}
}

// Two foams that want the same siphon at the same time.
func TestEveningSiphonClash(t *testing.T) {
	p := sitDown(t, dish("leek", "Leek foam", "6", "40", "ml"), dish("leek", "Leek foam", "6", "40", "ml"))
	p.shelf.Siphons = []formula.Siphons{{Size: 500, Count: 1}}
	p.tell()
	clashes := ""
	for i := range p.rows("clash") {
		clashes += p.text(fmt.Sprintf("clash-%d-text", i+1)) + "\n"
	}
	assert.Contains(t, clashes, "Siphons: 2 needed at once, 1 there")
	assert.InDelta(t, 1, p.figure(fmt.Sprintf("need-%d-short", p.need("Siphon of 0.5\u00a0l"))), 0)
	p.shelf.Siphons[0].Count = 2
	p.tell()
	for i := range p.rows("clash") {
		assert.NotContains(t, p.text(fmt.Sprintf("clash-%d-text", i+1)), "siphon")
	}
}

func TestEveningClock(t *testing.T) {
	p := sitDown(t, fourDishes("38")...)
	p.lab.Do("lab-evening-clock", 12*60+1)
	p.typed("service", "1930")
	assert.Contains(t, p.shown["figure "+ename("begin")], ":")
	p.typed("service", "9:00")
	assert.Contains(t, p.shown["say "+ename("service")], "in the past")
	assert.Positive(t, p.figure("begin"), "the plan stands all the same")
	p.typed("day", "1")
	assert.Equal(t, "|", p.shown["say "+ename("service")], "tomorrow at nine is not past")
	p.typed("service", "half past")
	assert.NotEmpty(t, strings.Trim(p.shown["say "+ename("service")], "|"))
}

// How long it takes in all stands beside the time of day at which to begin.
func TestEveningTimesAgreeToTheMinute(t *testing.T) {
	p := sitDown(t, dish("tomato", "Clear tomato set", "38", "12", "g"))
	p.book["tomato"] = written(t, "Clear tomato set", formula.Fields{editName(1): "insert\t\town-1", wordsName("own-1", ownBasis): "drip", minutesName("own-1"): "303"},
		[3]string{"tomato water", "1000", "g"}, [3]string{"*agar", "0.9", "%"})
	p.tell()
	p.typed("service", "19:30")
	at, ok := readClock(strings.Split(p.shown["figure "+ename("begin")], "|")[1])
	require.True(t, ok, p.shown["figure "+ename("begin")])
	total := 19*60 + 30 - at
	require.NotZero(t, total%5, "one that would be rounded")
	assert.Contains(t, p.shown["figure "+ename("total")], fmt.Sprintf("%d\u00a0h %d\u00a0min", total/60, total%60))
}

// The sentence of an evening without a formula leads to where they are picked.
func TestEveningEmptyLeadsToThePicker(t *testing.T) {
	raw, err := os.ReadFile("../../web/parts/lab/evening.html")
	require.NoError(t, err)
	at, picker := strings.Index(string(raw), `id="lab-evening-empty"`), strings.Index(string(raw), `name="evening-pick"`)
	require.Positive(t, at)
	require.Less(t, at, picker)
	for language, below := range map[string]string{"en": " below;", "fr": " ci-dessous", "es": " abajo;", "de": "Unten "} {
		assert.Contains(t, textsOf(t, language)["lab-evening.empty"], below)
	}
}

// A clash of a few minutes is said of nearly every step, and nobody acts on it.
func TestEveningTellsWhatMovesFar(t *testing.T) {
	p := sitDown(t, append(fourDishes("38"), dish("quince", "Quince fluid gel", "38", "12", "g"))...)
	few, far := 0, 0
	e, ok := p.lab.sections[len(p.lab.sections)-1].(*evening)
	require.True(t, ok)
	for i, slot := range e.joined.Timeline.Slots {
		moved := p.text(fmt.Sprintf("slot-%d-moved", i+1))
		if slot.Moved >= 10 {
			far++
			assert.Contains(t, moved, "earlier than alone")
		} else {
			assert.Empty(t, moved, "%v", slot.Moved)
		}
		if slot.Moved >= 1 && slot.Moved < 10 {
			few++
		}
	}
	assert.Positive(t, few)
	assert.Positive(t, far)
}

// A hot mix that would stand and set because the hands are elsewhere is named.
func TestEveningTellsWhatWouldSetInItsPan(t *testing.T) {
	var dishes []formula.Dish
	for range 6 {
		dishes = append(dishes, dish("quince", "Quince fluid gel", "38", "12", "g"))
	}
	p := sitDown(t, dishes...)
	said := func() string {
		text := ""
		for i := range p.rows("time-note") {
			text += p.text(fmt.Sprintf("time-note-%d-text", i+1)) + "\n"
		}
		return text
	}
	assert.Contains(t, said(), "it keeps for")
	p.typed("cooks", "12")
	p.typed("rings", "12")
	p.typed("blenders", "12")
	assert.NotContains(t, said(), "it keeps for")
}

func TestEveningBadInputIsNamedAndNothingIsLost(t *testing.T) {
	for name, c := range map[string]struct{ covers, portion, unit, field, want string }{
		"none":          {"", "40", "g", "covers", "For how many?"},
		"nobody":        {"0", "40", "g", "covers", "For nobody"},
		"words":         {"abc", "40", "g", "covers", ""},
		"huge":          {"1000000", "40", "g", "covers", "5000"},
		"an exponent":   {"1e9", "40", "g", "covers", ""},
		"negative":      {"-3", "40", "g", "covers", ""},
		"nothing each":  {"38", "0", "g", "portion", "Nothing each?"},
		"no portion":    {"38", "", "g", "portion", "How much does each get?"},
		"words each":    {"38", "a spoon", "g", "portion", ""},
		"a vat":         {"38", "90000", "ml", "portion", "2"},
		"minus":         {"38", "-1", "g", "portion", ""},
		"not a number":  {"38", "NaN", "g", "portion", ""},
		"another unit":  {"38", "40 °C", "g", "portion", ""},
		"unit unknown":  {"38", "4 cups", "spoons", "portion", ""},
		"much too much": {"99999999999999999999", "40", "g", "covers", ""},
	} {
		t.Run(name, func(t *testing.T) {
			p := sitDown(t, dish("tomato", "Clear tomato set", c.covers, c.portion, c.unit), dish("bay", "Bay cream", "4", "60", "g"))
			said := strings.Split(p.shown["say "+ename("dish-1-"+c.field)], "|")
			require.NotEmpty(t, said[0])
			assert.Contains(t, said[0], c.want)
			assert.Equal(t, c.covers, p.shown["value "+ename("dish-1-covers")])
			assert.Contains(t, p.text("left-out"), "Clear tomato set")
			assert.InDelta(t, 264, p.figure("dish-2-make"), 1e-6, "the others stand")
			assert.Contains(t, p.text("sheet-left-out"), "Clear tomato set")
			p.typed("dish-1-covers", "2")
			p.typed("dish-1-portion", "50")
			p.typed("dish-1-unit", "g")
			assert.InDelta(t, 100, p.figure("dish-1-make"), 1e-6)
			assert.Empty(t, p.text("left-out"))
		})
	}
	p := sitDown(t, dish("tomato", "Clear tomato set", "1,5", "40", "g"))
	assert.Contains(t, p.shown["say "+ename("dish-1-covers")], "Counted for 2")
	assert.InDelta(t, 80, p.figure("dish-1-make"), 1e-6)
}

func TestEveningNamesWhatTheBookHasNoMore(t *testing.T) {
	p := sitDown(t, dish("gone", "Woodruff ice", "38", "40", "g"), dish("bay", "Bay cream", "4", "60", "g"))
	assert.Contains(t, p.text("dish-1-cannot"), "no longer")
	assert.Contains(t, p.text("dish-1-near"), "deleted")
	assert.Equal(t, "Woodruff ice", p.text("dish-1-name"))
	assert.Empty(t, p.shown["show "+ename("dish-1-open")])
	assert.InDelta(t, 264, p.figure("dish-2-make"), 1e-6)
}

func TestEveningTakesAFormulaTwice(t *testing.T) {
	p := sitDown(t, dish("bay", "Bay cream", "4", "60", "g"), dish("bay", "Bay cream", "10", "30", "g"))
	assert.Equal(t, "Bay cream, no. 2", p.text("dish-2-name"))
	gelatin := p.need("Gelatin")
	assert.InDelta(t, (264+330)*5.0/555, p.figure(fmt.Sprintf("need-%d-amount", gelatin)), 1e-6)
	assert.Positive(t, p.rows("slot"))
}

// A foam that cannot be has its reason and the nearest that can.
func TestEveningPassesOnWhatTheSiphonSays(t *testing.T) {
	p := sitDown(t, dish("leek", "Leek foam", "4000", "60", "ml"))
	assert.Contains(t, p.text("dish-1-cannot"), "of base is too much: the shelf holds")
	assert.Regexp(t, `^What works: [1-9]\d{1,2} covers\.$`, p.text("dish-1-near"))
	f := p.book["leek"]
	delete(f.Lab, "lab-foam-gas")
	p.book["leek"] = f
	p.evening.Dishes[0].Covers = "6"
	p.tell()
	assert.Contains(t, p.text("dish-1-cannot"), "No advice for this gas. Only food-grade N2O (E 942)", "nobody has named one")
	assert.Equal(t, "Open it, correct it and save it; the evening follows.", p.text("dish-1-near"))
}

func TestEveningIsEmptyAtFirst(t *testing.T) {
	p := sitDown(t)
	assert.Equal(t, "1", p.shown["show "+ename("empty")])
	assert.Empty(t, p.shown["show "+ename("answer")])
	require.Error(t, p.lab.Evening("{"))
	require.Error(t, p.lab.Evening(`{"evening":{"form":1},"records":[]}`))
}

// Every formula is worked out once for each change of its own.
func TestEveningKeepsWhatHasNotChanged(t *testing.T) {
	p := sitDown(t, fourDishes("38")...)
	before := p.lab.evening().courses
	p.typed("dish-2-covers", "20")
	after := p.lab.evening().courses
	assert.Same(t, before[0], after[0])
	assert.NotSame(t, before[1], after[1])
	assert.Same(t, before[3], after[3])
}

func FuzzEvening(f *testing.F) {
	f.Add("38", "40", "g", "19:30", "4", "10")
	f.Add("1,5", "0,5 kg", "ml", "25:99", "-1", "NaN")
	f.Add("1e308", "∞", "°C", "", "0", "x")
	f.Add("\x86", "0", "0", "0", "0", "0")
	f.Fuzz(func(t *testing.T, covers, portion, u, service, rings, there string) {
		for _, text := range []*string{&covers, &portion, &u, &service, &rings, &there} {
			*text = strings.ToValidUTF8(*text, "\uFFFD") // as a browser hands its strings on
		}
		p := sitDown(t, dish("bay", "Bay cream", covers, portion, u), dish("leek", "Leek foam", portion, covers, u))
		p.typed("service", service)
		p.typed("rings", rings)
		p.typed("there-gelatin", there)
		p.typed("dish-9-covers", covers)
		p.typed("dish-x-covers", covers)
	})
}

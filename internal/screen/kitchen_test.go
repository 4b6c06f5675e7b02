package screen

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

// english reads the texts that the page starts with.
func english(t testing.TB) map[string]string {
	t.Helper()
	all := textsIn(t, "../../web/text/en")
	require.NotEmpty(t, all)
	return all
}

func textsIn(t testing.TB, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	names, err := filepath.Glob(filepath.Join(folder, "*.json"))
	require.NoError(t, err)
	for _, name := range names {
		raw, err := os.ReadFile(name)
		require.NoError(t, err)
		part := map[string]string{}
		require.NoError(t, json.Unmarshal(raw, &part), name)
		maps.Copy(all, part)
	}
	return all
}

// figure is what a computed figure holds.
type figure struct{ value, text string }

// paper is the page, as the patches leave it. It does what the page's binder
// does; what an op may name is checked against the HTML elsewhere.
type paper struct {
	t       testing.TB
	figures map[string]figure
	texts   map[string]string
	hidden  map[string]bool // of those that an op has shown or hidden
	states  map[string]string
	says    map[string]string
	hints   map[string]bool // a sentence that is no refusal
	invalid map[string]bool
	values  map[string]string
	rows    map[string]int
	choices map[string][]string
	focus   string
	named   map[string]bool // every op and place that was ever used
	strict  bool            // complain about sentences with holes
}

func newPaper(t testing.TB) *paper {
	return &paper{
		t: t, figures: map[string]figure{}, texts: map[string]string{}, hidden: map[string]bool{}, states: map[string]string{},
		says: map[string]string{}, hints: map[string]bool{}, invalid: map[string]bool{}, values: map[string]string{},
		rows: map[string]int{}, choices: map[string][]string{}, named: map[string]bool{}, strict: true,
	}
}

var rowName = regexp.MustCompile(`^([a-z]+)-([0-9]+)-[a-z-]+$`)

// there reports whether a place stands on the page: those in rows do only while
// their row does.
func (p *paper) there(name string) bool {
	m := rowName.FindStringSubmatch(name)
	if m == nil {
		return true
	}
	n, _ := strconv.Atoi(m[2])
	rows, isList := p.rows[m[1]]
	return !isList || n <= rows
}

// holed are sentences that were not filled in, or have no text at all.
var holed = regexp.MustCompile(`\{[a-z0-9-]+\}|\b(note|unit|agent|state|undo|also|kind)\.[a-z][a-z0-9.-]*`)

func (p *paper) sentence(text string) string {
	if p.strict && holed.MatchString(text) {
		p.t.Errorf("a sentence with a hole in it: %q", text)
	}
	return text
}

func (p *paper) apply(patch string) {
	p.t.Helper()
	if patch == "" {
		return
	}
	var list [][]string
	require.NoError(p.t, json.Unmarshal([]byte(patch), &list), "the patch is not JSON")
	for _, op := range list {
		require.GreaterOrEqual(p.t, len(op), 2, op)
		p.op(op[0], op[1], op[2:])
	}
}

func (p *paper) op(op, name string, rest []string) {
	p.named[op+" "+name] = true
	if op == "rows" {
		p.setRows(name, rest[0])
		return
	}
	if !p.there(name) {
		return
	}
	switch op {
	case "figure":
		if v, err := strconv.ParseFloat(rest[0], 64); rest[0] != "" && (err != nil || math.IsNaN(v) || math.IsInf(v, 0)) {
			p.t.Errorf("figure %s is %q", name, rest[0])
		}
		p.figures[name] = figure{rest[0], p.sentence(rest[1])}
	case "text":
		p.texts[name] = p.sentence(rest[0])
	case "show":
		p.hidden[name] = rest[0] == ""
	case "state":
		p.states[name] = rest[0]
	case "say":
		p.says[name], p.hints[name] = p.sentence(rest[0]), rest[1] == "hint"
	case "invalid":
		p.invalid[name] = rest[0] != ""
	case "value":
		p.values[name] = rest[0]
	case "choices":
		p.choices[name] = rest
	case "focus":
		p.focus = name
	case "set":
		p.texts[name+" "+rest[0]] = p.sentence(rest[1])
	default:
		p.t.Errorf("op %q is not known", op)
	}
}

// setRows makes or removes rows; what stood in one that goes is gone.
func (p *paper) setRows(list, count string) {
	n, err := strconv.Atoi(count)
	require.NoError(p.t, err)
	p.rows[list] = n
	gone := func(name string) bool { return !p.there(name) }
	maps.DeleteFunc(p.figures, func(name string, _ figure) bool { return gone(name) })
	for _, m := range []map[string]string{p.texts, p.states, p.says, p.values} {
		maps.DeleteFunc(m, func(name string, _ string) bool { return gone(name) })
	}
	for _, m := range []map[string]bool{p.hidden, p.hints, p.invalid} {
		maps.DeleteFunc(m, func(name string, _ bool) bool { return gone(name) })
	}
}

// kitchen is a page with a person before it: a fixed clock, ids that count, and
// a store in memory whose work waits until it is let go.
type kitchen struct {
	catalogue     map[string]string
	wantsLabTexts int // times that the lab's texts were asked for

	t      testing.TB
	app    *App
	paper  *paper
	store  *book.Memory
	time   int64
	east   int // of Greenwich, in seconds
	ids    int
	hold   bool // the store's work waits
	queue  []func(context.Context)
	drafts int
	asked  int
	at     string
	spoken string
	lab    string

	evening string // what the lab was last told of the evening
}

// Now implements [Env].
func (k *kitchen) Now() int64 { return k.time }

// NewID implements [Env].
func (k *kitchen) NewID() string { k.ids++; return fmt.Sprintf("id-%04d", k.ids) }

// Date implements [Env].
func (k *kitchen) Date(ms int64) string {
	if ms == 0 {
		return ""
	}
	return time.UnixMilli(ms).UTC().Format("2006-01-02")
}

// Day implements [Env].
func (k *kitchen) Day(ms int64) string {
	return time.UnixMilli(ms).In(time.FixedZone("", k.east)).Format("2006-01-02")
}

// Link implements [Env].
func (k *kitchen) Link() string { return "https://kitchen.test/" }

// Go implements [Env].
func (k *kitchen) Go(work func(context.Context)) { k.queue = append(k.queue, work) }

// KeepDraft implements [Env].
func (k *kitchen) KeepDraft() { k.drafts++ }

// AskToKeep implements [Env].
func (k *kitchen) AskToKeep() { k.asked++ }

// Visit implements [Env].
func (k *kitchen) Visit(place string) { k.at = place }

// Speak implements [Env].
func (k *kitchen) Speak(text string) { k.spoken = k.paper.sentence(text) }

// Lab implements [Env].
func (k *kitchen) Lab(kind, text string) {
	if kind == "evening" {
		k.evening = text
	} else {
		k.lab = text
	}
}

// LabTexts implements [Env].
func (k *kitchen) LabTexts() { k.wantsLabTexts++ }

// firstDay is 2026-05-04, 12:00 UTC.
const firstDay = 1777896000000

// someone opens the page for the first time, with a store that works.
func someone(t testing.TB) *kitchen { return returning(t, book.NewMemory(), "") }

// returning opens the page with a store and a draft that were left.
func returning(t testing.TB, store *book.Memory, draft string) *kitchen {
	t.Helper()
	k := opening(t, store, draft)
	k.app.Store(t.Context(), book.New(store, Checks()), "")
	k.show()
	return k
}

// opening is returning before the store is open.
func opening(t testing.TB, store *book.Memory, draft string) *kitchen {
	t.Helper()
	return openingOn(t, newPaper(t), store, draft)
}

func openingOn(t testing.TB, paper *paper, store *book.Memory, draft string) *kitchen {
	t.Helper()
	texts := english(t)
	k := &kitchen{t: t, paper: paper, store: store, time: firstDay, at: "untouched"}
	k.catalogue = texts
	words := phrase.Book{Find: func(key string) (string, bool) { s, ok := texts[key]; return s, ok }, Style: unit.Style{}}
	k.app = New(k, words)
	k.app.Begin(draft)
	k.show()
	return k
}

// show carries the patch to the page, and lets the store do its work.
func (k *kitchen) show() {
	k.t.Helper()
	k.paper.apply(k.app.Patch())
	if !k.hold {
		k.settle()
	}
}

// settle lets the store's work go on until there is none.
func (k *kitchen) settle() {
	k.t.Helper()
	for len(k.queue) > 0 {
		work := k.queue[0]
		k.queue = k.queue[1:]
		work(k.t.Context())
		k.paper.apply(k.app.Patch())
	}
}

// typing types into inputs: name, text, name, text …
func (k *kitchen) typing(pairs ...string) {
	k.t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		k.paper.values[pairs[i]] = pairs[i+1]
		k.app.Input(pairs[i], pairs[i+1])
		k.show()
	}
}

func (k *kitchen) press(what string, row ...int) {
	k.t.Helper()
	n := 0
	if len(row) > 0 {
		n = row[0]
	}
	if what == "undo" {
		k.time += slipMs // nobody reads an offer faster
	}
	k.app.Do(what, n)
	k.show()
}

func (k *kitchen) enter(name, text string) {
	k.t.Helper()
	k.app.Enter(name, text)
	k.show()
}

func (k *kitchen) goTo(hash string) {
	k.t.Helper()
	k.app.GoTo(hash)
	k.show()
}

// figure is the value of a figure on the page.
func (k *kitchen) figure(name string) float64 {
	k.t.Helper()
	v, err := strconv.ParseFloat(k.paper.figures[name].value, 64)
	require.NoError(k.t, err, "figure %s is %+v", name, k.paper.figures[name])
	return v
}

// text is the text of a figure with plain spaces.
func (k *kitchen) text(name string) string {
	return strings.ReplaceAll(k.paper.figures[name].text, "\u00a0", " ")
}

// shown reports whether an element is shown, by the HTML or by a patch.
func (k *kitchen) shown(id string) bool {
	if hidden, told := k.paper.hidden[id]; told {
		return !hidden
	}
	hidden, there := readHTML(k.t).ids[numberless(id)]
	require.True(k.t, there, "no element #%s", id)
	return !hidden
}

func (k *kitchen) saveState() string { return k.paper.texts["save-state"] }

// names are the names of the entries in the book's list.
func (k *kitchen) names() []string {
	names := []string{}
	for i := range k.paper.rows["entry"] {
		names = append(names, k.paper.texts["entry-"+strconv.Itoa(i+1)+"-name"])
	}
	return names
}

// twoAgents empties the pan and types the recipe that much of the tests use:
// 200 g of liquid with 2 g of one agent and 1 g of another.
func (k *kitchen) twoAgents() {
	k.t.Helper()
	k.press("new")
	k.press("add-dose")
	k.typing("name", "Quince gel", "part-1-name", "quince juice", "part-1-amount", "200",
		"dose-1-name", "agar", "dose-1-amount", "2", "dose-2-name", "xanthan", "dose-2-amount", "1", "batch-liquid", "350")
}

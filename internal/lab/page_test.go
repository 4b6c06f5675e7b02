package lab

import (
	"encoding/json"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
)

var english map[string]string // read once

// texts is the English catalogue, all files of it.
func texts(t testing.TB) map[string]string {
	t.Helper()
	if english != nil {
		return english
	}
	all := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS("../../web/text/en"), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		raw, err := os.ReadFile("../../web/text/en/" + name)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(raw, &all), name)
		return nil
	}))
	english = all
	return all
}

// page is the page as a person sees it, with the lab behind it.
type page struct {
	t      testing.TB
	lab    *Lab
	places map[string][]string // what stands at each op and name
	fields formula.Fields
	shelf  formula.Shelf
	tried  []formula.Tried
}

// open shows the swap's part of a page with a formula. A text that the
// catalogue lacks, or an argument that nothing fills, fails the test.
func open(t testing.TB, fields formula.Fields) *page {
	t.Helper()
	all := texts(t)
	find := func(key string) (string, bool) {
		s, ok := all[key]
		if !ok && !strings.HasPrefix(key, "unit.") {
			t.Errorf("no text for %s", key)
		}
		return s, ok
	}
	p := &page{t: t, lab: New(phrase.Book{Find: find}), places: map[string][]string{}, fields: fields, shelf: formula.UsualShelf()}
	p.lab.Open("swap", true)
	p.tell()
	return p
}

// tell sends the working formula, as the pan does after every change.
func (p *page) tell() {
	p.t.Helper()
	body, err := formula.Working{Fields: p.fields, Shelf: p.shelf, Tried: p.tried}.Encode()
	require.NoError(p.t, err)
	require.NoError(p.t, p.lab.Working(string(body)))
	p.update()
}

// update takes the lab's patch.
func (p *page) update() {
	p.t.Helper()
	patch := p.lab.Patch()
	if patch == "" {
		return
	}
	var ops [][]string
	require.NoError(p.t, json.Unmarshal([]byte(patch), &ops))
	for _, op := range ops {
		at := op[0] + " " + op[1]
		if op[0] == "set" {
			at += " " + op[2]
			assert.NotContains(p.t, op[3], "NaN", at)
			assert.NotContains(p.t, op[3], "Inf", at)
		}
		p.places[at] = op[2:]
		for _, text := range op[2:] {
			assert.NotRegexp(p.t, `\{[a-z0-9]+\}|NaN|Inf`, text, at)
		}
	}
}

func (p *page) typed(name, value string) {
	p.t.Helper()
	p.lab.Input(name, value)
	p.fields[name] = value
	p.tell()
}

func (p *page) press(what string, row int) {
	p.t.Helper()
	p.lab.Do(what, row)
	p.update()
}

func (p *page) text(id string) string {
	if v := p.places["text "+id]; len(v) > 0 {
		return v[0]
	}
	return ""
}

// set is what an attribute was set to.
func (p *page) set(id, attribute string) string {
	if v := p.places["set "+id+" "+attribute]; len(v) > 1 {
		return v[1]
	}
	return ""
}

func (p *page) visible(id string) bool {
	v := p.places["show "+id]
	return len(v) > 0 && v[0] == "1"
}

func (p *page) figure(name string) (float64, bool) {
	v := p.places["figure "+name]
	if len(v) == 0 || v[0] == "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(v[0], 64)
	require.NoError(p.t, err)
	return x, true
}

func (p *page) rows(list string) int {
	v := p.places["rows "+list]
	if len(v) == 0 {
		return 0
	}
	n, err := strconv.Atoi(v[0])
	require.NoError(p.t, err)
	return n
}

// offers names what is offered.
func (p *page) offers() []string {
	var names []string
	for i := range p.rows("lab-swap-offer") {
		names = append(names, p.text("lab-swap-offer-"+strconv.Itoa(i+1)+"-name"))
	}
	return names
}

// rowOf is the row of an offer, from 1.
func (p *page) rowOf(name string) int {
	p.t.Helper()
	for i, n := range p.offers() {
		if n == name {
			return i + 1
		}
	}
	require.Fail(p.t, "not offered", "%s among %v", name, p.offers())
	return 0
}

// change is the change that the lab asks of the pan.
func (p *page) change() (formula.Change, bool) {
	p.t.Helper()
	text := p.lab.Change()
	if text == "" {
		return formula.Change{}, false
	}
	c, err := formula.DecodeChange(text)
	require.NoError(p.t, err)
	return c, true
}

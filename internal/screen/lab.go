package screen

import (
	"maps"

	"tremblant/internal/formula"
)

// The lab is a program of its own, loaded when somebody opens one of its parts:
// it reads recipes, swaps agents, sizes siphons and writes methods. The pan
// tells it the working formula after every change; it may ask the pan to take
// other fields.

// LabOn notes that the lab is there and tells it the working formula.
func (a *App) LabOn() {
	a.labOn = true
	a.tellLab()
	a.evening.offer(a.book.index)
	a.evening.tell()
}

// tellLab sends the working formula to the lab, if it is there.
func (a *App) tellLab() {
	if !a.labOn {
		return
	}
	a.pan.fields = a.onDay(a.pan.fields)
	body, err := formula.Working{Fields: a.pan.fields, Shelf: a.shelf.own, Comma: a.words.Style.Comma,
		Link: a.env.Link(), Tried: a.learned.tried(a.pan.reading.Formula)}.Encode()
	if err == nil {
		a.env.Lab("working", string(body))
	}
}

// LabChange takes the fields that the lab asks for; what was typed into others since
// the lab was last told stays, see [formula.Change.Onto]. It is a change of the open
// formula, which can be taken back, and a save of it keeps the version before.
func (a *App) LabChange(text string) {
	c, err := formula.DecodeChange(text)
	if err != nil {
		return
	}
	a.changePan(c.Onto(a.pan.fields), c.What)
}

// changePan puts fields into the pan as a change of the open formula, which can
// be taken back.
func (a *App) changePan(fields formula.Fields, what string) {
	before := maps.Clone(a.pan.fields)
	a.pan.fill(fields)
	a.pan.touched()
	a.pan.offerBefore(what, before)
}

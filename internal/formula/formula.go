// Package formula holds the record that a cook saves: a liquid, the doses in it
// and how much to make; with its readers: typed fields, pasted lines, links and
// the stored form.
//
// A formula keeps amounts as they were written (350 ml stays 350 ml, 1.5 %
// stays 1.5 % of the liquid); package gel computes batches from it.
package formula

import (
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// Bounds of a formula. They are far above what a kitchen writes, and keep a
// hostile file or link from filling the page.
const (
	MaxParts    = 24      // ingredients of the liquid
	MaxDoses    = 12      // agents
	MaxTags     = 12      // tags
	MaxName     = 120     // characters of a name or a tag
	MaxNotes    = 4000    // characters of the notes
	MaxUnread   = 40      // kept lines that were not understood
	MaxMass     = 1e6     // grams: a tonne
	MaxPortions = 100_000 // portions of one batch
	MaxMinutes  = 1440    // minutes at the boil: a day
)

// Formula is a liquid with doses of agents, and what to make of it.
type Formula struct {
	Name    string
	Tags    []string
	Dish    string // that it is made for; "" when not said
	Station string // of the kitchen where it is made; "" when not said
	Notes   string
	Parts   []Part       // the liquid, in the order written; may be empty when all doses are shares
	Density unit.Density // of the liquid, g/ml; 0 when not known
	Doses   []Dose
	Texture string   // wanted texture, a code of the agent catalogue; "" when not said
	Make    Make     // the batch wanted
	Unread  []string // pasted lines that were not understood, kept word for word

	// Lab is what was typed into the inputs of the lab, whose names begin with
	// "lab-", as it was typed.
	Lab Fields

	// Extra are members of the stored form that this program does not know:
	// a newer one wrote them, and they are handed on unchanged.
	Extra []wire.Member
}

// Part is one ingredient of the liquid.
type Part struct {
	Name   string
	Amount unit.Amount // mass or volume
}

// Basis says what a dose given as a share is a share of.
type Basis string

// The bases. A dose written in grams or sheets has none.
const (
	OnLiquid Basis = "liquid" // grams per 100 g of liquid, the kitchen's basis
	OnBatch  Basis = "batch"  // grams per 100 g of everything in the pan, the agents included
)

// Dose is one agent with its amount.
type Dose struct {
	Agent  string // id in the agent catalogue; "" when the name is not known there
	Name   string // as written
	Amount unit.Amount
	Basis  Basis
	Grade  float64 // labelled strength as the agent defines it (gelatin: Bloom); 0 when not said
}

// Share reports whether the dose is written as a share and not in grams or sheets.
func (d Dose) Share() bool { return d.Amount.Kind() == unit.KindDose }

// Mode is how the size of the batch is asked for.
type Mode string

// The modes.
const (
	ForLiquid   Mode = "liquid"   // so much liquid is in the pan
	ForPortions Mode = "portions" // so many portions are wanted, after all losses
	ForLeft     Mode = "left"     // so much of one ingredient is left
)

// Make is the batch wanted.
type Make struct {
	Mode     Mode
	Liquid   unit.Amount // ForLiquid: mass or volume
	Portions float64     // ForPortions: count
	Portion  unit.Amount // ForPortions: size of one, mass or volume
	Spare    unit.Fraction
	LeftOf   Ref         // ForLeft: which ingredient
	Left     unit.Amount // ForLeft: how much of it
	Losses   Losses
}

// Ref points at a part (Part true) or a dose of the formula, from 0.
type Ref struct {
	Part  bool
	Index int
}

// Losses are what does not reach the plate, in the order in which they happen.
// Each is a share of what comes to that step or a weight; zero is none.
type Losses struct {
	Boil    Boil
	Blender unit.Amount
	Sieve   unit.Amount
	Bottle  unit.Amount
}

// Boil is the water that leaves in the boil: a weight, a share of what is in the
// pan, or minutes at a stated rate.
type Boil struct {
	Amount  unit.Amount // g or %; ignored when Minutes is set
	Minutes float64
	Rate    float64 // grams per minute, with Minutes
}

// None reports whether nothing boils off.
func (b Boil) None() bool { return b.Minutes == 0 && b.Amount.Value == 0 }

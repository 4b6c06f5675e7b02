package formula

import (
	"maps"
	"strconv"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// makeWanted reads what to make. Only the inputs of the chosen mode can be
// wrong; those of the other modes keep their text for when a person comes back.
func (r *reader) makeWanted() Make {
	m := Make{Mode: Mode(r.fields["make"])}
	switch m.Mode {
	case ForPortions:
		m.Portions = r.figure("portions", limits{high: MaxPortions, unit: unit.One, needed: true})
		m.Portion = r.amount("portion-size", limits{needed: true}, unit.KindMass, unit.KindVolume)
		m.Spare = unit.Percent(r.figure("spare", limits{high: 300, unit: unit.PercentOf}))
	case ForLeft:
		m.LeftOf = r.leftOf()
		m.Left = r.amount("left-amount", limits{needed: true}, unit.KindMass, unit.KindVolume, unit.KindSheets)
	default:
		m.Mode = ForLiquid
		m.Liquid = r.amount("batch-liquid", limits{needed: true}, unit.KindMass, unit.KindVolume)
	}
	m.Losses = Losses{Boil: r.boil(), Blender: r.loss("loss-blender"), Sieve: r.loss("loss-sieve"), Bottle: r.loss("loss-bottle")}
	return m
}

// loss reads a share below 100 % or a weight.
func (r *reader) loss(field string) unit.Amount {
	a := r.amount(field, limits{}, unit.KindDose, unit.KindMass)
	if a.Kind() == unit.KindDose && a.Base() >= 1 {
		r.refuse(field, FigureOver, note.Num("limit", 99, unit.PercentOf))
		a.Value = 0
	}
	return a
}

// boil reads grams, a share, or minutes at a rate.
func (r *reader) boil() Boil {
	if r.fields["loss-boil-unit"] != string(unit.Minute) {
		return Boil{Amount: r.loss("loss-boil")}
	}
	b := Boil{Minutes: r.figure("loss-boil", limits{high: MaxMinutes, unit: unit.Minute})}
	if b.Minutes > 0 {
		b.Rate = r.figure("loss-boil-rate", limits{high: 10_000, unit: unit.Gram, needed: true})
	}
	return b
}

// leftOf reads "part-2" or "dose-1", which count rows on the page.
func (r *reader) leftOf() Ref {
	kind, number, _ := strings.Cut(r.fields["left-of"], "-")
	n, err := strconv.Atoi(number)
	rows := r.out.doseRow
	if kind == "part" {
		rows = r.out.partRow
	}
	if err == nil {
		for i, row := range rows {
			if row == n-1 {
				return Ref{Part: kind == "part", Index: i}
			}
		}
	}
	return Ref{Index: -1}
}

// FieldsOf writes a formula as typed fields, its rows from 1 without gaps.
func FieldsOf(f Formula, st unit.Style) Fields {
	w := writer{Fields{}, st}
	w.set("name", f.Name)
	w.set("tags", strings.Join(f.Tags, ", "))
	w.set("dish", f.Dish)
	w.set("station", f.Station)
	w.set("notes", f.Notes)
	w.set("texture", f.Texture)
	w.set("unread", strings.Join(f.Unread, "\n"))
	for i, p := range f.Parts {
		w.set(PartField(i, "name"), p.Name)
		w.amount(PartField(i, "amount"), p.Amount)
	}
	for i, d := range f.Doses {
		w.set(DoseField(i, "name"), d.Name)
		w.amount(DoseField(i, "amount"), d.Amount)
		if d.Basis == OnBatch && d.Amount.Unit != "" && d.Amount.Unit != unit.GramPerL { // of a litre of the liquid, whatever was said
			w.fields[DoseField(i, "unit")] += OfBatch
		}
		w.number(DoseField(i, "grade"), d.Grade)
	}
	w.number("liquid-density", float64(f.Density))
	w.makeWanted(f.Make)
	maps.Copy(w.fields, f.Lab)
	return w.fields
}

type writer struct {
	fields Fields
	style  unit.Style
}

func (w writer) set(field, text string) {
	if text != "" {
		w.fields[field] = text
	}
}

func (w writer) number(field string, v float64) {
	if v != 0 {
		w.fields[field] = w.style.Plain(v)
	}
}

func (w writer) amount(field string, a unit.Amount) {
	w.number(field, a.Value)
	if a.Unit != "" {
		w.fields[unitField(field)] = string(a.Unit)
	}
}

func (w writer) makeWanted(m Make) {
	w.set("make", string(m.Mode))
	w.amount("batch-liquid", m.Liquid)
	w.number("portions", m.Portions)
	w.amount("portion-size", m.Portion)
	w.number("spare", roundPercent(m.Spare))
	if m.Mode == ForLeft && m.LeftOf.Index >= 0 {
		kind := "dose-"
		if m.LeftOf.Part {
			kind = "part-"
		}
		w.set("left-of", kind+strconv.Itoa(m.LeftOf.Index+1))
	}
	w.amount("left-amount", m.Left)
	w.amount("loss-blender", m.Losses.Blender)
	w.amount("loss-sieve", m.Losses.Sieve)
	w.amount("loss-bottle", m.Losses.Bottle)
	if b := m.Losses.Boil; b.Minutes > 0 {
		w.amount("loss-boil", unit.Amount{Value: b.Minutes, Unit: unit.Minute})
		w.number("loss-boil-rate", b.Rate)
	} else {
		w.amount("loss-boil", b.Amount)
	}
}

// roundPercent undoes the last bit that a division by 100 may have cost.
func roundPercent(f unit.Fraction) float64 {
	v, err := strconv.ParseFloat(strconv.FormatFloat(f.Percent(), 'g', 14, 64), 64)
	if err != nil {
		return f.Percent()
	}
	return v
}

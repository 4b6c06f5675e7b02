package screen

import (
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// trait is one line of a formula in words: what it is about, and how it is.
type trait struct{ kind, about, is string }

// difference is a trait in two formulas; "" where one lacks it.
type difference struct{ about, left, right string }

// mark says in a word how the two differ, as a key of the texts.
func (d difference) mark() string {
	switch {
	case d.left == d.right:
		return "differ.same"
	case d.left == "":
		return "differ.added"
	case d.right == "":
		return "differ.gone"
	}
	return "differ.changed"
}

// amount writes an amount as it was typed, to the last digit.
func (a *App) amount(x unit.Amount) string {
	return a.words.Amount(x.Value, x.Unit)
}

func (a *App) dose(d formula.Dose) string {
	s := a.amount(d.Amount)
	if d.Basis == formula.OnBatch {
		s += " " + a.text("share.batch")
	}
	if d.Grade != 0 {
		s += ", " + a.words.Style.Plain(d.Grade) + " " + a.text("unit.bloom")
	}
	return s
}

// traits puts a version into words: name, liquid, doses, what to make, the rest.
func (a *App) traits(e *book.Entry) []trait {
	f, err := formula.Decode(e.Body)
	if err != nil {
		return nil
	}
	list := []trait{{"", a.text("differ.name"), e.Name}}
	for _, p := range f.Parts {
		list = append(list, trait{"part", p.Name, a.amount(p.Amount)})
	}
	for _, d := range f.Doses {
		list = append(list, trait{"dose", d.Name, a.dose(d)})
	}
	more := func(key, is string) {
		if is != "" {
			list = append(list, trait{"", a.text(key), is})
		}
	}
	more("make.legend", a.making(f))
	if f.Density > 0 {
		more("bench.density", a.words.Style.Plain(float64(f.Density))+"\u00a0g")
	}
	boil := a.loss(f.Make.Losses.Boil.Amount)
	if b := f.Make.Losses.Boil; b.Minutes > 0 {
		boil = a.text("differ.minutes", note.Typed("minutes", a.words.Style.Plain(b.Minutes)), note.Typed("rate", a.words.Style.Plain(b.Rate)))
	}
	more("loss.boil", boil)
	more("loss.blender", a.loss(f.Make.Losses.Blender))
	more("loss.sieve", a.loss(f.Make.Losses.Sieve))
	more("loss.bottle", a.loss(f.Make.Losses.Bottle))
	more("differ.tags", strings.Join(e.Tags, ", "))
	more("more.dish", f.Dish)
	more("more.station", f.Station)
	more("more.notes", f.Notes)
	more("paste.unread", strings.Join(f.Unread, "; "))
	return append(list, a.labTraits(f)...)
}

func (a *App) loss(x unit.Amount) string {
	if x.Value == 0 {
		return ""
	}
	return a.amount(x)
}

// making says what is to be made.
func (a *App) making(f formula.Formula) string {
	m := f.Make
	switch m.Mode {
	case formula.ForPortions:
		key := "differ.portions"
		if m.Spare > 0 {
			key = "differ.portions-spare"
		}
		return a.text(key, note.Typed("count", a.words.Style.Plain(m.Portions)), note.Typed("size", a.amount(m.Portion)), note.Typed("spare", a.words.Style.Decimals(m.Spare.Percent(), 6)+"\u00a0%"))
	case formula.ForLeft:
		name := ""
		if i := m.LeftOf.Index; m.LeftOf.Part && i < len(f.Parts) {
			name = f.Parts[i].Name
		} else if !m.LeftOf.Part && i < len(f.Doses) {
			name = f.Doses[i].Name
		}
		return a.text("differ.left", note.Typed("amount", a.amount(m.Left)), note.Typed("name", name))
	}
	return a.text("differ.liquid", note.Typed("amount", a.amount(m.Liquid)))
}

// differences sets two versions side by side, in the order of the left one.
func (a *App) differences(left, right *book.Entry) []difference {
	there := a.traits(right)
	var list []difference
	for _, l := range a.traits(left) {
		d := difference{l.about, l.is, ""}
		for i, r := range there {
			if r.kind == l.kind && strings.EqualFold(r.about, l.about) {
				d.right = r.is
				there = slices.Delete(slices.Clone(there), i, i+1)
				break
			}
		}
		list = append(list, d)
	}
	for _, r := range there {
		list = append(list, difference{r.about, "", r.is})
	}
	return list
}

// toldChanges is how many changes a version names; compare shows them all.
const toldChanges = 3

// whatChanged says in a line what a version changed.
func (k *keptView) whatChanged(before, after *book.Entry) string {
	var told []string
	changes := 0
	say := func(s string) {
		if changes++; changes <= toldChanges {
			told = append(told, s)
		}
	}
	if (before.Binned != 0) != (after.Binned != 0) {
		say(k.app.text(map[bool]string{true: "version.binned", false: "version.restored"}[after.Binned != 0]))
	}
	for _, d := range k.app.differences(before, after) {
		if m := d.mark(); m != "differ.same" {
			say(k.app.text(m+"-told", note.Typed("what", d.about), note.Typed("left", short(d.left)), note.Typed("right", short(d.right))))
		}
	}
	switch {
	case changes == 0:
		return k.app.text("version.same")
	case changes > toldChanges:
		told = append(told, k.app.text("version.more", counted("count", changes-toldChanges)))
	}
	return strings.Join(told, "; ")
}

// short cuts a long text, as of notes, for a line among others.
func short(s string) string {
	const most = 60
	if runes := []rune(s); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return s
}

// showCompared sets two versions side by side: the one before the newest and
// the newest, until others are chosen.
func (k *keptView) showCompared() {
	if k.id == "" || len(k.revs) == 0 {
		return
	}
	page := k.app.page
	page.Show("compare", len(k.revs) > 1)
	if len(k.revs) < 2 {
		return
	}
	var pairs []string
	for i := range k.revs {
		pairs = append(pairs, strconv.Itoa(k.revs[i].Rev), k.app.text("compare.version", counted("rev", k.revs[i].Rev), note.Typed("date", k.app.env.Date(k.revs[i].Saved))))
	}
	side := func(name string, usual *book.Entry) *book.Entry {
		page.Choices(name, pairs...)
		rev, _ := strconv.Atoi(k.typed[name])
		e := k.kept(rev)
		if e == nil {
			e = usual
		}
		page.Value(name, strconv.Itoa(e.Rev))
		return e
	}
	left, right := side("compare-left", &k.revs[1]), side("compare-right", &k.revs[0])
	list := k.app.differences(left, right)
	page.Rows("differ", len(list))
	for i, d := range list {
		mark := d.mark()
		page.State(view.Row("differ", i, "item"), strings.TrimPrefix(mark, "differ."))
		page.Text(view.Row("differ", i, "what"), d.about)
		page.Text(view.Row("differ", i, "mark"), k.app.text(mark))
		page.Text(view.Row("differ", i, "left"), dashed(d.left))
		page.Text(view.Row("differ", i, "right"), dashed(d.right))
	}
}

func dashed(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

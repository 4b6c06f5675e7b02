package screen

import (
	"maps"
	"slices"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// readLines puts a pasted recipe into the pan. Name, tags, notes and what to
// make stay; lines that were not understood are kept and shown with the reason.
func (p *pan) readLines(text string) {
	lines := formula.ParseLines(text, findInRecipe)
	if len(lines) == 0 {
		return
	}
	before := p.fields
	p.fill(p.withLines(maps.Clone(p.fields), lines))
	p.touched()
	p.offerBefore(p.app.text("undo.pasted"), before)
}

// withLines replaces the ingredients of f by those of the lines.
func (p *pan) withLines(f formula.Fields, lines []formula.Line) formula.Fields {
	p.parts.clear(f)
	p.doses.clear(f)
	var got formula.Formula
	var unread []string
	for _, l := range lines {
		switch {
		case l.Part != nil && len(got.Parts) < formula.MaxParts:
			got.Parts = append(got.Parts, *l.Part)
		case l.Dose != nil && len(got.Doses) < formula.MaxDoses:
			got.Doses = append(got.Doses, *l.Dose)
		default:
			unread = append(unread, l.Text)
		}
	}
	for name, value := range formula.FieldsOf(got, p.app.words.Style) {
		if strings.HasPrefix(name, "part-") || strings.HasPrefix(name, "dose-") {
			f[name] = value
		}
	}
	p.makeAsWritten(f, got.Parts)
	delete(f, "lines")
	f["unread"] = strings.Join(unread, "\n")
	return f
}

// makeAsWritten makes as much liquid as the recipe has, where nobody has said how much:
// there are grams to be seen at once, and to be changed.
func (p *pan) makeAsWritten(f formula.Fields, parts []formula.Part) {
	if mode := f["make"]; mode != "" && mode != string(formula.ForLiquid) || strings.TrimSpace(f["batch-liquid"]) != "" || len(parts) == 0 {
		return
	}
	kind, sum := parts[0].Amount.Kind(), 0.0
	for _, part := range parts {
		if part.Amount.Kind() != kind {
			return // grams and millilitres do not add up
		}
		sum += part.Amount.Base()
	}
	switch kind {
	case unit.KindMass:
		f["batch-liquid-unit"] = string(unit.Gram)
	case unit.KindVolume:
		f["batch-liquid-unit"] = string(unit.Millilitre)
	default:
		return
	}
	f["batch-liquid"] = p.app.words.Style.Plain(sum)
}

// showUnread lists the kept lines with the reason and a way to drop each.
func (p *pan) showUnread() {
	kept := p.reading.Formula.Unread
	page := p.app.page
	page.Show("unread-box", len(kept) > 0)
	page.Rows("unread", len(kept))
	for i, text := range kept {
		page.Text(view.Row("unread", i, "line"), text)
		why := ""
		if lines := formula.ParseLines(text, findInRecipe); len(lines) > 0 && lines[0].Why != nil {
			why = p.app.words.Note(lines[0].Why.Note)
		}
		page.Text(view.Row("unread", i, "why"), why)
	}
}

func (p *pan) dropUnread(row int) {
	kept := p.reading.Formula.Unread
	if row < 1 || row > len(kept) {
		return
	}
	before, name := maps.Clone(p.fields), kept[row-1]
	p.fields["unread"] = strings.Join(slices.Delete(slices.Clone(kept), row-1, row), "\n")
	p.answer()
	p.touched()
	p.offerBefore(p.app.text("undo.row", note.Typed("name", name)), before)
}

// openLink puts the formula of a link into the pan; a bad link changes nothing.
func (p *pan) openLink(f formula.Fields, err error) {
	if refused, ok := err.(*note.Refusal); ok {
		p.app.notice(p.app.words.Note(refused.Note))
		return
	}
	if text := f["lines"]; text != "" {
		f = p.withLines(f, formula.ParseLines(text, findInRecipe))
	}
	p.replace(f, p.app.text("undo.opened", note.Typed("name", p.nameIn(f))))
}

// showLink writes the link of the working formula to be copied.
func (p *pan) showLink() {
	p.linked = true
	p.tellLink()
	p.app.page.Focus("link-text")
}

// tellLink shows the link, which follows the pan once it is shown: one of an earlier
// formula would be passed on for this one's. A link that nothing opens is none.
func (p *pan) tellLink() {
	behind := ""
	if p.linked {
		behind = p.fields.Link()
	}
	long := len(behind) > formula.MaxLink
	p.app.page.Show("link-text", p.linked && !long)
	say := ""
	if long {
		say = p.app.text("more.link-long")
	}
	p.app.page.Say("link-text", say, false)
	if p.linked && !long {
		p.app.page.Value("link-text", p.app.env.Link()+"#"+behind)
	}
}

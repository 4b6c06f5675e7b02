package formula

import (
	"strings"
	"unicode"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Resolver finds the catalogue id of an agent by the name a person wrote.
// ok is false when no agent goes by that name: the line is then a part of the liquid.
type Resolver func(name string) (id string, ok bool)

// Bounds on pasted text.
const (
	MaxPasted    = 16_000 // bytes read
	MaxLines     = 80     // lines read
	maxLineRunes = 300
)

// Codes of lines that were not understood.
const (
	LineNoAmount note.Code = "line.no-amount" // no figure at the start or at the end
	LineNoUnit   note.Code = "line.no-unit"   // a count of something, not a weight
	LineNoName   note.Code = "line.no-name"   // an amount of nothing
	LineNoSheets note.Code = "line.no-sheets" // sheets or a share of something that is no agent
	LineBad      note.Code = "line.bad-figure"
	LineTooLong  note.Code = "line.too-long"
	LinesTooMany note.Code = "line.too-many"
)

// Line is one line as understood: a part of the liquid, a dose, or neither.
type Line struct {
	Text string // as written, without bullets and outer space
	Part *Part
	Dose *Dose
	Why  *note.Refusal // why it was not understood; nil when it was
}

// ParseLines reads a recipe pasted from a message: one ingredient a line, or
// several in a line parted by ";", " + " or by a comma before a figure. A line
// is an amount and a name ("1,5 g agar", "350 ml apple juice", "0.6% gellan")
// or a name and an amount ("agar: 2 g"). What is not understood comes back
// word for word with the reason; nothing is dropped.
func ParseLines(text string, find Resolver) []Line {
	var lines []Line
	if len(text) > MaxPasted {
		cut := strings.ToValidUTF8(text[:MaxPasted], "")
		lines = append(ParseLines(cut, find), Line{Text: firstRunes(text[len(cut):], maxLineRunes), Why: note.Refuse("lines", LinesTooMany, note.Num("limit", MaxLines, unit.One))})
		return lines
	}
	for _, raw := range splitLines(text) {
		s := trimBullet(raw)
		if s == "" {
			continue
		}
		if len(lines) == MaxLines {
			return append(lines, Line{Text: firstRunes(s, maxLineRunes), Why: note.Refuse("lines", LinesTooMany, note.Num("limit", MaxLines, unit.One))})
		}
		lines = append(lines, parseLine(s, find))
	}
	return lines
}

// splitLines parts text at line ends, semicolons, and before a figure that
// follows ", " or " + ".
func splitLines(text string) []string {
	var out []string
	start := 0
	for i := 0; i < len(text); i++ {
		cut := 0
		switch text[i] {
		case '\n', '\r', ';':
			cut = 1
		case ',', '+':
			if i+2 < len(text) && text[i+1] == ' ' && isDigit(text[i+2]) && hasLetter(text[start:i]) {
				cut = 1
			}
		}
		if cut > 0 {
			out = append(out, text[start:i])
			start = i + cut
		}
	}
	return append(out, text[start:])
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func hasLetter(s string) bool { return strings.IndexFunc(s, unicode.IsLetter) >= 0 }

// trimBullet drops outer space and a list mark.
func trimBullet(s string) string {
	s = strings.TrimSpace(s)
	for _, b := range []string{"- ", "* ", "• ", "– ", "— ", "· "} {
		if rest, ok := strings.CutPrefix(s, b); ok {
			return strings.TrimSpace(rest)
		}
	}
	return s
}

func parseLine(s string, find Resolver) Line {
	l := Line{Text: s}
	if len([]rune(s)) > maxLineRunes {
		l.Why = note.Refuse("lines", LineTooLong, note.Num("limit", maxLineRunes, unit.One))
		return l
	}
	amount, name, why := amountAndName(s, find)
	if why != nil {
		l.Why = why
		return l
	}
	var basis Basis
	if amount.Kind() == unit.KindDose {
		basis, name = basisOf(name)
	}
	grade, bare := gradeOf(name)
	id, known := find(bare)
	if !known {
		id, known = find(name)
	}
	switch kind := amount.Kind(); {
	case known || kind == unit.KindDose || kind == unit.KindSheets:
		if !known && kind == unit.KindSheets {
			l.Why = note.Refuse("lines", LineNoSheets, note.Typed("line", s))
			return l
		}
		if kind == unit.KindVolume {
			l.Why = note.Refuse("lines", LineNoUnit, note.Typed("line", s))
			return l
		}
		l.Dose = &Dose{Agent: id, Name: clip(name), Amount: amount, Basis: basis, Grade: grade}
	default:
		l.Part = &Part{Name: clip(name), Amount: amount}
	}
	return l
}

// amountAndName parts "1,5 g agar" and "agar: 1,5 g".
func amountAndName(s string, find Resolver) (unit.Amount, string, *note.Refusal) {
	a, name, err := unit.ScanAmount(s)
	if err == nil {
		if a.Kind() != unit.KindDose || !basisWord(name) {
			name = trimOf(name)
		}
		if name == "" {
			return a, "", note.Refuse("lines", LineNoName, note.Typed("line", s))
		}
	} else {
		var ok bool
		if a, name, ok = amountLast(s); !ok {
			if a, name, ok = countLast(s, find); !ok {
				return a, "", note.Refuse("lines", LineNoAmount, note.Typed("line", s))
			}
		}
	}
	if bare, ok := sheetsOf(name, find); a.Unit == "" && ok {
		a.Unit, name = unit.Sheet, bare
	}
	switch {
	case a.Unit == "":
		return a, "", note.Refuse("lines", LineNoUnit, note.Typed("line", s))
	case a.Value <= 0:
		return a, "", note.Refuse("lines", LineBad, note.Typed("line", s))
	case !hasLetter(name):
		return a, "", note.Refuse("lines", LineNoName, note.Typed("line", s))
	}
	return a, name, nil
}

// amountLast finds an amount that ends the line; what it is a share of may stand
// behind it, and comes back in front of the name.
func amountLast(s string) (unit.Amount, string, bool) {
	for i := 1; i < len(s); i++ {
		if !isDigit(s[i]) || isDigit(s[i-1]) || s[i-1] == '.' || s[i-1] == ',' {
			continue
		}
		a, rest, err := unit.ScanAmount(s[i:])
		rest = strings.Trim(rest, " ()")
		if name := strings.TrimRight(s[:i], " \t:=–—-.("); err == nil && a.Unit != "" {
			if rest == "" {
				return a, name, true
			}
			if a.Kind() == unit.KindDose && name != "" && basisWord(rest+" ") {
				return a, rest + " " + name, true
			}
		}
	}
	return unit.Amount{}, "", false
}

// countLast finds a bare count that ends the line, "gelatin leaves: 3", where the
// name itself says that sheets are counted; any other figure at the end may be
// anything.
func countLast(s string, find Resolver) (unit.Amount, string, bool) {
	end := strings.TrimRight(s, ".)")
	i := len(end)
	for i > 0 && isDigit(end[i-1]) {
		i--
	}
	name := strings.TrimRight(end[:i], " \t:=–—-x(")
	if _, ok := sheetsOf(name, find); !ok {
		return unit.Amount{}, "", false
	}
	a, _, err := unit.ScanAmount(end[i:])
	return a, name, err == nil
}

// sheetWords are what cooks count gelatin in, as a part of its name: "gelatine
// leaves", "leaf gelatin", "Gelatineblätter". A longer one stands before one that
// it ends or begins with.
var sheetWords = []string{"leaves", "leaf", "sheets", "sheet", "feuilles", "feuille", "hojas", "hoja", "láminas", "lámina", "blätter", "blaetter", "blatt"}

// sheetsOf takes the word for sheets off a name; ok is false when there is none or
// when what is left is no agent: leaves of verbena are not weighed by the sheet.
// A name that says its Bloom stays whole.
func sheetsOf(name string, find Resolver) (bare string, ok bool) {
	grade, bare := gradeOf(name)
	if bare, ok = withoutSheets(bare, find); ok && grade > 0 {
		return name, true
	}
	return bare, ok
}

func withoutSheets(name string, find Resolver) (bare string, ok bool) {
	low := strings.ToLower(name)
	if len(low) != len(name) {
		return "", false
	}
	for _, w := range sheetWords {
		switch {
		case strings.HasSuffix(low, w):
			bare = name[:len(name)-len(w)]
		case strings.HasPrefix(low, w):
			bare = name[len(w):]
		default:
			continue
		}
		bare = trimOf(strings.Trim(bare, " -"))
		_, ok = find(bare)
		return bare, ok
	}
	return "", false
}

// trimOf drops a joining word: "200 g of apple juice", "2 g d'agar".
func trimOf(s string) string {
	for _, w := range []string{"of ", "de ", "d'", "d’"} {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			return strings.TrimSpace(s[len(w):])
		}
	}
	return s
}

// Words for what a share is one of, in the page's languages; a longer one stands
// before one that it begins with.
var (
	batchWords = []string{
		"of the total mass", "of the total weight", "of the batch", "of batch", "of the total", "of total", "of the whole", "on the batch",
		"de la masse totale", "sur la masse totale", "du poids total", "sur le poids total", "du total", "sur le total", "de la préparation", "de l'ensemble", "de l’ensemble",
		"de la masa total", "sobre la masa total", "del peso total", "sobre el peso total", "del total", "sobre el total", "del lote",
		"der gesamtmasse", "von der gesamtmasse", "auf die gesamtmasse", "der gesamtmenge", "von der gesamtmenge", "auf die gesamtmenge",
		"des gesamtgewichts", "vom gesamtgewicht", "auf das gesamtgewicht", "des ansatzes", "vom ansatz", "auf den ansatz", "vom ganzen",
	}
	liquidWords = []string{
		"of the liquid", "of liquid", "on the liquid", "on liquid",
		"du liquide", "sur le liquide", "del líquido", "sobre el líquido", "del liquido", "sobre el liquido",
		"der flüssigkeit", "von der flüssigkeit", "auf die flüssigkeit", "der fluessigkeit", "auf die fluessigkeit",
	}
)

func basisWord(s string) bool { b, rest := basisOf(s); return b != "" && rest != s }

// basisOf reads "of the batch" or "sur le liquide" in front of a name.
func basisOf(name string) (Basis, string) {
	low := strings.ToLower(name)
	for _, set := range []struct {
		words []string
		basis Basis
	}{{batchWords, OnBatch}, {liquidWords, OnLiquid}} {
		for _, w := range set.words {
			if len(low) == len(name) && strings.HasPrefix(low, w+" ") {
				return set.basis, trimOf(strings.TrimSpace(name[len(w):]))
			}
		}
	}
	return OnLiquid, name
}

// gradeOf takes "200 bloom" (or "bloom 200") out of a name.
func gradeOf(name string) (float64, string) {
	low := strings.ToLower(name)
	i := strings.Index(low, "bloom")
	if i < 0 || len(low) != len(name) {
		return 0, name
	}
	before, after := strings.TrimRight(name[:i], " °-"), name[i+len("bloom"):]
	start := len(before)
	for start > 0 && isDigit(before[start-1]) {
		start--
	}
	if v, err := unit.ParseFigure(before[start:]); err == nil && v > 0 && v < 1000 {
		return v, tidy(before[:start] + " " + after)
	}
	if a, rest, err := unit.ScanAmount(after); err == nil && a.Unit == "" && a.Value > 0 && a.Value < 1000 {
		return a.Value, tidy(before + " " + rest)
	}
	return 0, name
}

// tidy drops empty brackets, loose commas and double spaces left by gradeOf.
func tidy(s string) string {
	s = strings.NewReplacer("()", " ", "( )", " ", "(", " ", ")", " ").Replace(s)
	return strings.Trim(strings.Join(strings.Fields(s), " "), " ,;:-")
}

func clip(s string) string { return firstRunes(strings.TrimSpace(s), MaxName) }

func firstRunes(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n])
}

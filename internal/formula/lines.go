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
	LineRange    note.Code = "line.range"    // from so much to so much
	LineThousand note.Code = "line.thousand" // "1,000 g": a thousand or one
	LineTwo      note.Code = "line.two"      // a second weight of something else
	LineTotal    note.Code = "line.total"    // a sum or a yield, no ingredient
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
// several in a line parted by ";", " + ", or before the figure of the next one. A
// line is an amount and a name ("1,5 g agar", "350 ml apple juice", "0.6% gellan")
// or a name and an amount ("agar: 2 g"). What is said a second time in brackets or
// in a second column ("400 g (14 oz) cream") counts once. What sounds like an
// agent and is none of the catalogue's is a dose without one, so that it does not
// pass for liquid. What is not understood, or can be understood in two ways, comes
// back word for word with the reason; nothing is dropped.
func ParseLines(text string, find Resolver) []Line {
	var lines []Line
	if len(text) > MaxPasted {
		cut := strings.ToValidUTF8(text[:MaxPasted], "")
		lines = append(ParseLines(cut, find), Line{Text: firstRunes(text[len(cut):], maxLineRunes), Why: note.Refuse("lines", LinesTooMany, note.Num("limit", MaxLines, unit.One))})
		return lines
	}
	r := lineReader{find: find, decimal: decimalMark(text)}
	for _, raw := range splitLines(text) {
		s := trimBullet(raw)
		if s == "" {
			continue
		}
		if len(lines) == MaxLines {
			return append(lines, Line{Text: firstRunes(s, maxLineRunes), Why: note.Refuse("lines", LinesTooMany, note.Num("limit", MaxLines, unit.One))})
		}
		lines = append(lines, r.line(s))
	}
	return lines
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func hasLetter(s string) bool { return strings.IndexFunc(s, unicode.IsLetter) >= 0 }

// lineReader reads the lines of one text.
type lineReader struct {
	find    Resolver
	decimal byte // the decimal mark that the text uses; 0 when it does not show
}

func (r lineReader) line(s string) Line {
	l := Line{Text: s}
	if len([]rune(s)) > maxLineRunes {
		l.Why = note.Refuse("lines", LineTooLong, note.Num("limit", maxLineRunes, unit.One))
		return l
	}
	got, why := r.amountAndName(plainForms(s))
	if why == "" {
		why = r.sort(got, &l)
	}
	if why != "" {
		l = Line{Text: s, Why: note.Refuse("lines", why, note.Typed("line", s))}
	}
	return l
}

// sort tells a dose from a part of the liquid.
func (r lineReader) sort(got scanned, l *Line) note.Code {
	kind, name := got.amount.Kind(), got.name
	var basis Basis
	if kind == unit.KindDose {
		if basis, name = basisOf(name); saysBatch(name) {
			basis = OnBatch
		}
	}
	id, bare, grade, known := r.agentIn(name)
	if known {
		name = bare
	}
	if g, _ := gradeOf(name); kind == unit.KindSheets && g == 0 {
		grade = 0 // a sheet of any trade grade sets about the same; the shelf says which there is
	}
	switch {
	case kind == unit.KindSheets && !known:
		return LineNoSheets
	case kind == unit.KindVolume && known:
		return LineNoUnit
	}
	like := soundsLikeAgent(name)
	if _, beside := withoutBracket(name); !known && (secondWeight(name) || like && weightOfAnother(beside)) {
		return LineTwo
	}
	dose := known || kind == unit.KindDose || kind == unit.KindMass && like
	var clear bool
	if got.amount, clear = r.thousands(got, dose); !clear {
		return LineThousand
	}
	if dose {
		l.Dose = &Dose{Agent: id, Name: clip(name), Amount: got.amount, Basis: basis, Grade: grade}
	} else {
		l.Part = &Part{Name: clip(name), Amount: got.amount}
	}
	return ""
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
// A name that says its strength stays whole.
func sheetsOf(name string, find Resolver) (bare string, ok bool) {
	grade, bare := gradeOf(name)
	if bare, ok = withoutSheets(bare, find); ok && grade == 0 {
		return bare, true
	}
	if plain, bloom := tradeGrade(name); !ok && bloom > 0 {
		_, ok = withoutSheets(plain, find)
	}
	return name, ok
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
		"of the total mass", "of the total weight", "of total mass", "of total weight", "of the batch", "of batch", "of the total", "of total", "of the whole", "on the batch",
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

// saysBatch reports whether a bracket in a name says that a share is one of all:
// "0.4 % agar (on total)".
func saysBatch(name string) bool {
	_, said := withoutBracket(strings.ToLower(name))
	for _, w := range []string{"total", "batch", "gesamt", "ansatz", "lote"} {
		if strings.Contains(said, w) {
			return true
		}
	}
	return false
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

package formula

import (
	"math"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// scanned is an amount and a name, taken from a line.
type scanned struct {
	amount unit.Amount
	figure string // as written; "" when the amount is worked out
	name   string
}

// amountAndName parts "1,5 g agar" and "agar: 1,5 g"; the code says why it cannot.
func (r lineReader) amountAndName(s string) (scanned, note.Code) {
	s = strings.NewReplacer("g/100 ml", "g per 100 ml", "g/100ml", "g per 100 ml").Replace(s)
	got, why := r.amountFirst(oneSystem(s))
	if why == LineNoAmount {
		got, why = r.amountBehind(s)
	}
	if why != "" {
		return got, why
	}
	head, _, _ := strings.Cut(got.name, ",")
	if bare, ok := sheetsOf(head, r.find); got.amount.Unit == "" && ok {
		got.amount.Unit, got.name = unit.Sheet, bare
	}
	got.perAmount()
	switch {
	case got.amount.Unit == "":
		return got, LineNoUnit
	case got.amount.Value <= 0:
		return got, LineBad
	case isTotal(got.name):
		return got, LineTotal
	case !hasLetter(got.name) || got.amount.Kind() != unit.KindDose && hasWord(perWords, got.name):
		return got, LineNoName
	}
	return got, ""
}

// oneSystem drops the second of "100 g/3½ oz sugar"; "8 g/100 ml" is no such thing.
func oneSystem(s string) string {
	i := strings.IndexByte(s, '/')
	if i < 0 {
		return s
	}
	a, left, err := unit.ScanAmount(s[:i])
	b, rest, wrong := unit.ScanAmount(s[i+1:])
	if err == nil && wrong == nil && left == "" && weighed(a) && weighed(b) && imperial(a) != imperial(b) {
		return s[:i] + " " + rest
	}
	return s
}

func imperial(a unit.Amount) bool {
	return a.Unit == unit.Ounce || a.Unit == unit.Pound || a.Unit == unit.FluidOunce
}

// amountFirst reads an amount at the start of a line.
func (r lineReader) amountFirst(s string) (scanned, note.Code) {
	a, name, err := unit.ScanAmount(s)
	if err != nil {
		return scanned{}, LineNoAmount
	}
	got := scanned{amount: a, figure: figureOf(s), name: name}
	if a.Kind() == unit.KindDose {
		// "40 % vodka 60 ml": the share belongs to the name.
		if last, ok := r.behind(s); ok && weighed(last.amount) {
			return last, ""
		}
	}
	switch {
	case isRange(name):
		return got, LineRange
	case a.Unit == unit.Millilitre && a.Value < 5 && strings.HasPrefix(strings.TrimLeft(s[len(got.figure):], " "), "cc"):
		return got, LineNoUnit // "1 cc de sucre" is a spoon
	}
	got.times()
	got.andHalf()
	got.further()
	got.bracket(r.find)
	if a.Kind() != unit.KindDose || !basisWord(got.name) {
		got.name = trimOf(got.name)
	}
	if got.name == "" {
		return got, LineNoName
	}
	return got, ""
}

// amountBehind reads an amount at the end of a line.
func (r lineReader) amountBehind(s string) (scanned, note.Code) {
	got, ok := r.behind(s)
	if !ok {
		a, name, ok := countLast(s, r.find)
		if !ok {
			return got, LineNoAmount
		}
		got = scanned{amount: a, name: name}
	}
	if endsInRange(got.name) {
		return got, LineRange
	}
	got.name = strings.TrimRight(got.name, nameEnd)
	return got, ""
}

// nameEnd are the signs between a name and its amount.
const nameEnd = " :=–—-.(@,"

// behind finds an amount that ends the line. What it is a share of may stand behind
// it, and comes back in front of the name; so may the same again in another unit,
// and a note in brackets, or behind a comma where the name is an agent's.
func (r lineReader) behind(s string) (scanned, bool) {
	for i := 1; i < len(s); i++ {
		if !isDigit(s[i]) || isDigit(s[i-1]) || strings.IndexByte(".,/", s[i-1]) >= 0 && !strings.HasSuffix(s[:i], "..") {
			continue
		}
		a, rest, err := unit.ScanAmount(s[i:])
		name := strings.TrimRight(s[:i], " (")
		bare := strings.TrimRight(name, nameEnd)
		if err != nil || a.Unit == "" || bare == "" {
			continue
		}
		got := scanned{a, figureOf(s[i:]), name}
		noted := weighed(a) && strings.HasPrefix(rest, "(") && strings.IndexByte(rest, ')') == len(strings.TrimRight(rest, " ."))-1
		rest = strings.Trim(rest, " ().")
		other, more, err := unit.ScanAmount(rest)
		_, left, per := perOf(rest)
		switch {
		case rest == "":
		case per && left == "":
			got.name = bare + " " + rest
		case a.Kind() == unit.KindDose && basisWord(rest+" "):
			got.name = rest + " " + bare
		case err == nil && more == "" && other.Unit != "" && (weighed(a) || !weighed(other)):
		case noted:
			got.name = bare + " (" + rest + ")"
		case strings.HasPrefix(rest, ",") && r.isAgent(bare):
			got.name = bare + rest
		default:
			continue
		}
		return got, true
	}
	return scanned{}, false
}

func (r lineReader) isAgent(name string) bool {
	if r.find == nil {
		return false
	}
	_, _, _, known := r.agentIn(name)
	return known
}

// times completes "2 x 250 ml cream" and "3 sheets gelatin at 2 g".
func (g *scanned) times() {
	switch g.amount.Kind() {
	case unit.KindNone:
		for _, sign := range []string{"x ", "X ", "× ", "x", "×"} {
			rest, ok := strings.CutPrefix(g.name, sign)
			if !ok || rest == "" || !isFigure(firstRune(rest)) {
				continue
			}
			if each, name, err := unit.ScanAmount(rest); err == nil && weighed(each) {
				*g = scanned{unit.Amount{Value: g.amount.Value * each.Value, Unit: each.Unit}, figureOf(rest), name}
			}
			return
		}
	case unit.KindSheets:
		for _, word := range []string{" à ", " a ", " de ", " of ", " at ", " je "} {
			i := strings.LastIndex(g.name, word)
			if i < 0 {
				continue
			}
			if each, rest, err := unit.ScanAmount(g.name[i+len(word):]); err == nil && rest == "" && each.Kind() == unit.KindMass {
				*g = scanned{unit.Amount{Value: g.amount.Value * each.Value, Unit: each.Unit}, "", g.name[:i]}
				return
			}
		}
	}
}

// andHalf completes "1 litre et demi".
func (g *scanned) andHalf() {
	for _, w := range []string{"et demie ", "et demi ", "y medio ", "y media ", "and a half "} {
		if rest, ok := strings.CutPrefix(g.name, w); ok && g.amount.Unit != "" {
			g.amount.Value, g.name = g.amount.Value+0.5, rest
			return
		}
	}
}

// further adds the smaller unit of "1 lb 4 oz", "1 kg 200 g" and "1 kg 200".
func (g *scanned) further() {
	more, name, err := unit.ScanAmount(g.name)
	if err == nil && more.Unit == "" && len(figureOf(g.name)) == 3 {
		switch g.amount.Unit {
		case unit.Kilogram:
			more.Unit = unit.Gram
		case unit.Litre:
			more.Unit = unit.Millilitre
		}
	}
	if err != nil || more.Kind() != g.amount.Kind() || !weighed(more) || more.Unit.ToBase(1) >= g.amount.Unit.ToBase(1) {
		return
	}
	if more.Base() < g.amount.Unit.ToBase(1) {
		*g = scanned{unit.Amount{Value: more.Unit.FromBase(g.amount.Base()) + more.Value, Unit: more.Unit}, "", name}
	}
}

// bracket drops what says the amount again, "400 g (14 oz) cream", and takes it
// where the amount itself is a spoon or one piece: "1 tsp (2 g) agar". Of several
// pieces nobody can tell whether the bracket weighs one or all.
func (g *scanned) bracket(find Resolver) {
	from := strings.IndexByte(g.name, '(')
	to := strings.IndexByte(g.name, ')')
	if from < 0 || to < from || g.amount.Unit != "" && from > 0 {
		return
	}
	again, rest, err := unit.ScanAmount(exactly(strings.TrimLeft(g.name[from+1:to], "= ")))
	spoonful := g.amount.Unit != "" && (hasWord(spoons, rest) || hasWord(packs, rest))
	if err != nil || (rest != "" || again.Unit == "") && !spoonful {
		return
	}
	name := strings.TrimSpace(strings.TrimSpace(g.name[:from]) + " " + strings.TrimSpace(g.name[to+1:]))
	if g.amount.Unit != "" {
		g.name = name
		return
	}
	if bare, ok := sheetsOf(name, find); ok {
		g.amount.Unit, g.name = unit.Sheet, bare
		return
	}
	spoon := hasWord(spoons, name)
	if weighed(again) && (spoon || g.amount.Value <= 1) {
		for _, w := range append(packs, spoons...) {
			if hasWord([]string{w}, name) {
				name = strings.TrimSpace(name[len(w):])
				break
			}
		}
		*g = scanned{again, figureOf(exactly(g.name[from+1 : to])), name}
	}
}

// Measures of which a bracket says the weight, and packets, in the page's
// languages; a longer one stands before one that it begins with.
var (
	spoons = []string{
		"teaspoons", "teaspoon", "tablespoons", "tablespoon", "tsps", "tsp.", "tsp", "tbsps", "tbsp.", "tbsp", "cups", "cup",
		"c. à café", "c. à soupe", "c. à c.", "c. à s.", "c à c", "c à s", "càc", "càs", "cc", "cs", "cuillères à café", "cuillère à café", "cuillères à soupe", "cuillère à soupe", "tasses",
		"cucharaditas", "cucharadita", "cucharadas", "cucharada", "cdtas", "cdta.", "cdta", "cdas", "cda.", "cda", "tazas", "taza",
		"tl", "el", "msp.", "msp", "tassen", "tasse",
	}
	packs = []string{"packets", "packet", "sachets", "sachet", "sobres", "sobre", "päckchen", "pck.", "pck", "pkg.", "pinch", "pincée", "pizca", "prise"}
)

// hasWord reports whether a text begins with one of the words.
func hasWord(words []string, s string) bool {
	for _, w := range words {
		if len(s) >= len(w) && strings.EqualFold(s[:len(w)], w) && (len(s) == len(w) || strings.IndexByte(" (", s[len(w)]) >= 0) {
			return true
		}
	}
	return false
}

// perWords stand before what a dose is of, in the page's languages.
var perWords = []string{"per", "pro", "par", "por cada", "por", "pour", "auf", "je", "für", "for", "para"}

// perOf reads "per litre" or "auf 500 ml" at the start of s.
func perOf(s string) (of unit.Amount, rest string, ok bool) {
	rest, ok = strings.CutPrefix(s, "/")
	for _, w := range perWords {
		if !ok && len(s) > len(w) && strings.EqualFold(s[:len(w)], w) && s[len(w)] == ' ' {
			rest, ok = s[len(w)+1:], true
		}
	}
	rest = strings.TrimSpace(rest)
	if !ok || rest == "" {
		return of, s, false
	}
	if !isFigure(firstRune(rest)) {
		rest = "1 " + rest
	}
	of, rest, err := unit.ScanAmount(rest)
	kind := of.Kind()
	return of, rest, err == nil && of.Base() > 0 && (kind == unit.KindMass || kind == unit.KindVolume)
}

// perAmount turns "8 g per litre" into a dose; the words may stand on either side
// of the name.
func (g *scanned) perAmount() {
	if g.amount.Kind() != unit.KindMass {
		return
	}
	of, rest, ok := perOf(g.name)
	for i := 1; i < len(g.name) && !ok; i++ {
		at := i
		switch g.name[i] {
		case ' ':
			at++
		case '/':
		default:
			continue
		}
		if of, rest, ok = perOf(g.name[at:]); ok && rest == "" {
			rest = g.name[:i]
		} else {
			ok = false
		}
	}
	if !ok {
		return
	}
	dose := unit.Amount{Value: math.Round(g.amount.Base()/of.Base()*1e9) / 1e6, Unit: unit.GramPerKg}
	switch {
	case of.Kind() == unit.KindVolume:
		dose.Unit = unit.GramPerL
	case of.Base() == 100:
		dose = unit.Amount{Value: g.amount.Base(), Unit: unit.GramPer100}
	}
	*g = scanned{amount: dose, name: trimOf(strings.TrimSpace(rest))}
}

// endsInPer reports whether a further amount is what comes before is for or in.
func endsInPer(s string) bool {
	words := strings.Fields(s)
	last := words[len(words)-1]
	for _, w := range append([]string{"in", "en", "dans", "of", "de", "à", "cada", "to", "a", "bis", "from", "von", "~", "ca."}, perWords...) {
		if strings.EqualFold(last, w) {
			return true
		}
	}
	return false
}

// rangeWords stand between the two ends of a range.
var rangeWords = []string{"-", "–", "—", "to", "à", "a", "bis", "hasta", "or", "ou", "o", "oder"}

// isRange reports whether what follows a figure makes a range of it: "–3 g agar".
func isRange(s string) bool {
	for _, w := range rangeWords {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			rest := s[len(w):]
			gap := len(rest) - len(strings.TrimLeft(rest, " "))
			if gap < len(rest) && isDigit(rest[gap]) && (gap > 0 || !hasLetter(w)) {
				return true
			}
		}
	}
	return false
}

// endsInRange reports whether a name, taken from before an amount, ends in the
// lower end of a range: "agar: 2–".
func endsInRange(name string) bool {
	for _, w := range rangeWords {
		if before, ok := strings.CutSuffix(strings.ToLower(name), w); ok {
			bare := strings.TrimRight(before, " ")
			if bare != "" && isDigit(bare[len(bare)-1]) && (len(bare) < len(before) || !hasLetter(w)) {
				return true
			}
		}
	}
	return false
}

// totals are what a recipe calls its sum or yield, in the page's languages.
var totals = []string{
	"total", "totals", "sum", "yield", "yields", "makes", "gives", "serves", "for", "batch", "batch size",
	"poids total", "masse totale", "rendement", "donne", "pour", "somme",
	"peso total", "masa total", "rendimiento", "para", "suma",
	"gesamt", "gesamtgewicht", "gesamtmenge", "gesamtmasse", "summe", "ausbeute", "ergibt", "ergibt ca", "für", "insgesamt",
}

func isTotal(name string) bool {
	name = strings.ToLower(strings.Trim(name, nameEnd))
	if strings.HasPrefix(name, "total ") {
		return true
	}
	for _, t := range totals {
		if name == t {
			return true
		}
	}
	return false
}

// secondWeight reports whether a name still has a weight in it, outside brackets.
func secondWeight(name string) bool {
	for i := range len(name) {
		if !isDigit(name[i]) || i > 0 && (isDigit(name[i-1]) || strings.IndexByte(".,/", name[i-1]) >= 0) || depth(name[:i]) > 0 {
			continue
		}
		if a, _, err := unit.ScanAmount(name[i:]); err == nil && weighed(a) {
			return true
		}
	}
	return false
}

// figureOf is the figure at the start of s, as written: digits and their marks.
func figureOf(s string) string {
	end := 0
	for end < len(s) && (isDigit(s[end]) || s[end] == '.' || s[end] == ',') {
		end++
	}
	return strings.TrimRight(s[:end], ".,")
}

// thousandsOrParts is the mark of a figure that means a thousand in one country and
// one in the next, "1,000" or "1.250"; zero for any other figure.
func thousandsOrParts(figure string) byte {
	mark := strings.IndexAny(figure, ".,")
	if mark < 1 || mark > 3 || len(figure) != mark+4 || figure[0] == '0' || strings.ContainsAny(figure[mark+1:], ".,") {
		return 0
	}
	return figure[mark]
}

// thousands settles such a figure by the decimal mark of the recipe's other figures.
// Where that does not show, agents have the small figure: nobody weighs a kilogram
// of one to the gram with a mark in it. Of anything else ok is false. Kilograms and
// litres are written with three decimals, and stay as they are.
func (r lineReader) thousands(got scanned, dose bool) (a unit.Amount, ok bool) {
	mark := thousandsOrParts(got.figure)
	if mark == 0 || mark == r.decimal || got.amount.Unit != unit.Gram && got.amount.Unit != unit.Millilitre {
		return got.amount, true
	}
	if r.decimal == 0 {
		return got.amount, dose
	}
	return unit.Amount{Value: math.Round(got.amount.Value * 1000), Unit: got.amount.Unit}, true
}

// decimalMark is the mark that stands before other than three decimals, before those
// of a kilogram or a litre, or behind a zero, in the amounts of a text; zero if none
// or both do.
func decimalMark(text string) byte {
	var seen byte
	for i := 0; i < len(text); i++ {
		if !isDigit(text[i]) {
			continue
		}
		figure := figureOf(text[i:])
		mark := strings.LastIndexAny(figure, ".,")
		if a, _, err := unit.ScanAmount(text[i:min(len(text), i+80)]); mark > 0 && err == nil && a.Unit != "" &&
			(thousandsOrParts(figure) == 0 || a.Unit == unit.Kilogram || a.Unit == unit.Litre) {
			if seen != 0 && seen != figure[mark] {
				return 0
			}
			seen = figure[mark]
		}
		i += len(figure)
	}
	return seen
}

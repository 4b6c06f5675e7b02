package unit

import "strings"

// Amount is a figure with the unit that it was typed in. Amounts are kept as
// typed, so that 350 ml stays 350 ml; calculations convert with Base.
type Amount struct {
	Value float64
	Unit  Symbol
}

// Grams is an amount in grams.
func Grams(x float64) Amount { return Amount{x, Gram} }

// Base is the amount in the base unit of its kind: g, ml, sheets, parts of one.
func (a Amount) Base() float64 { return a.Unit.ToBase(a.Value) }

// Kind is what the amount measures.
func (a Amount) Kind() Kind { return a.Unit.Kind() }

// symbolNames are the ways a unit is typed, lower case. Plain "oz" is a mass.
var symbolNames = map[string]Symbol{
	"g": Gram, "gr": Gram, "gram": Gram, "grams": Gram, "gramme": Gram, "grammes": Gram, "gramm": Gram, "gramo": Gram, "gramos": Gram, "grs": Gram, "gm": Gram, "gms": Gram,
	"kg": Kilogram, "kilo": Kilogram, "kilos": Kilogram, "kilogram": Kilogram, "kilograms": Kilogram, "kilogramme": Kilogram, "kilogrammes": Kilogram, "kilogramm": Kilogram, "kilogramo": Kilogram, "kilogramos": Kilogram,
	"mg": Milligram, "oz": Ounce, "ounce": Ounce, "ounces": Ounce, "lb": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound,
	"ml": Millilitre, "millilitre": Millilitre, "millilitres": Millilitre, "milliliter": Millilitre, "milliliters": Millilitre, "cc": Millilitre, "mls": Millilitre, "mililitro": Millilitre, "mililitros": Millilitre,
	"cl": Centilitre, "centilitre": Centilitre, "centilitres": Centilitre, "centiliter": Centilitre, "centilitro": Centilitre, "centilitros": Centilitre, "zentiliter": Centilitre,
	"dl": Decilitre, "decilitre": Decilitre, "decilitres": Decilitre, "décilitre": Decilitre, "décilitres": Decilitre, "deciliter": Decilitre, "decilitro": Decilitre, "decilitros": Decilitre, "deziliter": Decilitre,
	"l": Litre, "lt": Litre, "ltr": Litre, "litre": Litre, "litres": Litre, "liter": Litre, "liters": Litre, "litro": Litre, "litros": Litre,
	"fl oz": FluidOunce, "fl.oz": FluidOunce, "fl. oz": FluidOunce, "floz": FluidOunce,
	"sheet": Sheet, "sheets": Sheet, "leaf": Sheet, "leaves": Sheet, "feuille": Sheet, "feuilles": Sheet, "hoja": Sheet, "hojas": Sheet,
	"lámina": Sheet, "láminas": Sheet, "bl": Sheet, "blatt": Sheet, "blätter": Sheet, "blaetter": Sheet,
	"%": PercentOf, "per cent": PercentOf, "percent": PercentOf, "pct": PercentOf,
	"g/100 g": GramPer100, "g/100g": GramPer100, "g/kg": GramPerKg, "g per kg": GramPerKg, "‰": GramPerKg,
	"g/l": GramPerL, "g per l": GramPerL, "g/litre": GramPerL, "g/liter": GramPerL, "g/litro": GramPerL,
}

// longestSymbol bounds how far scanSymbol looks, in bytes.
const longestSymbol = 12

// ScanAmount reads an amount at the start of s ("1,5 g agar") and returns what
// follows it. A figure without a unit gives Unit "" and no error: the caller
// knows what is usual there. Errors are as for [ParseFigure].
func ScanAmount(s string) (a Amount, rest string, err error) {
	v, end, err := scanFigure(s)
	if err != nil {
		return Amount{}, s, err
	}
	rest = strings.TrimLeft(s[end:], spaces)
	sym, n := scanSymbol(rest)
	return Amount{v, sym}, strings.TrimLeft(rest[n:], spaces), nil
}

// scanSymbol finds the longest unit at the start of s that ends at a word's end.
func scanSymbol(s string) (Symbol, int) {
	low := strings.ToLower(s)
	if len(low) != len(s) { // case folding changed lengths: no unit does that
		return "", 0
	}
	for n := min(longestSymbol, len(low)); n > 0; n-- {
		sym, ok := symbolNames[low[:n]]
		if !ok || !wordEnds(low[:n], low[n:]) {
			continue
		}
		if n < len(low) && low[n] == '.' {
			n++
		}
		return sym, n
	}
	return "", 0
}

// wordEnds reports whether a unit followed by rest is a whole word: "g agar",
// "g" and "%agar" are, "garlic" is not.
func wordEnds(unitText, rest string) bool {
	if rest == "" || strings.HasSuffix(unitText, "%") || strings.HasSuffix(unitText, "‰") {
		return true
	}
	c := rest[0]
	return c < 0x80 && !(c >= 'a' && c <= 'z') && !(c >= '0' && c <= '9') && c != '/'
}

// ParseAmount reads a whole amount, "350 ml". A missing unit takes usual.
// Errors are *InputError: as for [ParseFigure], or ErrUnit for an unknown
// unit.
func ParseAmount(s string, usual Symbol) (Amount, error) {
	a, rest, err := ScanAmount(s)
	if err != nil {
		return Amount{}, err
	}
	if rest != "" {
		cause := ErrUnit
		if strings.ContainsAny(rest, "0123456789") { // 1e309 is no unit, but a figure gone wrong
			cause = ErrNotFigure
		}
		return Amount{}, inputError(s, len(s)-len(rest), cause)
	}
	if a.Unit == "" {
		a.Unit = usual
	}
	return a, nil
}

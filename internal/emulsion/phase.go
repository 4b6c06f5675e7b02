package emulsion

import (
	"slices"
	"strconv"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Part is one ingredient in one of the two lists.
type Part struct {
	Name        string      // what the cook calls it; carried along, never read
	Kind        Kind        // a row of the catalogue, or Plain
	Mass        unit.Mass   // g, above zero
	Own         Composition // for Plain parts; a vinegar or juice may state its own Acetic or Citric here
	Like        Kind        // for Plain parts: the row whose emulsifier, egg and allergen it has, with the composition in Own
	Pasteurised bool        // for egg: bought or made pasteurised
}

// What a fat list and a water list may hold: a part of the water list is at
// most half fat (cream passes, butter does not), one of the oil list at least
// 30 % (cream passes, milk does not). Sorting rules of this program.
const (
	mostFatInWater = 0.5
	leastFatInOil  = 0.3
)

// maxMass is the largest mass taken, a tonne.
const maxMass = 1e6

// sums is what the two lists come to.
type sums struct {
	mass                  float64
	oil, oilVolume        float64 // fat as droplets: g, ml
	rest, restVolume      float64 // the watery side: g, ml
	water, salt           float64
	acetic, citric        float64
	acidParts, plainWater float64 // mass of vinegars and juices, and of plain water
	fat, vegetable        float64 // all fat; vegetable fat
	yolk, white, rawEgg   float64
	xanthan               float64
	active                float64
	capacity              unit.Range
	perOilMass            float64 // of the oil list: its mass,
	perOilFatVolume       float64 // the volume of its fat
	perOilVolume          float64 // and its whole volume
	allergens             []string
}

// row completes a part from the catalogue.
func (p Part) row(field string) (Ingredient, error) {
	if !(p.Mass > 0 && p.Mass <= maxMass) {
		return Ingredient{}, note.Refuse(field, BadFigure, note.Num("most", maxMass, unit.Gram))
	}
	i := Ingredient{Composition: p.Own, Droplets: true}
	switch {
	case p.Kind == Plain && p.Like != Plain:
		var ok bool
		if i, ok = Find(p.Like); !ok {
			return i, note.Refuse(field, UnknownPart, note.Typed("part", string(p.Like)))
		}
		i.Composition = p.Own
	case p.Kind != Plain:
		var ok bool
		if i, ok = Find(p.Kind); !ok {
			return i, note.Refuse(field, UnknownPart, note.Typed("part", string(p.Kind)))
		}
		if p.Own.Acetic > 0 {
			i.Composition.Acetic = p.Own.Acetic
		}
		if p.Own.Citric > 0 {
			i.Composition.Citric = p.Own.Citric
		}
	}
	return i, checkShares(field, i.Composition)
}

func checkShares(field string, c Composition) error {
	all := []unit.Fraction{c.Water, c.Fat, c.Salt, c.Acetic, c.Citric}
	sum := 0.0
	for _, f := range all {
		if !(f >= 0 && f <= 1) {
			return note.Refuse(field, BadFigure, note.Num("most", 100, unit.PercentOf))
		}
		sum += float64(f)
	}
	if sum > 1.0005 {
		return note.Refuse(field, BadShare, note.Num("sum", sum*100, unit.PercentOf))
	}
	if c.Density != 0 && !(c.Density >= 0.5 && c.Density <= 3) {
		return note.Refuse(field, BadFigure, note.Num("most", 3, unit.GramPerMl))
	}
	return nil
}

func partField(list string, i int) string { return list + "." + strconv.Itoa(i) }

// add takes one part in. inOil tells the list.
func (s *sums) add(p Part, i Ingredient, inOil bool) {
	m, c := float64(p.Mass), i.Composition
	fat := m * float64(c.Fat)
	drops := 0.0
	if inOil || i.Droplets {
		drops = fat
	}
	fatDensity, restDensity := float64(oilDensity), float64(waterDensity)
	switch {
	case c.Density == 0:
	case inOil:
		fatDensity = float64(c.Density)
	default:
		restDensity = float64(c.Density)
	}
	s.mass += m
	s.oil += drops
	s.oilVolume += drops / fatDensity
	s.rest += m - drops
	s.restVolume += (m - drops) / restDensity
	s.fat += fat
	s.water += m * float64(c.Water)
	s.salt += m * float64(c.Salt)
	s.acetic += m * float64(c.Acetic)
	s.citric += m * float64(c.Citric)
	if c.Acetic > 0 || c.Citric > 0 {
		s.acidParts += m
	}
	if p.Kind == "water" {
		s.plainWater += m
	}
	s.addKind(p, i, m, fat)
	if inOil {
		s.perOilMass += m
		s.perOilFatVolume += drops / fatDensity
		s.perOilVolume += drops/fatDensity + (m-drops)/restDensity
	}
}

func (s *sums) addKind(p Part, i Ingredient, m, fat float64) {
	if i.Vegetable {
		s.vegetable += fat
	}
	s.yolk += m * float64(i.Yolk)
	s.white += m * float64(i.White)
	if (i.Yolk > 0 || i.White > 0) && !p.Pasteurised {
		s.rawEgg += m
	}
	s.xanthan += m * float64(i.Xanthan)
	s.active += m * float64(i.Active)
	s.capacity = sumRange(s.capacity, i.Capacity.Scale(m))
	if i.Allergen != "" && !slices.Contains(s.allergens, i.Allergen) {
		s.allergens = append(s.allergens, i.Allergen)
	}
}

func sumRange(a, b unit.Range) unit.Range {
	return unit.Range{Low: a.Low + b.Low, Typical: a.Typical + b.Typical, High: a.High + b.High}
}

// sum adds both lists up and refuses what stands in the wrong one.
func (in Input) sum() (sums, error) {
	var s sums
	for n, p := range in.Water {
		field := partField("water", n)
		i, err := p.row(field)
		if err != nil {
			return s, err
		}
		if i.Composition.Fat > mostFatInWater {
			return s, note.Refuse(field, OilInWater, note.Num("fat", i.Composition.Fat.Percent(), unit.PercentOf), note.Num("most", mostFatInWater*100, unit.PercentOf))
		}
		s.add(p, i, false)
	}
	for n, p := range in.Oil {
		field := partField("oil", n)
		i, err := p.row(field)
		if err != nil {
			return s, err
		}
		if i.Composition.Fat < leastFatInOil {
			return s, note.Refuse(field, WaterInOil, note.Num("fat", i.Composition.Fat.Percent(), unit.PercentOf), note.Num("least", leastFatInOil*100, unit.PercentOf))
		}
		s.add(p, i, true)
	}
	return s, nil
}

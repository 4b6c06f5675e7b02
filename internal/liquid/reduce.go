package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Relative volatilities against water at the boil, by mass: what leaves a pan
// has this many times the ratio to water that the liquid has. Ethanol 8 to 11,
// acetic acid 0.7 (from memory). A constant ratio in a two-component boil obeys
// ln(n/n0) = α ln(w/w0) with w the water left (Lord Rayleigh, 1902).
var ethanolVolatility = [3]float64{8, 10, 11}

const aceticVolatility = 0.7

// strongAlcohol is the mass fraction of ethanol in ethanol and water from where
// the constant ratio overstates the loss.
const strongAlcohol = 0.2

// evaporation is what stays of volatile constituents for a share of water left.
type evaporation struct {
	ethanol float64 // relative volatility; unused when kept is given
	kept    float64 // share of the ethanol that stays by the table, when not negative
	open    bool    // and no more than what boils off with the water leaves
	gentle  bool    // as little as an open pan can lose: it never gets stronger
}

// left is the mass of some amounts once the share w of the water is left.
func (e evaporation) left(a *Amounts, w float64) float64 {
	return a.DryMatter() + a[Carbonic] + a[Sulfurous] + a[Water]*w + a[Ethanol]*e.ethanolLeft(w) + a[Acetic]*math.Pow(w, aceticVolatility)
}

// waterLeft is the share of the water at which the whole weighs target: Newton
// steps inside a bracket, since the mass grows with the share.
func (e evaporation) waterLeft(a *Amounts, target float64) float64 {
	dry := e.left(a, 0) - a[Ethanol]*e.ethanolLeft(0)
	low, high, w := 0.0, 1.0, min(1, max(0, target-dry)/max(1e-300, a[Water]))
	for range 80 {
		ethanol, acetic := a[Ethanol]*e.ethanolLeft(w), a[Acetic]*math.Pow(w, aceticVolatility)
		over := dry + a[Water]*w + ethanol + acetic - target
		if over > 0 {
			high = w
		} else {
			low = w
		}
		slope := a[Water] + (e.ethanolOrder()*ethanol+aceticVolatility*acetic)/max(1e-12, w)
		next := w - over/slope
		if !(next > low && next < high) {
			next = 0.5 * (low + high)
		}
		moved := math.Abs(next - w)
		w = next
		if moved < 1e-14 {
			break
		}
	}
	return w
}

// ethanolOrder is the power of the water's share by which the ethanol goes.
func (e evaporation) ethanolOrder() float64 {
	switch {
	case e.kept >= 0 && !e.open:
		return 0
	case e.gentle:
		return 1
	}
	return e.ethanol
}

func (e evaporation) ethanolLeft(w float64) float64 {
	switch {
	case e.kept < 0:
		return math.Pow(w, e.ethanol)
	case !e.open:
		return e.kept
	case e.gentle:
		return min(e.kept, w)
	}
	return min(e.kept, math.Pow(w, e.ethanol))
}

// apply drives off all but the share w of the water.
func (e evaporation) apply(a *Amounts, w float64) {
	a[Ethanol] *= e.ethanolLeft(w)
	a[Acetic] *= math.Pow(w, aceticVolatility)
	a[Water] *= w
}

func (l *Liquid) evaporation(s *Step, set setting) (evaporation, error) {
	e := evaporation{ethanol: ethanolVolatility[1+set.volatility], kept: -1}
	a := l.Parts()
	if a[Ethanol] <= 0 {
		return e, nil
	}
	if s.ByTable && s.Kind == StepBoil {
		return l.openPan(s, set, e)
	}
	if s.ByTable {
		kept, err := l.retained(s.Treatment, s.Time)
		e.kept = kept
		return e, err
	}
	l.say(note.New(note.Reason, CodeRayleigh, note.Num("volatility", ethanolVolatility[1], unit.One)).From(srcHandbookBoil))
	if x := a[Ethanol] / (a[Ethanol] + a[Water]); x > strongAlcohol {
		l.say(note.New(note.Caution, CodeStrong, note.Num("share", 100*x, unit.PercentOf)))
	}
	return e, nil
}

// openPan is a simmer whose surface is known. The table of retention is of dishes;
// what boils off with the water of an open pan can be far more, so that the table
// is the most that stays, and what the water takes along the typical case.
func (l *Liquid) openPan(s *Step, set setting, e evaporation) (evaporation, error) {
	share, _, _, err := Retained(s.Treatment, s.Time)
	if err != nil {
		return e, err
	}
	e.kept, e.open, e.gentle = float64(share), true, set.volatility < 0
	l.say(note.New(note.Reason, CodeOpenPan, note.Num("kept", math.Round(share.Percent()), unit.PercentOf)).From(srcRetention.ref()))
	return e, nil
}

// reduce boils down to a weight or by a share of the mass.
func (l *Liquid) reduce(s *Step, set setting) error {
	have := float64(l.Mass())
	target, field := float64(s.To), "to"
	if target == 0 {
		field = "share"
		f := float64(s.Share)
		if !unit.Finite(f) || f < 0 || f >= 1 {
			return note.Refuse(field, CodeNotLess, note.Num("value", finiteOr0(100*f), unit.PercentOf), note.Num("limit", 100, unit.PercentOf))
		}
		target = have * (1 - f)
	}
	if !unit.Finite(target) || target > have*(1+1e-9) || target <= 0 {
		return note.Refuse(field, CodeNotLess, note.Num("value", finiteOr0(target), unit.Gram), note.Num("limit", have, unit.Gram))
	}
	e, err := l.evaporation(s, set)
	if err != nil {
		return err
	}
	return l.evaporateTo(field, target, e)
}

// evaporateTo boils down to a mass, and refuses to go below what cannot leave.
func (l *Liquid) evaporateTo(field string, target float64, e evaporation) error {
	l.degas()
	a := l.Parts()
	have := a.Mass()
	if limit := e.left(&a, 0); target <= limit {
		return note.Refuse(field, CodeTooDry, note.Num("value", target, unit.Gram), note.Num("limit", limit, unit.Gram), note.Num("most", 100*(1-limit/have), unit.PercentOf))
	}
	if target < have*(1-1e-6) {
		w := e.waterLeft(&a, target)
		for i := range l.portions {
			e.apply(&l.portions[i].parts, w)
		}
		// The search stops within one step of the figure; water takes the rest so
		// that the weight is the one asked for.
		b := l.Parts()
		if b[Water] > 0 {
			k := 1 + (target-b.Mass())/b[Water]
			for i := range l.portions {
				l.portions[i].parts[Water] *= max(0, k)
			}
		}
		l.heat() // what loses nothing has not boiled
	}
	return nil
}

// heat ends what heat ends: fresh enzymes and raw egg. The liquid boiled.
func (l *Liquid) heat() {
	l.boiled = true
	l.flags &^= Protease | Preheated | RawEgg
	l.merge()
}

// degas drives off carbon dioxide and sulphur dioxide: what the remaining alkali
// does not hold as bicarbonate leaves at the boil.
func (l *Liquid) degas() {
	a := l.Parts()
	if a[Carbonic] > 0 {
		hold := 0.0
		others := a
		others[Carbonic] = 0
		if s, ok := others.solution(l.sid(), at25); ok {
			hold = max(0, s.SID+s.chargeAt(8.3, 0.05)) * a[Water] / 1000 * acids[CarbonicAcid].molar
		}
		if k := hold / a[Carbonic]; k < 1 {
			for i := range l.portions {
				l.portions[i].parts[Carbonic] *= k
			}
			l.say(note.New(note.Reason, CodeGasLost))
		}
	}
	for i := range l.portions {
		l.portions[i].parts[Sulfurous] = 0
	}
}

// simmerRate is kg of water per m² and hour from a kitchen simmer: common practice.
var simmerRate = unit.Range{Low: 7, Typical: 14, High: 22}

// boil loses water by time, surface and rate.
func (l *Liquid) boil(s *Step, set setting) error {
	if t := float64(s.Time); !unit.Finite(t) || t < 0 || t > 7*24*3600 {
		return note.Refuse("time", CodeBadTime, note.Num("value", finiteOr0(t/60), unit.Minute), note.Num("limit", 7*24*60, unit.Minute))
	}
	if !unit.Finite(s.Area) || s.Area <= 0 || s.Area > 1e5 {
		return note.Refuse("area", CodeBadAmount, note.Num("value", finiteOr0(s.Area), unit.SquareCm), note.Num("limit", 1e5, unit.SquareCm))
	}
	rate := s.Rate
	if rate == (unit.Range{}) {
		rate = simmerRate
	}
	if !rate.Valid() || rate.Low < 0 || rate.High > 200 {
		return note.Refuse("rate", CodeBadAmount, note.Num("value", finiteOr0(rate.Typical), unit.One), note.Num("limit", 200, unit.One))
	}
	e, err := l.evaporation(s, set)
	if err != nil {
		return err
	}
	perRate := s.Area / 1e4 * float64(s.Time) / 3600 * 1000
	have := float64(l.Mass())
	l.say(note.New(note.Hint, CodeRate, note.Num("low", perRate*rate.Low, unit.Gram), note.Num("typical", perRate*rate.Typical, unit.Gram), note.Num("high", perRate*rate.High, unit.Gram)).From(srcPractice.ref()))
	loss := perRate * [3]float64{rate.Low, rate.Typical, rate.High}[1+set.rate]
	if set.rate > 0 {
		a := l.Parts()
		loss = min(loss, 0.98*(have-e.left(&a, 0)))
	}
	return l.evaporateTo("time", have-loss, e)
}

// cook takes alcohol by the table of retention and no water.
func (l *Liquid) cook(s *Step) error {
	kept, err := l.retained(s.Treatment, s.Time)
	if err != nil {
		return err
	}
	for i := range l.portions {
		l.portions[i].parts[Ethanol] *= kept
	}
	if s.Treatment != NoHeatOvernight {
		l.degas()
	}
	switch s.Treatment {
	case NoHeatOvernight, Flamed, AddedOffHeat:
		l.merge()
	default:
		l.heat()
	}
	return nil
}

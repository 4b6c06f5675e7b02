package foam

import (
	"cmp"
	"slices"
)

// tier is one way to fill one size of body: up to most grams take this many charges.
type tier struct {
	charges int
	most    int // g
}

// body is one size of body in the search: how many stand there, the least
// sensible fill, and its tiers by rising charges.
type body struct {
	shelf int // index on the shelf
	count int
	least int // g
	line  int // g at the fill line
	tiers []tier
}

// pick is one filling that the search chose.
type pick struct {
	shelf   int // index on the shelf
	line    int
	least   int
	most    int
	charges int
}

// search finds the fillings that hold base grams: fewest chargers, then fewest
// rounds (a round is one filling of every body), then fewest fillings, then the
// larger bodies. Every filling can be given at least its least and at most its
// most. It returns nil when none does within maxRounds.
//
// The chargers are counted up from one. For each count and number of rounds a
// table of the most grams that c chargers can hold in the bodies not yet decided
// cuts off every branch that cannot succeed, so only branches that hold the base
// are walked.
func search(bodies []body, base, maxRounds int) (picks []pick, rounds int) {
	bodies = slices.Clone(bodies)
	slices.SortStableFunc(bodies, func(a, b body) int { return cmp.Compare(b.line, a.line) })
	last := newHolding(bodies, base, maxRounds)
	for chargers := 1; chargers <= last.chargers; chargers++ {
		if last.with(chargers) < base {
			continue
		}
		for rounds := 1; rounds <= maxRounds; rounds++ {
			h := last
			if rounds < maxRounds {
				h = newHolding(bodies, base, rounds)
			}
			if h.with(chargers) < base {
				continue
			}
			w := walk{holding: h, base: base, fewest: base + 1, been: map[[3]int]weighed{}}
			w.from(0, min(chargers, h.chargers), 0, 0, 0)
			if w.best != nil {
				return w.picks(), rounds
			}
		}
	}
	return nil, 0
}

// holding knows the most grams that chargers can hold.
type holding struct {
	bodies   []body
	chargers int       // the most that can be used
	of       [][][]int // [body][fillings][chargers]: most grams with exactly that, -1 when impossible
	after    [][]int   // [body][chargers]: most grams in this body and the following with at most that
}

const impossible = -1

func newHolding(bodies []body, base, rounds int) holding {
	h := holding{bodies: bodies}
	for _, b := range bodies {
		table := b.holds(fillingsWorth(b, base, rounds))
		h.of = append(h.of, table)
		h.chargers += len(table[len(table)-1]) - 1
	}
	h.after = make([][]int, len(bodies)+1)
	h.after[len(bodies)] = make([]int, h.chargers+1)
	for k := len(bodies) - 1; k >= 0; k-- {
		h.after[k] = join(h.of[k], h.after[k+1])
	}
	return h
}

// with is the most grams that so many chargers hold in all bodies.
func (h *holding) with(chargers int) int { return h.after[0][min(chargers, h.chargers)] }

// fillingsWorth is how many fillings of a body can be of use: its bodies times
// the rounds, and no more than hold the base with the smallest tier.
func fillingsWorth(b body, base, rounds int) int {
	enough := base/b.tiers[0].most + 1
	return min(b.count*rounds, enough)
}

// holds tabulates the most grams by number of fillings and chargers.
func (b body) holds(fillings int) [][]int {
	top := b.tiers[len(b.tiers)-1].charges
	table := make([][]int, fillings+1)
	for n := range table {
		table[n] = make([]int, top*fillings+1)
		for c := range table[n] {
			table[n][c] = impossible
			if n == 0 {
				continue
			}
			for _, t := range b.tiers {
				if c >= t.charges && table[n-1][c-t.charges] != impossible {
					table[n][c] = max(table[n][c], table[n-1][c-t.charges]+t.most)
				}
			}
		}
		if n == 0 {
			table[0][0] = 0
		}
	}
	return table
}

// join adds one body's table to the table of those after it.
func join(of [][]int, after []int) []int {
	mine := make([]int, len(of[0]))
	for c := range mine {
		for n := range of {
			mine[c] = max(mine[c], of[n][c])
		}
	}
	all := make([]int, len(after))
	for c := range all {
		all[c] = after[c]
		for used := 1; used <= min(c, len(mine)-1); used++ {
			if mine[used] != impossible {
				all[c] = max(all[c], mine[used]+after[c-used])
			}
		}
	}
	return all
}

// walk goes through the bodies and keeps the choice of the fewest fillings.
type walk struct {
	holding
	base   int
	fewest int
	path   []choice
	best   []choice
	been   map[[3]int]weighed
}

// weighed is what a branch had gathered when it came to a body.
type weighed struct{ most, least int }

// worse reports whether the walk has been at this body with as many chargers and
// fillings, at least the grams and no more of the least fillings: then nothing new
// can come of it.
func (w *walk) worse(k, chargers, fillings, most, least int) bool {
	key := [3]int{k, chargers, fillings}
	if old, was := w.been[key]; was && old.most >= most && old.least <= least {
		return true
	}
	w.been[key] = weighed{most, least}
	return false
}

// choice is how many fillings of a body with how many chargers in all.
type choice struct{ body, fillings, chargers int }

func (w *walk) from(k, chargers, fillings, most, least int) {
	if fillings >= w.fewest || least > w.base {
		return
	}
	if most >= w.base {
		w.fewest, w.best = fillings, slices.Clone(w.path)
		return
	}
	if k == len(w.bodies) || w.worse(k, chargers, fillings, most, least) {
		return
	}
	of := w.of[k]
	for n := len(of) - 1; n >= 0; n-- {
		if least+n*w.bodies[k].least > w.base || fillings+n >= w.fewest {
			continue
		}
		for c := min(chargers, len(of[n])-1); c >= 0; c-- {
			if of[n][c] == impossible || most+of[n][c]+w.after[k+1][chargers-c] < w.base {
				continue
			}
			w.path = append(w.path, choice{k, n, c})
			w.from(k+1, chargers-c, fillings+n, most+of[n][c], least+n*w.bodies[k].least)
			w.path = w.path[:len(w.path)-1]
		}
	}
}

// picks writes the best path out as single fillings.
func (w *walk) picks() []pick {
	var all []pick
	for _, s := range w.best {
		b, c := w.bodies[s.body], s.chargers
		for n := s.fillings; n > 0; n-- {
			for i := len(b.tiers) - 1; i >= 0; i-- {
				t := b.tiers[i]
				if c >= t.charges && w.of[s.body][n-1][c-t.charges] != impossible && w.of[s.body][n-1][c-t.charges]+t.most == w.of[s.body][n][c] {
					all = append(all, pick{b.shelf, b.line, b.least, t.most, t.charges})
					c -= t.charges
					break
				}
			}
		}
	}
	return all
}

// share spreads base grams over the fillings so that all stand at the same part
// of their line, as far as least and most allow. Whole grams, summing to base.
func share(picks []pick, base int) []int {
	at := func(part float64) (grams []int, sum int) {
		for _, p := range picks {
			g := min(max(int(part*float64(p.line)), p.least), p.most)
			grams, sum = append(grams, g), sum+g
		}
		return grams, sum
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		if mid := (lo + hi) / 2; sumOf(at(mid)) <= base {
			lo = mid
		} else {
			hi = mid
		}
	}
	if _, sum := at(1); sum <= base {
		lo = 1
	}
	grams, sum := at(lo)
	for left := base - sum; left > 0; { // the grams lost to rounding down
		before := left
		for i, p := range picks {
			if left > 0 && grams[i] < p.most {
				grams[i]++
				left--
			}
		}
		if left == before {
			break
		}
	}
	return grams
}

func sumOf(_ []int, sum int) int { return sum }

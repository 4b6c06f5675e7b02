package liquid_test

import (
	"testing"

	"tremblant/internal/liquid"
)

// A whole recipe with a reduction, and all its figures with ranges: the page
// recomputes it at every keystroke.
func BenchmarkRunAndState(b *testing.B) {
	steps := []liquid.Step{
		liquid.Add(get(b, "cider-vinegar"), 300), liquid.Add(get(b, "apple-juice"), 150), liquid.Add(get(b, "sugar"), 60),
		liquid.Add(get(b, "white-wine"), 100), liquid.Add(get(b, "salt"), 5), liquid.ReduceBy(0.3),
	}
	for b.Loop() {
		l, err := liquid.Run(steps)
		if err != nil {
			b.Fatal(err)
		}
		s := l.State(25)
		_ = s
	}
}

func BenchmarkAddToReachPH(b *testing.B) {
	l := mix(b, liquid.Add(get(b, "apple-juice"), 500))
	lemon := get(b, "lemon-juice")
	for b.Loop() {
		if _, err := l.AddToReach(lemon, liquid.PropPH, 3.2); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	for b.Loop() {
		liquid.Find("monosodium glutamate")
	}
}

func BenchmarkNearest(b *testing.B) {
	for b.Loop() {
		liquid.Nearest("rasberry coolis", 5, liquid.Naming{})
	}
}

package foam_test

import (
	"fmt"
	"slices"

	"tremblant/internal/foam"
	"tremblant/internal/unit"
)

// halfLitre is the catalogue's record of that body.
func halfLitre() foam.Siphon {
	all := foam.Catalogue()
	return all[slices.IndexFunc(all, func(s foam.Siphon) bool { return s.ID == "siphon-500" })]
}

// Thirty-eight covers of 40 ml from two half-litre bodies; the cook has measured
// that this base grows by 250 %.
func ExampleMake() {
	half := halfLitre()
	half.Count = 2
	plan, err := foam.Make(foam.Request{
		Formula: foam.Formula{
			Type: "stabiliser", Liquid: 400, Doses: []foam.Dose{{Agent: "foam-stab", Mass: 35}},
			Base: foam.Base{Temperature: 5, Density: 1.03, Water: unit.Exactly(0.85), Sugar: 0.05},
		},
		Covers: 38, Portion: foam.Portion{Size: 40}, Shelf: []foam.Siphon{half}, Tests: foam.Measured{2.5},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f g of base, %d filling, %d charger, %.0f portions\n", float64(plan.Base), len(plan.Fillings), plan.Chargers, plan.Portions.Typical)
	// Output: 471 g of base, 1 filling, 1 charger, 38 portions
}

// A cold half-litre body with one charge, its brim volume measured.
func ExampleSettle() {
	body := halfLitre()
	body.Brim = unit.Exactly(670)
	state, err := foam.Settle(foam.Fill{
		Siphon: body, Mass: 500, Charges: 1,
		Base: foam.Base{Temperature: 5, Density: 1, Water: unit.Exactly(1)},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f bar, %.0f %% of the gas dissolved\n", state.Gauge.Typical/1e5, state.DissolvedShare.Percent())
	// Output: 5.7 bar, 75 % of the gas dissolved
}

// Hot gelatin foam is refused, with the reason and the nearest plan that works.
func ExampleUnworkable() {
	half := halfLitre()
	half.Count = 1
	_, err := foam.Make(foam.Request{
		Formula: foam.Formula{Type: "gelatin", Base: foam.Base{Temperature: 60, Water: unit.Exactly(0.9)}},
		Covers:  10, Portion: foam.Portion{Size: 40}, Shelf: []foam.Siphon{half},
	})
	if no, ok := err.(*foam.Unworkable); ok {
		fmt.Printf("%s, works at %.0f °C\n", no.Reason.Code, float64(no.Nearest.Formula.Base.Temperature))
	}
	// Output: foam.too-hot, works at 5 °C
}

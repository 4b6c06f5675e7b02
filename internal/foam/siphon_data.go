package foam

import "tremblant/internal/unit"

// Catalogue lists the usual bodies, smallest first, with a guess of their brim
// volume (common practice: no maker's sheet was read) and the trade's rule of
// charges. Count is 0 and no working pressure is stated: both are the cook's to say.
func Catalogue() []Siphon {
	return []Siphon{
		{
			ID: "siphon-250", Nominal: 250, Brim: unit.Range{Low: 300, Typical: 340, High: 380}, MadeForN2O: true, Source: srcPractice,
			Rule: ChargeRule{Rich: unit.Exactly(1), Lean: unit.Exactly(1), Hot: unit.Exactly(1), NeverOver: 1, Source: srcPractice},
		},
		{
			ID: "siphon-500", Nominal: 500, Brim: unit.Range{Low: 600, Typical: 670, High: 750}, MadeForN2O: true, Source: srcPractice,
			Rule: ChargeRule{Rich: unit.Exactly(1), Lean: unit.Range{Low: 1, Typical: 1, High: 2}, Hot: unit.Exactly(1), NeverOver: 2, Source: srcSiphonPage},
		},
		{
			ID: "siphon-1000", Nominal: 1000, Brim: unit.Range{Low: 1150, Typical: 1300, High: 1450}, MadeForN2O: true, Source: srcPractice,
			Rule: ChargeRule{Rich: unit.Exactly(2), Lean: unit.Exactly(2), Hot: unit.Range{Low: 1, Typical: 2, High: 2}, NeverOver: 3, Source: srcSiphonPage},
		},
	}
}

// DefaultCharger is the usual charger: 8 g nominal, 7.7 to 8.3 g found (common
// practice), of which 0.90 to 0.98 reaches the siphon: 1.4 to 5 % stay in its
// 10 ml at 6 to 20 bar, the rest hisses away.
var DefaultCharger = Charger{
	Gas:      unit.Range{Low: 7.7, Typical: 8.0, High: 8.3},
	Transfer: unit.Range{Low: 0.90, Typical: 0.95, High: 0.98},
	Source:   srcCoupling,
}

package method_test

import (
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/plantest"
	"tremblant/internal/source"
)

// The shared process facts under short names.
var (
	agar         = plantest.Agar
	gellan       = plantest.Gellan
	gelatin      = plantest.Gelatin
	iota         = plantest.Iota
	lactate      = plantest.Lactate
	alginate     = plantest.Alginate
	xanthan      = plantest.Xanthan
	eggwhite     = plantest.EggWhite
	mc           = plantest.MC
	gellanHA     = plantest.GellanHA
	hmPectin     = plantest.HMPectin
	starch       = plantest.Starch
	practice     = plantest.Practice
	everyProcess = plantest.All
)

func fact(low, typical, high float64, ref source.Ref) method.Fact {
	return plantest.Fact(low, typical, high, ref)
}

package emulsion

import "tremblant/internal/source"

func published(s string) source.Ref { return source.Ref{Tag: source.Published, Text: s} }
func memory(s string) source.Ref    { return source.Ref{Tag: source.Memory, Text: s} }

var (
	practice = source.Ref{Tag: source.Practice}
	packing  = memory("textbook values: random close packing and face-centred packing of equal spheres")
	mcGee    = published("McGee, On Food and Cooking, 2004, cold egg sauces and butter sauces")
	lowe     = published("Lowe, Experimental Cookery, concentration of oil in mayonnaise and breaking of mayonnaise")
	usda     = func(ndb string) source.Ref {
		return source.Ref{Tag: source.Open, Text: "USDA National Nutrient Database for Standard Reference, Release 28 (2015-2016), NDB " + ndb}
	}
	parker   = published("Parker et al., Food Hydrocolloids 9 (1995) 333: how xanthan stabilises salad dressing")
	dressing = published("Grizio, pourable dressings, Kansas State University, 2011; xanthan in egg-free dressing, PMC5241418")
	stokes   = source.Ref{Tag: source.Derived, Text: "Stokes' law, hindered; usual droplet sizes from memory; under 1 mm a day counts as stable: McClements, Food Emulsions"}
	foodCode = published("US FDA Food Code 3-302.13 and 3-801.11(B), as adopted by several states")
	twoHours = published("Food Standards Australia New Zealand, 2-hour/4-hour rule; US FDA Food Code 3-501.16")
	granules = memory("salt opens yolk granules; Belitz, Grosch & Schieberle, Food Chemistry, 2009")
	curdling = memory("McGee, On Food and Cooking, 2004: cream, acid and heat")
	hotEgg   = source.Ref{Tag: source.Tertiary, Text: "cooking pages on hot egg and butter sauces"}
)

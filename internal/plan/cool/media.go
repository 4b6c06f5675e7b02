package cool

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Face is what touches a surface: heat transfer coefficient in W/(m²·K) with
// its range, and temperature.
type Face struct {
	H    unit.Range
	Temp unit.Celsius
}

// Medium is a place to cool in. Base touches the bottom and the sides, Open the
// free surface of a tray or bowl.
type Medium struct {
	ID         string
	Base, Open Face
	Fridge     bool // a cabinet that a large hot load warms up
	Source     source.Ref
}

var (
	stillSource = source.Ref{Tag: source.Practice}
	iceSource   = source.Ref{Tag: source.Memory, Text: "heat transfer coefficients of still and moved water, as in Incropera & DeWitt, Fundamentals of Heat and Mass Transfer"}
	roomSource  = source.Ref{Tag: source.Memory, Text: "natural convection and radiation in room air, as in Incropera & DeWitt, Fundamentals of Heat and Mass Transfer"}
)

var (
	stillAir = Face{unit.Range{Low: 5, Typical: 8, High: 12}, 4}
	fanAir   = Face{unit.Range{Low: 12, Typical: 20, High: 30}, 4}
	roomAir  = Face{unit.Range{Low: 8, Typical: 10, High: 12}, 20}
)

// Media are the places that the catalogue knows; a kitchen may put its own
// temperatures in. A steel shelf conducts to the shelf, ice is at 0.5 °C where
// it meets the vessel, over an ice bath there is room air.
var Media = []Medium{
	{ID: "still-fridge", Base: stillAir, Open: stillAir, Fridge: true, Source: stillSource},
	{ID: "still-fridge-steel", Base: Face{unit.Range{Low: 30, Typical: 60, High: 150}, 4}, Open: stillAir, Fridge: true, Source: stillSource},
	{ID: "fan-fridge", Base: fanAir, Open: fanAir, Fridge: true, Source: stillSource},
	{ID: "blast-chiller", Base: Face{unit.Range{Low: 25, Typical: 40, High: 60}, 2}, Open: Face{unit.Range{Low: 25, Typical: 40, High: 60}, 2}, Source: stillSource},
	{ID: "ice-bath-still", Base: Face{unit.Range{Low: 150, Typical: 250, High: 500}, 0.5}, Open: roomAir, Source: iceSource},
	{ID: "ice-bath-stirred", Base: Face{unit.Range{Low: 400, Typical: 800, High: 1500}, 0.5}, Open: roomAir, Source: iceSource},
	{ID: "room", Base: roomAir, Open: roomAir, Source: roomSource},
}

// FindMedium looks a medium up by its id.
func FindMedium(id string) (Medium, bool) {
	for _, m := range Media {
		if m.ID == id {
			return m, true
		}
	}
	return Medium{}, false
}

// Wall is a vessel's wall as a resistance to heat.
type Wall struct {
	ID         string
	Resistance float64 // m²·K/W: thickness over conductivity
	Source     source.Ref
}

// Walls are common vessels: 1 mm steel, 3 mm glass, 1.5 mm plastic.
var Walls = []Wall{
	{"steel", 0.001 / 15, source.Ref{Tag: source.Memory, Text: "conductivity of stainless steel about 15 W/(m·K), as in Incropera & DeWitt"}},
	{"glass", 0.003 / 1.0, source.Ref{Tag: source.Memory, Text: "conductivity of glass about 1.0 W/(m·K), as in Incropera & DeWitt"}},
	{"plastic", 0.0015 / 0.2, source.Ref{Tag: source.Memory, Text: "conductivity of polypropylene about 0.2 W/(m·K), as in maker's tables"}},
}

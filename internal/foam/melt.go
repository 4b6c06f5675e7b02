package foam

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// melted says which gels are liquid at the table, where none is left that could
// hold the bubbles: each melts below the base's temperature at the highest melting
// point, in °C, that the agent's record gives, which is its source as well. Egg,
// a purée that the kind of foam rests on, and agents made to foam, to set on heating
// or to thicken hot hold it instead; a gum that only helps does not.
func (f Formula) melted(kind Type) []note.Note {
	if f.heldWithoutGel(kind) {
		return nil
	}
	var notes []note.Note
	for _, d := range f.Doses {
		a := agent.ByID(agent.ID(d.Agent))
		w, known := f.window(kind, d.Agent)
		if a == nil || d.Mass == 0 || a.Job == agent.Sets {
			continue
		}
		melt := a.Setting.MeltC
		switch {
		case a.Setting.Kind == agent.OnCooling && melt.Known() && melt.High < float64(f.Base.Temperature):
			notes = append(notes, note.New(note.Caution, CodeMelts, note.Word("agent", "agent."+d.Agent),
				note.Num("limit", melt.High, unit.DegreeC), degrees("temperature", f.Base.Temperature)).At("dose."+d.Agent).From(melt.Ref()))
		case a.Job == agent.Thickens && (!known || w.Help):
		default: // it holds what it holds, melted gels beside it or not
			return nil
		}
	}
	return notes
}

// heldWithoutGel reports whether egg or purée carries the foam.
func (f Formula) heldWithoutGel(kind Type) bool {
	for _, w := range kind.Shares {
		if w.ID == SharePuree && f.Puree > 0 {
			return true
		}
	}
	return f.egg()
}

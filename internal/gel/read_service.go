package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// setting is how a part sets: the pair's own way where it has one.
func (p *part) setting() *agent.Setting {
	if p.pair != nil && p.pair.Setting.Kind != agent.NoSet {
		return &p.pair.Setting
	}
	return &p.a.Setting
}

// feel is what a part is like.
func (p *part) feel() *agent.Feel {
	if p.pair != nil {
		return &p.pair.Feel
	}
	return &p.a.Feel
}

// served checks the temperature at the table. A formula fails when none of its
// parts stands it.
func (rd *reading) served() {
	if !rd.stands() && rd.v.Texture != agent.Foam {
		return
	}
	set, lost := 0, 0
	var last note.Note
	for i := range rd.parts {
		n, gone, counts := rd.stand(&rd.parts[i])
		if counts {
			set++
		}
		if gone {
			lost++
			last = n
		}
		if n.Code != "" {
			rd.add(n)
		}
	}
	if set > 0 && lost == set {
		rd.failed(last)
	}
}

// stand reports what serving temperature does to a part: a note, whether it is
// liquid there, and whether it has a say at all.
func (rd *reading) stand(p *part) (n note.Note, gone, counts bool) {
	t, s := rd.Cond.ServeC, p.setting()
	if s.Kind == agent.OnHeating {
		if setRank(rd.v.Texture) == 0 {
			return note.Note{}, false, false
		}
		return rd.standHot(p, s)
	}
	if s.Kind == agent.ByStaling && rd.v.Texture == agent.Foam {
		return note.Note{}, false, false // hot starch is a paste: no gel, and thick enough for a foam
	}
	if !s.HoldC.Known() || !t.Known {
		return note.Note{}, false, s.HoldC.Known()
	}
	args := []note.Arg{workArg(p.a, p.pair), note.Num("serve", t.Typical, unit.DegreeC), note.Num("safe", s.HoldC.Low, unit.DegreeC), note.Num("most", s.HoldC.High, unit.DegreeC)}
	switch {
	case t.Typical > s.HoldC.High:
		return note.New(note.Caution, CodeMelts, args...).From(s.HoldC.Ref()), true, true
	case t.High > s.HoldC.Low:
		return note.New(note.Caution, CodeMayMelt, args...).From(s.HoldC.Ref()), false, true
	}
	return note.Note{}, false, true
}

// standHot is for gels that are gels only while hot.
func (rd *reading) standHot(p *part, s *agent.Setting) (n note.Note, gone, counts bool) {
	t := rd.Cond.ServeC
	args := []note.Arg{agentArg(p.a.ID), note.Num("least", s.NeedC.High, unit.DegreeC), note.Num("melt", s.MeltC.Typical, unit.DegreeC)}
	switch {
	case !t.Known:
		return note.New(note.Hint, CodeOnlyHot, args...).From(s.NeedC.Ref()), false, true
	case t.Typical < s.NeedC.Low:
		return note.New(note.Caution, CodeTooCold, args...).From(s.NeedC.Ref()), true, true
	case t.Low < s.NeedC.High:
		return note.New(note.Caution, CodeOnlyHot, args...).From(s.NeedC.Ref()), false, true
	}
	return note.Note{}, false, true
}

func (rd *reading) frozen() {
	if !rd.Cond.Frozen {
		return
	}
	for i := range rd.parts {
		p := &rd.parts[i]
		f := p.feel()
		if f.Freeze == agent.None || f.Freeze == agent.Little {
			rd.add(note.New(note.Caution, CodeFreeze, workArg(p.a, p.pair)).From(f.Cite.Ref()))
		}
	}
}

// heavyAir is how thick, against the typical dose of a thickened sauce, the
// liquid of an air may be: above it the air is a wet slurry (Moen 2014: 0.5 % of
// xanthan with 1 % of lecithin was too heavy, 0.1 % was not).
const heavyAir = 1.5

// fatKills is the fat, as a mass fraction, above which airs and foams that
// cannot stand fat collapse (common practice).
const fatKills = 0.005

func (rd *reading) air() {
	if rd.Made != Aerated {
		return
	}
	if rd.Cond.Fat.Known && rd.Cond.Fat.Typical > fatKills {
		for _, a := range rd.records {
			code := CodeFat
			if a.Stands.Fat == agent.Weakens {
				code = CodeFatWeakens
			}
			rd.meets(a, true, a.Stands.Fat, code)
		}
	}
	if rd.v.Texture != agent.Air {
		return
	}
	for _, p := range rd.parts {
		for k, a := range [...]*agent.Agent{p.a, p.b} {
			if a == nil || a.Job != agent.Thickens {
				continue
			}
			if w, ok := a.Window(agent.Thickened, rd.Cond.medium()); ok && p.doses[k].percent() > heavyAir*w.Typical {
				rd.fail(note.New(note.Caution, CodeHeavy, agentArg(a.ID), note.Num("dose", p.doses[k].percent(), unit.PercentOf),
					said("most", heavyAir*w.Typical, unit.PercentOf)).From(w.Ref()))
			}
		}
	}
}

// safety passes the records' warnings and allergens on. The one about one-bite
// jelly speaks of firm jelly only, and is grave when that is what is made.
func (rd *reading) safety() {
	firm := setRank(rd.v.Texture) >= setRank(agent.FirmSet)
	for _, a := range rd.records {
		for _, w := range a.Safety {
			if w.Code == agent.MiniCup && !firm {
				continue
			}
			level := note.Caution
			if w.Grave || w.Code == agent.MiniCup && rd.OneBite {
				level = note.Danger
			}
			rd.add(note.New(level, CodeSafety, agentArg(a.ID), note.Word("warning", "safety."+string(w.Code))).From(w.Cite.Ref()))
		}
		for _, al := range a.Allergens {
			rd.add(note.New(note.Danger, CodeAllergen, agentArg(a.ID), note.Word("allergen", "allergen."+string(al))).From(a.Identity.Ref()))
		}
		if len(a.MayHold) > 0 {
			rd.add(note.New(note.Caution, CodeMayHold, agentArg(a.ID), note.Words("allergen", "allergen.", a.MayHold)).From(a.Identity.Ref()))
		}
	}
}

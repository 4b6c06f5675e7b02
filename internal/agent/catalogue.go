package agent

// all is the catalogue in the order of the page: gels, thickeners, starches,
// foams, setting salts.
var all = [...]*Agent{
	&agar, &gelatin, &gellanLA, &gellanHA,
	&carrKappa, &carrIota, &carrLambda,
	&alginate, &pectinHM, &pectinLM, &pectinLMA,
	&mc, &mcLow, &hpmc,
	&xanthan, &guar, &lbg, &tara, &konjac, &cmc, &arabic,
	&cornStarch, &tapiocaStarch, &waxyMaize, &acidStable, &pregel,
	&lecithin, &sucroseEsters, &eggWhite, &milkProtein, &whey, &foamStab,
	&caChloride, &caLactate, &caLG,
}

// All returns every agent in catalogue order. The records are shared: callers
// must not change them.
func All() []*Agent { return all[:] }

// Pairs returns every pair in catalogue order, shared as those of [All].
func Pairs() []Pair { return pairs }

// Gelatin returns the record of gelatin, for what is said of gelatin alone.
func Gelatin() *Agent { return &gelatin }

// ByID returns the record of an id, or nil.
func ByID(id ID) *Agent {
	for _, a := range all {
		if a.ID == id {
			return a
		}
	}
	return nil
}

// PairOf returns the pair of two agents in either order, or nil.
func PairOf(a, b ID) *Pair {
	for i := range pairs {
		if p := &pairs[i]; (p.A == a && p.B == b) || (p.A == b && p.B == a) {
			return p
		}
	}
	return nil
}

// Window returns the dose window for a texture in a medium; without one for
// milk, the one for water.
func (a *Agent) Window(t Texture, m Medium) (Window, bool) { return findWindow(a.Windows, t, m) }

// Window is [Agent.Window] for the sum of both agents of a pair.
func (p *Pair) Window(t Texture, m Medium) (Window, bool) { return findWindow(p.Windows, t, m) }

func findWindow(ws []Window, t Texture, m Medium) (Window, bool) {
	var water *Window
	for i := range ws {
		if ws[i].Texture != t {
			continue
		}
		if ws[i].Medium == m {
			return ws[i], true
		}
		if ws[i].Medium == Water {
			water = &ws[i]
		}
	}
	if water == nil {
		return Window{}, false
	}
	return *water, true
}

// Model returns the firmness law for a medium; without one for milk, the one
// for water; nil when the agent has none.
func (a *Agent) Model(m Medium) *Model { return findModel(a.Models, m) }

// Model is [Agent.Model] for the sum of both agents of a pair.
func (p *Pair) Model(m Medium) *Model { return findModel(p.Models, m) }

func findModel(ms []Model, m Medium) *Model {
	for i := range ms {
		if ms[i].Medium == m {
			return &ms[i]
		}
	}
	if m != Water {
		return findModel(ms, Water)
	}
	return nil
}

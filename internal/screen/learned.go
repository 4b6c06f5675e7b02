package screen

import (
	"cmp"
	"context"
	"slices"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/view"
	"tremblant/internal/wire"
)

// learnedKey is the setting that holds the agents whose trials are not to count.
const learnedKey = "learned"

const maxOff = 200 // agents in it

// learned is what this kitchen's trials say of its agents. The lab works the
// factors out; here stands which trials it is told of, and the switch for each
// agent that takes its factor away.
type learned struct {
	app    *App
	judged []judgedBatch // newest first
	off    []string      // ids of agents
	agents []string      // by row on the shelf
	keeper *keeper
}

// judgedBatch is a trial whose firmness was judged, with the agents in it.
type judgedBatch struct {
	formula.Tried
	made   int64
	agents []string
}

func newLearned(a *App) *learned {
	l := &learned{app: a}
	l.keeper = &keeper{app: a, key: learnedKey, body: l.encode}
	return l
}

// madeOf reads what was made for a trial.
func madeOf(batch []byte) (formula.Made, bool) {
	if batch == nil {
		return formula.Made{}, false
	}
	v, err := wire.Read(batch, wire.Limits{})
	if err != nil {
		return formula.Made{}, false
	}
	m, err := formula.DecodeMade(v)
	return m, err == nil
}

// begin reads trials and switches.
func (l *learned) begin(ctx context.Context) error {
	set, news, err := l.keeper.refresh(ctx)
	if err != nil {
		return err
	}
	if news {
		l.keeper.stored = set
		l.off = decodeOff(set.Body)
	}
	return l.read(ctx)
}

func decodeOff(body []byte) []string {
	v, err := wire.Read(body, wire.Limits{})
	if err != nil {
		return nil
	}
	return v.Fields().Texts("off", maxOff, book.MaxID)
}

// read reads the trials anew.
func (l *learned) read(ctx context.Context) error {
	trials, _, err := l.app.book.store.AllTrials(ctx)
	if err != nil {
		return err
	}
	l.judged = nil
	for i := range trials {
		t := &trials[i]
		m, ok := madeOf(t.Batch)
		if t.Firmness == nil || !ok {
			continue
		}
		j := judgedBatch{formula.Tried{Batch: t.Batch, Firmness: *t.Firmness}, t.Made, nil}
		for _, d := range m.Made.Doses {
			if d.Agent != "" && !slices.Contains(j.agents, d.Agent) {
				j.agents = append(j.agents, d.Agent)
			}
		}
		l.judged = append(l.judged, j)
	}
	slices.SortStableFunc(l.judged, func(a, b judgedBatch) int { return cmp.Compare(b.made, a.made) })
	l.show()
	l.app.tellLab()
	return nil
}

// changed follows a change of n trials.
func (l *learned) changed(ctx context.Context, n int) error {
	l.app.backup.shift(ctx, -n)
	return l.read(ctx)
}

// show lists the agents that were judged, with the switch of each.
func (l *learned) show() {
	counts := map[string]int{}
	l.agents = nil
	for _, j := range l.judged {
		for _, a := range j.agents {
			if counts[a]++; counts[a] == 1 {
				l.agents = append(l.agents, a)
			}
		}
	}
	slices.Sort(l.agents)
	page := l.app.page
	page.Show("learned", len(l.agents) > 0)
	page.Rows("learned", len(l.agents))
	for i, a := range l.agents {
		page.Text(view.Row("learned", i, "what"), l.app.text("learned.of", note.Word("agent", "agent."+a), counted("count", counts[a])))
		on := ""
		if !slices.Contains(l.off, a) {
			on = "1"
		}
		page.Value(view.Row("learned", i, "use"), on)
	}
}

// use switches what was learned of the agent in a row on or off.
func (l *learned) use(name, value string) {
	row := view.RowOf(name)
	if row < 1 || row > len(l.agents) {
		return
	}
	a := l.agents[row-1]
	l.off = slices.DeleteFunc(slices.Clone(l.off), func(id string) bool { return id == a })
	if value == "" {
		l.off = append(l.off, a)
	}
	l.app.tellLab()
	l.keeper.changed()
}

func (l *learned) encode() ([]byte, error) {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("off").Texts(l.off)
	w.EndObject()
	return w.Bytes()
}

// tried are the trials that the lab is told of: those of the pan's agents that
// are to count, the newest.
func (l *learned) tried(f formula.Formula) (list []formula.Tried) {
	off := func(a string) bool { return slices.Contains(l.off, a) }
	here := func(a string) bool {
		return slices.ContainsFunc(f.Doses, func(d formula.Dose) bool { return d.Agent == a })
	}
	for _, j := range l.judged {
		if len(list) < formula.MaxTried && !slices.ContainsFunc(j.agents, off) && slices.ContainsFunc(j.agents, here) {
			list = append(list, j.Tried)
		}
	}
	return list
}

package book

import (
	"context"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/wire"
)

// Trial is a batch that was made of one revision, with what came of it.
type Trial struct {
	ID      string
	Entry   string // the entry it was made of
	Rev     int    // and its revision
	Edition int    // how often the trial itself was saved, from 1
	Made    int64  // when the batch was made, Unix time in ms
	Saved   int64  // when this edition was saved, Unix time in ms
	Outcome
	Batch []byte        // what was weighed, as JSON of the caller's; canonical compact, or nil
	Rest  []wire.Member // members that a newer program wrote
}

// Outcome is what a cook saw, tasted and measured. A nil field was not judged.
type Outcome struct {
	Firmness *int     // against the target: -2 far too soft, -1 too soft, 0 right, 1 too firm, 2 far too firm
	Weeping  *int     // 0 none, 1 a few drops, 2 a puddle, 3 falls apart
	Clarity  *int     // 0 clear, 1 hazy, 2 cloudy, 3 opaque
	Taste    *int     // 0 clean, 1 dull, 2 off
	Plunger  *float64 // reading under the kitchen's own plunger, g; 0 to 10,000
	Spread   *float64 // how far a spoonful spreads on the plate, mm; 0 to 1,000
	Note     string
}

// scale is the range of a judged or measured member.
type scale struct {
	name      string
	low, high float64
}

var (
	firmness = scale{"firmness", -2, 2}
	weeping  = scale{"weeping", 0, 3}
	clarity  = scale{"clarity", 0, 3}
	taste    = scale{"taste", 0, 2}
	plunger  = scale{"plunger", 0, 10_000}
	spread   = scale{"spread", 0, 1_000}
)

func (o *Outcome) grades() []struct {
	scale
	at **int
} {
	return []struct {
		scale
		at **int
	}{{firmness, &o.Firmness}, {weeping, &o.Weeping}, {clarity, &o.Clarity}, {taste, &o.Taste}}
}

func (o *Outcome) measures() []struct {
	scale
	at **float64
} {
	return []struct {
		scale
		at **float64
	}{{plunger, &o.Plunger}, {spread, &o.Spread}}
}

// check refuses a figure outside its range, at the field of that name.
func (o *Outcome) check() error {
	for _, g := range o.grades() {
		if *g.at != nil && !g.holds(float64(**g.at)) {
			return note.Refuse(g.name, CodeOutcome)
		}
	}
	for _, m := range o.measures() {
		if *m.at != nil && !m.holds(**m.at) {
			return note.Refuse(m.name, CodeOutcome)
		}
	}
	if len(o.Note) > MaxNote {
		return tooLong("note", CodeLongNote, MaxNote)
	}
	return nil
}

// holds is false for NaN too.
func (s scale) holds(f float64) bool { return f >= s.low && f <= s.high }

// PutTrial stores a trial. Its Edition is the one it was read with, 0 for a new
// one; if the stored edition is another, ErrConflict, and nothing is written.
// It returns the trial as stored, once that is committed.
func (b *Book) PutTrial(ctx context.Context, t Trial) (Trial, error) {
	if err := b.prepareTrial(&t); err != nil {
		return t, err
	}
	base := t.Edition
	t.Edition = base + 1
	text, err := encodeTrial(&t)
	if err != nil {
		return t, err
	}
	key := Key{ID: t.Entry, Sub: t.ID}
	err = b.port.Write(ctx, Strict, []Space{Versions, Trials}, func(tx Tx) error {
		if _, ok, err := tx.Get(Versions, Key{ID: t.Entry, Rev: t.Rev}); err != nil || !ok {
			return orMissing(err, Versions, t.Entry)
		}
		old, ok, err := tx.Get(Trials, key)
		if err != nil || ok && old == text {
			return err // stored already
		}
		if edition, err := editionOf(Row{key, old}, ok); err != nil || edition != base {
			return &Failure{Op: "save trial", Kind: ErrConflict, Cause: err}
		}
		return tx.Put(Trials, key, text)
	})
	return t, err
}

func orMissing(err error, space Space, id string) error {
	if err != nil {
		return err
	}
	return missing(space, id)
}

func editionOf(row Row, there bool) (int, error) {
	if !there {
		return 0, nil
	}
	t, err := decodeTrial(row)
	return t.Edition, err
}

func (b *Book) prepareTrial(t *Trial) error {
	for _, err := range []error{checkID(t.ID), checkID(t.Entry), checkTime(t.Made), checkTime(t.Saved), t.Outcome.check()} {
		if err != nil {
			return err
		}
	}
	if t.Batch == nil {
		return nil
	}
	v, text, err := canonical(t.Batch)
	if err != nil {
		return err
	}
	t.Batch = text
	if b.checks.Batch != nil {
		if err = b.checks.Batch(v); err != nil {
			return refusedBody(err)
		}
	}
	return nil
}

// Trials reads the trials of an entry in the order of their ids, and which of
// them cannot be read.
func (b *Book) Trials(ctx context.Context, entry string) (list []Trial, bad []Damage, err error) {
	err = b.port.Read(ctx, []Space{Trials}, func(tx Tx) error {
		rows, err := tx.Under(Trials, entry)
		list, bad = decodeAll(Trials, rows, decodeTrial)
		return err
	})
	return list, bad, err
}

// AllTrials reads the trials of all entries, for what the kitchen has learned.
func (b *Book) AllTrials(ctx context.Context) (list []Trial, bad []Damage, err error) {
	rows, err := b.port.Snapshot(ctx, Trials)
	if err != nil {
		return nil, nil, err
	}
	list, bad = decodeAll(Trials, rows[0], decodeTrial)
	return list, bad, nil
}

// RemoveTrial removes a trial. To take that back, put it again with Edition 0.
func (b *Book) RemoveTrial(ctx context.Context, entry, id string) error {
	return b.port.Write(ctx, Strict, []Space{Trials}, func(tx Tx) error {
		return tx.Delete(Trials, Key{ID: entry, Sub: id})
	})
}

// encodeTrial is the stored text of a trial:
//
//	{"form":1,"id":"…","entry":"…","rev":2,"edition":1,"made":…,"saved":…,
//	 "firmness":-1,"weeping":0,"clarity":1,"taste":0,"plunger":43.5,"spread":60,
//	 "note":"…","batch":{…}, …rest}
//
// What was not judged is left out.
func encodeTrial(t *Trial) (string, error) {
	return encodeRecord(maxRecord, func(w *wire.Writer) error { return writeTrial(w, t) })
}

func writeTrial(w *wire.Writer, t *Trial) error {
	w.Name("id").Text(t.ID)
	w.Name("entry").Text(t.Entry)
	w.Name("rev").Int(int64(t.Rev))
	w.Name("edition").Int(int64(t.Edition))
	w.Name("made").Int(t.Made)
	w.Name("saved").Int(t.Saved)
	for _, g := range t.grades() {
		if *g.at != nil {
			w.Name(g.name).Int(int64(**g.at))
		}
	}
	for _, m := range t.measures() {
		if *m.at != nil {
			w.Name(m.name).Float(**m.at)
		}
	}
	if t.Note != "" {
		w.Name("note").Text(t.Note)
	}
	if t.Batch != nil {
		w.Name("batch").Canonical(t.Batch)
	}
	w.Members(t.Rest)
	return w.Err()
}

func takeTrial(f *wire.Fields, check func(wire.Value) error) (Trial, error) {
	t := Trial{
		ID:      takeID(f, "id"),
		Entry:   takeID(f, "entry"),
		Rev:     int(f.Int("rev", 1, MaxRev)),
		Edition: int(f.Int("edition", 1, MaxRev)),
		Made:    f.Int("made", 0, MaxUnixMs),
		Saved:   f.Int("saved", 0, MaxUnixMs),
	}
	for _, g := range t.grades() {
		if f.Has(g.name) {
			n := int(f.Int(g.name, int64(g.low), int64(g.high)))
			*g.at = &n
		}
	}
	for _, m := range t.measures() {
		if f.Has(m.name) {
			x := f.Float(m.name, m.low, m.high)
			*m.at = &x
		}
	}
	t.Note = strings.Clone(f.TextOr("note", "", MaxNote))
	if f.Has("batch") {
		t.Batch = takeChecked(f, "batch", check)
	}
	t.Rest = wire.Clone(f.Rest())
	return t, f.Err()
}

func decodeTrial(row Row) (Trial, error) {
	return decodeRecord(Trials, row,
		func(f *wire.Fields) (Trial, error) { return takeTrial(f, nil) },
		func(t *Trial) Key { return Key{ID: t.Entry, Sub: t.ID} })
}

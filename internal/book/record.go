package book

import (
	"errors"
	"slices"
	"strings"

	"tremblant/internal/wire"
)

// recordForm is the form in which records are written. A record carries it as
// its first member. When the form of a record must change, the number goes up,
// the reader of each older form stays, and samples of it stay in testdata.
const recordForm = 1

// maxRecord is the size of a revision with all that a newer program may have
// added to it. Photos have a bound of their own.
const maxRecord = 2 * MaxBody

var recordLimits = wire.Limits{
	Bytes:   max(maxRecord, MaxPhoto+1000),
	Depth:   recordDepth,
	Members: bodyValues,
	Values:  2 * bodyValues,
}

const recordDepth = bodyDepth + 8

// openRecord reads a stored text as far as its form number.
func openRecord(text string) (*wire.Fields, error) {
	v, err := wire.Read(text, recordLimits)
	if err != nil {
		return nil, err
	}
	f := v.Fields()
	if form := f.Int("form", 1, MaxRev); form > recordForm {
		f.Fail("form", ErrNewer)
	}
	return f, f.Err()
}

// damaged marks the error of a record that could not be read. One written by a
// newer program is not damaged, only beyond this one.
func damaged(space Space, key Key, err error) error {
	kind := ErrDamaged
	if errors.Is(err, ErrNewer) {
		kind = ErrNewer
	}
	return &Failure{Op: "read " + string(space) + " " + key.ID, Kind: kind, Cause: err}
}

const usualRecord = 1 << 10 // bytes

// encodeRecord is the text of a record with the members that write adds.
func encodeRecord(limit int, write func(w *wire.Writer) error) (string, error) {
	w := wire.NewWriter().Grow(usualRecord)
	w.BeginObject()
	w.Name("form").Int(recordForm)
	if err := write(w); err != nil {
		return "", err
	}
	w.EndObject()
	text, err := w.Bytes()
	if err == nil && len(text) > limit {
		err = wire.ErrTooBig
	}
	return string(text), err
}

// decodeRecord reads a record and checks that it stands under its own key.
func decodeRecord[T any](space Space, row Row, take func(*wire.Fields) (T, error), own func(*T) Key) (T, error) {
	var zero T
	f, err := openRecord(row.Text)
	if err != nil {
		return zero, damaged(space, row.Key, err)
	}
	t, err := take(f)
	if err == nil && own(&t) != row.Key {
		err = errMisplaced
	}
	if err != nil {
		return zero, damaged(space, row.Key, err)
	}
	return t, nil
}

var errMisplaced = errors.New("book: record stands under another key")

// decodeAll reads the rows it can and reports the others.
func decodeAll[T any](space Space, rows []Row, decode func(Row) (T, error)) (list []T, bad []Damage) {
	list = make([]T, 0, len(rows))
	for _, row := range rows {
		t, err := decode(row)
		if err != nil {
			bad = append(bad, Damage{space, row.Key, err})
			continue
		}
		list = append(list, t)
	}
	return list, bad
}

// readOne reads one record; ErrMissing if it is not there.
func readOne[T any](tx Tx, space Space, key Key, decode func(Row) (T, error)) (T, error) {
	var zero T
	text, ok, err := tx.Get(space, key)
	if err != nil {
		return zero, err
	}
	if !ok {
		return zero, missing(space, key.ID)
	}
	return decode(Row{key, text})
}

func missing(space Space, id string) error {
	return &Failure{Op: "read " + string(space) + " " + id, Kind: ErrMissing}
}

func (h *Head) fields(f *wire.Fields) {
	h.ID = takeID(f, "id")
	h.Rev = int(f.Int("rev", 1, MaxRev))
	h.Name = takeName(f)
	h.Tags = takeTags(f)
	h.Made = f.Int("made", 0, MaxUnixMs)
	h.Saved = f.Int("saved", 0, MaxUnixMs)
	if f.Has("from") {
		from := f.Object("from")
		h.From = Origin{takeID(from, "id"), int(from.Int("rev", 1, MaxRev))}
	}
	if f.Has("conflict") {
		h.Conflict = takeID(f, "conflict")
	}
	h.Binned = f.IntOr("binned", 0, 1, MaxUnixMs)
}

func (h *Head) write(w *wire.Writer) {
	w.Name("id").Text(h.ID)
	w.Name("rev").Int(int64(h.Rev))
	w.Name("name").Text(h.Name)
	if len(h.Tags) > 0 {
		w.Name("tags").Texts(h.Tags)
	}
	w.Name("made").Int(h.Made)
	w.Name("saved").Int(h.Saved)
	if h.From.ID != "" {
		w.Name("from").BeginObject()
		w.Name("id").Text(h.From.ID)
		w.Name("rev").Int(int64(h.From.Rev))
		w.EndObject()
	}
	if h.Conflict != "" {
		w.Name("conflict").Text(h.Conflict)
	}
	if h.Binned != 0 {
		w.Name("binned").Int(h.Binned)
	}
}

// takeID takes an id and checks its characters, so that a hostile one can
// neither be a key of the store nor break out of anything.
func takeID(f *wire.Fields, name string) string {
	id := f.Text(name, MaxID)
	if f.Err() == nil {
		if err := checkID(id); err != nil {
			f.Fail(name, err)
		}
	}
	return strings.Clone(id)
}

func takeName(f *wire.Fields) string {
	name := f.Text("name", MaxName)
	if f.Err() == nil {
		clean, err := CheckName(name)
		if err != nil {
			f.Fail("name", err)
		}
		name = clean
	}
	return strings.Clone(name)
}

func takeTags(f *wire.Fields) []string {
	tags, err := CheckTags(f.Texts("tags", MaxTags, MaxTag))
	if err != nil {
		f.Fail("tags", err)
	}
	return cloneTexts(tags)
}

func cloneTexts(list []string) []string {
	for i := range list {
		list[i] = strings.Clone(list[i])
	}
	return list
}

// encodeVersion is the stored text of one revision:
//
//	{"form":1,"id":"…","rev":3,"name":"…","tags":["…"],"made":…,"saved":…,
//	 "from":{"id":"…","rev":1},"conflict":"…","binned":…,"body":{…}, …rest}
//
// tags, from, conflict and binned are left out when empty.
func encodeVersion(e *Entry) (string, error) {
	return encodeRecord(maxRecord, func(w *wire.Writer) error { return writeEntry(w, e) })
}

// writeEntry writes the members of a revision into the open object, for the
// store and for export alike.
func writeEntry(w *wire.Writer, e *Entry) error {
	e.Head.write(w)
	w.Name("body").Canonical(e.Body)
	w.Members(e.Rest)
	return w.Err()
}

// takeEntry reads a revision; the check, if given, sees the body at its place
// in the text.
func takeEntry(f *wire.Fields, check func(wire.Value) (Reading, error)) (Entry, error) {
	var e Entry
	e.fields(f)
	e.Body = takeChecked(f, "body", func(body wire.Value) (err error) {
		if check != nil {
			e.Reading, err = check(body)
		}
		return err
	})
	e.Rest = wire.Clone(f.Rest())
	return e, f.Err()
}

// takeChecked takes a JSON value of the caller's as canonical text within the
// bounds of a body; the check, if given, sees it at its place in the text.
func takeChecked(f *wire.Fields, name string, check func(wire.Value) error) []byte {
	v := f.Value(name)
	if f.Err() != nil {
		return nil
	}
	text, err := wire.Compact(v)
	if err == nil {
		err = withinBody(v, text)
	}
	if err == nil && check != nil {
		err = check(v)
	}
	if err != nil {
		f.Fail(name, err)
	}
	return text
}

func decodeVersion(row Row) (Entry, error) {
	return decodeRecord(Versions, row,
		func(f *wire.Fields) (Entry, error) { return takeEntry(f, nil) },
		func(e *Entry) Key { return Key{ID: e.ID, Rev: e.Rev} })
}

// withinBody checks that a value, read by the bounds of what it stood in, keeps
// those of a body.
func withinBody(v wire.Value, text []byte) error {
	if len(text) > bodyLimits.Bytes {
		return wire.ErrTooBig
	}
	return v.Within(bodyLimits)
}

// encodeHead is the stored text of a head: a revision's members without body
// and rest, and what search knows:
//
//	{"form":1,"id":"…", … ,"words":"agar strawberry","facets":["agent.agar"]}
func encodeHead(h *Head) (string, error) {
	return encodeRecord(maxRecord, func(w *wire.Writer) error {
		h.write(w)
		w.Name("words").Text(h.Words)
		w.Name("facets").Texts(h.Facets)
		return w.Err()
	})
}

// HeadOf makes the stored text of an entry's head from that of its newest
// revision, for a store whose own is damaged: all but what search reads in the
// formula itself.
func HeadOf(newest Row) (string, error) {
	e, err := decodeVersion(newest)
	if err != nil {
		return "", err
	}
	return encodeHead(&e.Head)
}

func decodeHead(row Row) (Head, error) {
	return decodeRecord(Heads, row, takeHead, func(h *Head) Key { return Key{ID: h.ID} })
}

func takeHead(f *wire.Fields) (Head, error) {
	var h Head
	h.fields(f)
	h.Words = strings.Clone(f.TextOr("words", "", MaxWords))
	h.Facets = cloneTexts(f.Texts("facets", MaxFacets, MaxTag))
	return h, f.Err()
}

// same reports whether two revisions say the same, whatever search knows.
func (e *Entry) same(o *Entry) bool {
	a, errA := encodeVersion(e)
	b, errB := encodeVersion(o)
	return errA == nil && errB == nil && a == b
}

func (h Head) clone() Head {
	h.Tags, h.Facets = slices.Clone(h.Tags), slices.Clone(h.Facets)
	return h
}

package book

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"slices"

	"tremblant/internal/wire"
)

// The form of the file that [File.Encode] writes; FORMAT.md describes it and
// schema.json checks it.
const (
	FileFormat  = "tremblant-book"
	FileVersion = 1
	MaxFile     = 48 << 20 // bytes of a file that is read
)

var fileLimits = wire.Limits{
	Bytes:   MaxFile,
	Depth:   recordDepth + 2, // the file's own object and list
	Members: 1_000_000,
	Values:  4_000_000,
}

// File is a whole book, or part of one, outside the store.
type File struct {
	Revisions []Entry   // by id and revision
	Trials    []Trial   // by entry and id
	Photos    []Photo   // by entry
	Settings  []Setting // by key; none of the device
}

// Export reads everything that a backup holds, in one transaction, and which
// records could not be read. Those stay in the store but not in the file.
func (b *Book) Export(ctx context.Context) (File, []Damage, error) {
	rows, err := b.port.Snapshot(ctx, Versions, Trials, Photos, Settings)
	if err != nil {
		return File{}, nil, err
	}
	var f File
	var bad [4][]Damage
	f.Revisions, bad[0] = decodeAll(Versions, rows[0], new(scanner).readVersion)
	f.Trials, bad[1] = decodeAll(Trials, rows[1], decodeTrial)
	f.Photos, bad[2] = decodeAll(Photos, rows[2], decodePhoto)
	f.Settings, bad[3] = decodeAll(Settings, rows[3], decodeSetting)
	f.Settings = slices.DeleteFunc(f.Settings, func(s Setting) bool { return s.device() })
	return f.sound(), slices.Concat(bad[:]...), nil
}

// sound leaves out what would make the file refer to records that are not in
// it: trials and photos of entries of which nothing could be read.
func (f File) sound() File {
	known := map[Key]bool{}
	for i := range f.Revisions {
		e := &f.Revisions[i]
		known[Key{ID: e.ID}], known[Key{ID: e.ID, Rev: e.Rev}] = true, true
	}
	f.Trials = slices.DeleteFunc(f.Trials, func(t Trial) bool { return !known[Key{ID: t.Entry, Rev: t.Rev}] })
	f.Photos = slices.DeleteFunc(f.Photos, func(p Photo) bool { return !known[Key{ID: p.Entry}] })
	return f
}

// Encode writes the file. The form is canonical: the same book always gives the
// same bytes. There is no time in it; that belongs into the file's name.
func (f File) Encode() ([]byte, error) {
	f.sort()
	w := wire.NewIndented()
	w.Grow(f.guess())
	w.BeginObject()
	w.Name("format").Text(FileFormat)
	w.Name("version").Int(FileVersion)
	err := errors.Join(
		writeList(w, "revisions", f.Revisions, writeEntry),
		writeList(w, "trials", f.Trials, writeTrial),
		writeList(w, "photos", f.Photos, writePhoto),
		writeList(w, "settings", f.Settings, writeSetting),
	)
	w.EndObject()
	if err != nil {
		return nil, err
	}
	text, err := w.Bytes()
	return append(text, '\n'), err
}

// guess is about how many bytes the file will have, without its indents.
func (f *File) guess() (n int) {
	for i := range f.Revisions {
		n += 2*len(f.Revisions[i].Body) + 200
	}
	for i := range f.Photos {
		n += len(f.Photos[i].Data)
	}
	return n + 1000*len(f.Trials)
}

// sort brings the lists into the order of the store, on copies.
func (f *File) sort() {
	f.Revisions = inOrder(f.Revisions, func(a, b Entry) int { return cmp.Or(cmp.Compare(a.ID, b.ID), a.Rev-b.Rev) })
	f.Trials = inOrder(f.Trials, func(a, b Trial) int { return cmp.Or(cmp.Compare(a.Entry, b.Entry), cmp.Compare(a.ID, b.ID)) })
	f.Photos = inOrder(f.Photos, func(a, b Photo) int { return cmp.Compare(a.Entry, b.Entry) })
	f.Settings = inOrder(f.Settings, func(a, b Setting) int { return cmp.Compare(a.Key, b.Key) })
}

// inOrder gives a list sorted. Most lists are: they come from a store.
func inOrder[T any](list []T, compare func(a, b T) int) []T {
	if slices.IsSortedFunc(list, compare) {
		return list
	}
	return slices.SortedFunc(slices.Values(list), compare)
}

func writeList[T any](w *wire.Writer, name string, list []T, write func(*wire.Writer, *T) error) error {
	w.Name(name).BeginArray()
	for i := range list {
		w.BeginObject()
		if err := write(w, &list[i]); err != nil {
			return err
		}
		w.EndObject()
	}
	w.EndArray()
	return w.Err()
}

// byteMark is what some editors put before a text that they save. RFC 8259, section
// 8.1, lets a reader pass over it.
const byteMark = "\uFEFF"

// beginsLikeJSON reports whether a text may be JSON that was damaged, if only because all
// of it is gone. A recipe or a picture is no damaged backup, and no other copy of it
// would be of use.
func beginsLikeJSON(text []byte) bool {
	rest := bytes.TrimLeft(bytes.TrimPrefix(text, []byte(byteMark)), " \t\r\n")
	return len(rest) == 0 || rest[0] == '{' || rest[0] == '['
}

// ReadFile reads a file and checks all of it before anything else happens. It
// is refused whole with a [*FileError]: around a [*wire.SyntaxError] if it is no
// JSON or over a bound, around a [*wire.ShapeError] if something in it does not
// belong there; both name the place. ErrForeign and ErrNewer tell a file of
// another kind and of a newer form.
func (b *Book) ReadFile(text []byte) (File, error) {
	v, err := wire.Read(bytes.TrimPrefix(text, []byte(byteMark)), fileLimits)
	if err != nil {
		var syntax *wire.SyntaxError
		switch {
		case isTable(text):
			err = &wire.SyntaxError{Err: ErrTable}
		case errors.As(err, &syntax) && !errors.Is(err, wire.ErrTooBig) && !beginsLikeJSON(text):
			err = &wire.SyntaxError{Place: syntax.Place, Err: errors.Join(ErrForeign, syntax.Err)}
		}
		return File{}, &FileError{err}
	}
	f := v.Fields()
	if format := f.TextOr("format", "", 100); f.Err() == nil && format != FileFormat {
		f.Fail("format", ErrForeign)
	}
	if f.Int("version", 1, MaxRev) > FileVersion {
		f.Fail("version", ErrNewer)
	}
	var file File
	keys := map[Space]map[Key]bool{Versions: {}, Heads: {}, Trials: {}, Photos: {}, Settings: {}}
	file.Revisions = takeList(f, "revisions", func(f *wire.Fields) (Entry, error) {
		e, err := takeEntry(f, b.checks.readBody)
		canGoOn(f, "rev", e.Rev)
		keys[Heads][Key{ID: e.ID}] = true
		return e, once(f, "rev", keys[Versions], Key{ID: e.ID, Rev: e.Rev}, err)
	})
	file.Trials = takeList(f, "trials", func(f *wire.Fields) (Trial, error) {
		t, err := takeTrial(f, b.checks.Batch)
		canGoOn(f, "edition", t.Edition)
		refers(f, "rev", keys[Versions], Key{ID: t.Entry, Rev: t.Rev})
		return t, once(f, "id", keys[Trials], Key{ID: t.Entry, Sub: t.ID}, err)
	})
	file.Photos = takeList(f, "photos", func(f *wire.Fields) (Photo, error) {
		p, err := takePhoto(f)
		refers(f, "entry", keys[Heads], Key{ID: p.Entry})
		return p, once(f, "entry", keys[Photos], Key{ID: p.Entry}, err)
	})
	file.Settings = takeList(f, "settings", func(f *wire.Fields) (Setting, error) {
		s, err := takeSetting(f, b.checks.Setting)
		canGoOn(f, "rev", s.Rev)
		if s.device() {
			f.Fail("key", ErrUnknown)
		}
		return s, once(f, "key", keys[Settings], Key{ID: s.Key}, err)
	})
	// A member of a newer program beside the lists has no place in the store.
	// Dropping it in silence would lose it.
	for _, m := range f.Rest() {
		f.Fail(m.Name, ErrUnknown)
	}
	if f.Err() != nil {
		return File{}, &FileError{f.Err()}
	}
	file.sort()
	return file, nil
}

func takeList[T any](f *wire.Fields, name string, take func(*wire.Fields) (T, error)) []T {
	items := f.Items(name, fileLimits.Members)
	list := make([]T, 0, len(items))
	for _, item := range items {
		t, err := take(f.Into(item))
		if err != nil {
			return nil
		}
		list = append(list, t)
	}
	return list
}

// once notes the key of a record and refuses it if it was there before.
func once(f *wire.Fields, member string, keys map[Key]bool, key Key, err error) error {
	if err == nil && keys[key] {
		f.Fail(member, ErrRepeated)
	}
	keys[key] = true
	return f.Err()
}

// canGoOn refuses a count of saves that leaves no room for the next one: what is saved
// beyond [MaxRev] could not be read again.
func canGoOn(f *wire.Fields, member string, saves int) {
	if saves > MaxFileRev {
		f.Fail(member, wire.ErrRange)
	}
}

// refers refuses a record whose entry is not in the file.
func refers(f *wire.Fields, member string, keys map[Key]bool, key Key) {
	if !keys[key] {
		f.Fail(member, ErrDangling)
	}
}

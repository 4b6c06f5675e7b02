package book

import (
	"bytes"
	"context"
	"slices"
	"strconv"
	"strings"
)

// Change is what an import would do to one thing.
type Change uint8

// The changes.
const (
	Kept        Change = iota // the book has it already, or has gone further
	Added                     // new to the book
	Changed                   // the file has gone further than the book
	Conflicting               // book and file have both gone further: both are kept
)

// Item is one line of an import's preview.
type Item struct {
	Space   Space  // Heads for an entry, Settings for a setting
	ID      string // of the entry, or the key of the setting
	Name    string // of the entry, in the file
	Change  Change
	BookRev int    // newest revision in the book; 0 if it has none
	FileRev int    // newest revision in the file
	CopyID  string // the id under which the file's entry is kept, if Conflicting
	Trials  int    // how many trials are added or changed
	Photo   bool   // a photo is added or replaced
	Binned  bool   // the entry, or its copy, stands in the bin once the import is done

	// Skip leaves the item out of the import. It is set for a setting that is
	// conflicting: there can be only one, and the book's own stays unless the
	// person decides otherwise.
	Skip bool

	puts []write // what applying it writes
}

// write is one record that an import writes.
type write struct {
	space Space
	key   Key
	text  string
	old   string // what stands there, if anything does
}

// Preview is what an import would do, item by item: entries by id, then
// settings by key. Nothing is written before [Book.Apply].
type Preview struct{ Items []Item }

// Count says how many items have a change.
func (p Preview) Count(c Change) (n int) {
	for i := range p.Items {
		if p.Items[i].Change == c {
			n++
		}
	}
	return n
}

// library is what the book holds, as text by key.
type library map[Space]map[Key]string

// Compare finds out what importing a file would do.
//
// Entries are compared by id and revision. Revisions that the book lacks are
// added; if the file's newest is beyond the book's, the entry is Changed. If one
// and the same revision differs, each side was changed by itself: the file's
// entry is kept whole under an id of its own, marked as a copy made in a
// conflict. That id is derived from what is in the file, so importing the same
// file again adds nothing. A trial of the same id is the one of higher edition;
// two that differ in the same edition are both kept. A photo is replaced by a
// later one.
func (b *Book) Compare(ctx context.Context, f File) (Preview, error) {
	spaces := []Space{Versions, Trials, Photos, Settings}
	rows, err := b.port.Snapshot(ctx, spaces...)
	if err != nil {
		return Preview{}, err
	}
	lib := library{}
	newest := map[string]int{}
	for i, space := range spaces {
		lib[space] = make(map[Key]string, len(rows[i]))
		for _, r := range rows[i] {
			lib[space][r.Key] = r.Text
			newest[r.Key.ID] = max(newest[r.Key.ID], r.Key.Rev)
		}
	}
	f.sort()
	var p Preview
	for entries := range byID(f.Revisions) {
		item, err := lib.entry(entries, newest[entries[0].ID])
		if err == nil {
			err = lib.attachments(&item, f)
		}
		if err != nil {
			return Preview{}, err
		}
		p.Items = append(p.Items, item)
	}
	for i := range f.Settings {
		item, err := lib.setting(&f.Settings[i])
		if err != nil {
			return Preview{}, err
		}
		p.Items = append(p.Items, item)
	}
	return p, nil
}

// byID cuts sorted revisions into runs of one entry each.
func byID(list []Entry) func(yield func([]Entry) bool) {
	return func(yield func([]Entry) bool) {
		for len(list) > 0 {
			n := 1
			for n < len(list) && list[n].ID == list[0].ID {
				n++
			}
			if !yield(list[:n]) {
				return
			}
			list = list[n:]
		}
	}
}

// entry compares the revisions of one entry with the book's.
func (lib library) entry(revs []Entry, bookRev int) (Item, error) {
	last := &revs[len(revs)-1]
	item := Item{Space: Heads, ID: last.ID, Name: last.Name, BookRev: bookRev, FileRev: last.Rev, Binned: last.Binned != 0}
	texts := make([]string, len(revs))
	for i := range revs {
		var err error
		if texts[i], err = encodeVersion(&revs[i]); err != nil {
			return item, err
		}
		switch old, ok := lib[Versions][Key{ID: last.ID, Rev: revs[i].Rev}]; {
		case !ok:
			item.put(Versions, Key{ID: last.ID, Rev: revs[i].Rev}, texts[i], "")
		case old != texts[i] && !sameVersion(&revs[i], old):
			return lib.conflicting(item, revs, texts)
		}
	}
	if bookRev > last.Rev {
		item.Binned = lib.binned(Key{ID: last.ID, Rev: bookRev})
	}
	switch {
	case len(item.puts) == 0:
		return item, nil
	case bookRev == 0:
		item.Change = Added
	default:
		item.Change = Changed
	}
	if last.Rev > bookRev {
		return item, item.putHead(last)
	}
	return item, nil
}

// binned reports whether the book's newest revision of an entry says that it is in the
// bin. Few do, and only those are read.
func (lib library) binned(newest Key) bool {
	text := lib[Versions][newest]
	if !strings.Contains(text, `"binned":`) {
		return false
	}
	e, err := decodeVersion(Row{newest, text})
	return err == nil && e.Binned != 0
}

func (it *Item) put(space Space, key Key, text, old string) {
	it.puts = append(it.puts, write{space, key, text, old})
}

func (it *Item) putHead(e *Entry) error {
	text, err := encodeHead(&e.Head)
	it.put(Heads, Key{ID: e.ID}, text, "")
	return err
}

// sameVersion compares beyond the letter: the book's text may be of an older form.
func sameVersion(e *Entry, stored string) bool {
	old, err := decodeVersion(Row{Key{ID: e.ID, Rev: e.Rev}, stored})
	return err == nil && old.same(e)
}

// conflicting keeps the whole entry of the file under an id of its own.
func (lib library) conflicting(item Item, revs []Entry, texts []string) (Item, error) {
	item.puts, item.Change = nil, Conflicting
	item.CopyID = copyID(item.ID, texts)
	if _, ok := lib[Versions][Key{ID: item.CopyID, Rev: item.FileRev}]; ok {
		item.Change = Kept // imported before; it may have been changed since
		return item, nil
	}
	for i := range revs {
		e := revs[i]
		e.ID, e.Conflict = item.CopyID, item.ID
		text, err := encodeVersion(&e)
		if err != nil {
			return item, err
		}
		item.put(Versions, Key{ID: e.ID, Rev: e.Rev}, text, "")
		if i == len(revs)-1 {
			return item, item.putHead(&e)
		}
	}
	return item, nil
}

// copyID derives an id from content: 64-bit FNV-1a (G. Fowler, L. C. Noll,
// K.-P. Vo, The FNV Non-Cryptographic Hash Algorithm; constants from memory).
// Two different copies of one entry would have to collide to be confused, and
// even then nothing is overwritten.
func copyID(id string, texts []string) string {
	h := uint64(14695981039346656037)
	for _, text := range append([]string{id}, texts...) {
		for _, c := range []byte(text + "\n") {
			h = (h ^ uint64(c)) * 1099511628211
		}
	}
	return "copy-" + strconv.FormatUint(h, 16)
}

// attachments compares trials and photo of an entry and lets them follow it.
func (lib library) attachments(item *Item, f File) error {
	target := item.ID
	if item.CopyID != "" {
		target = item.CopyID
	}
	first, _ := slices.BinarySearchFunc(f.Trials, item.ID, func(t Trial, id string) int { return strings.Compare(t.Entry, id) })
	for i := first; i < len(f.Trials) && f.Trials[i].Entry == item.ID; i++ {
		t := f.Trials[i]
		t.Entry = target
		if err := lib.trial(item, t); err != nil {
			return err
		}
	}
	at, ok := slices.BinarySearchFunc(f.Photos, item.ID, func(p Photo, id string) int { return strings.Compare(p.Entry, id) })
	if !ok {
		return nil
	}
	p := f.Photos[at]
	p.Entry = target
	return lib.photo(item, p)
}

func (lib library) trial(item *Item, t Trial) error {
	key := Key{ID: t.Entry, Sub: t.ID}
	text, err := encodeTrial(&t)
	old, there := lib[Trials][key]
	if err != nil || there && old == text {
		return err
	}
	if there {
		stored, err := decodeTrial(Row{key, old})
		if err == nil && stored.Edition > t.Edition {
			return nil
		}
		if err != nil || stored.Edition == t.Edition {
			// Judged twice, apart from each other: both are kept.
			key.Sub, old = copyID(t.Entry+" "+t.ID, []string{text}), ""
			t.ID = key.Sub
			if text, err = encodeTrial(&t); err != nil || lib[Trials][key] != "" {
				return err
			}
		}
	}
	item.put(Trials, key, text, old)
	item.Trials++
	item.touched()
	return nil
}

func (lib library) photo(item *Item, p Photo) error {
	key := Key{ID: p.Entry}
	text, err := encodePhoto(&p)
	old, there := lib[Photos][key]
	if err != nil || there && old == text {
		return err
	}
	if there {
		if stored, err := decodePhoto(Row{key, old}); err == nil && stored.Saved >= p.Saved {
			return nil
		}
	}
	item.put(Photos, key, text, old)
	item.Photo = true
	item.touched()
	return nil
}

// touched turns a kept entry to which something is attached into a changed one.
func (it *Item) touched() {
	if it.Change == Kept {
		it.Change = Changed
	}
}

func (lib library) setting(s *Setting) (Item, error) {
	key := Key{ID: s.Key}
	item := Item{Space: Settings, ID: s.Key, FileRev: s.Rev, Change: Added}
	text, err := encodeSetting(s)
	old, there := lib[Settings][key]
	if err != nil || there && old == text {
		item.Change, item.BookRev = Kept, s.Rev
		return item, err
	}
	if there {
		item.Change, item.Skip = Conflicting, true
		stored, err := decodeSetting(Row{key, old})
		if err == nil && bytes.Equal(stored.Body, s.Body) {
			// Saved apart from each other, or taken over before: there is nothing to decide.
			return Item{Space: Settings, ID: s.Key, BookRev: stored.Rev, FileRev: s.Rev}, nil
		}
		if err == nil {
			// Taken over, it is one more revision of the book's own, so that
			// another tab notices.
			item.BookRev = stored.Rev
			taken := *s
			taken.Rev = max(stored.Rev, s.Rev) + 1
			if text, err = encodeSetting(&taken); err != nil {
				return item, err
			}
		}
	}
	item.put(Settings, key, text, old)
	return item, nil
}

// Apply carries out a preview in one transaction: all of it that is not to be
// skipped, or nothing. If the book was changed since the preview, nothing is
// written and the error is ErrConflict: compare again.
func (b *Book) Apply(ctx context.Context, p Preview) error {
	return b.port.Write(ctx, Strict, Spaces, func(tx Tx) error {
		// Every change of an entry makes a revision, so the keys of the
		// revisions alone tell whether anything has changed.
		keys, err := tx.Keys(Versions)
		if err != nil {
			return err
		}
		newest := make(map[string]int, len(keys))
		for _, k := range keys {
			newest[k.ID] = max(newest[k.ID], k.Rev)
		}
		for i := range p.Items {
			it := &p.Items[i]
			if it.Skip || len(it.puts) == 0 {
				continue
			}
			if it.Space == Heads && newest[it.ID] != it.BookRev {
				return &Failure{Op: "import " + it.ID, Kind: ErrConflict}
			}
			if err := it.apply(tx); err != nil {
				return err
			}
		}
		return nil
	})
}

func (it *Item) apply(tx Tx) error {
	for _, p := range it.puts {
		if p.space != Versions && p.space != Heads {
			now, _, err := tx.Get(p.space, p.key)
			if err != nil {
				return err
			}
			if now != p.old {
				return &Failure{Op: "import " + it.ID, Kind: ErrConflict}
			}
		}
		if err := tx.Put(p.space, p.key, p.text); err != nil {
			return err
		}
	}
	return nil
}

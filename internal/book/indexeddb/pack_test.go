//go:build js && wasm

package indexeddb

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"syscall/js"
	"testing"
	"time"

	"github.com/hack-pad/go-indexeddb/idb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

func TestAPackIsReadAsItWasWritten(t *testing.T) {
	want := map[string]string{}
	var p pack
	for i, text := range []string{"", "\n", "1 1\nab\n", `{"name":"crème"}`, "\u2028\U0001f9c1\x00", strings.Repeat("long ", 5000), "3 4"} {
		for _, id := range []string{"pear", "a 1", "b\nc", "é", ""} {
			id = fmt.Sprint(id, i)
			p.put(id, "before")
			p.put(id, text)
			want[id] = text
		}
	}
	p.put("gone", "x")
	assert.True(t, p.remove("gone"))
	assert.False(t, p.remove("gone"))
	back, whole := packValue(js.ValueOf(p.text()))
	require.True(t, whole)
	require.Equal(t, p, back)
	require.Len(t, back, len(want))
	for _, r := range back {
		assert.Equal(t, want[r.Key.ID], r.Text)
	}
}

func TestADamagedPackIsReadAsFarAsItGoes(t *testing.T) {
	var p pack
	for i := range 5 {
		p.put(fmt.Sprint("e", i), fmt.Sprint("head ", i))
	}
	text := p.text()
	for cut := range len(text) {
		got, whole := packValue(js.ValueOf(text[:cut]))
		assert.False(t, whole, cut)
		for i, r := range got {
			assert.Equal(t, p[i], r, "and nothing else")
		}
	}
	for what, v := range map[string]any{"number": 7, "null": nil, "list": []any{text}, "object": map[string]any{"x": 1},
		"more": text + "x", "a seam": text + seam, "a length too long": strings.Replace(text, " 6", " 6000", 1),
		"no number": strings.Replace(text, "2 6", "- 6", 1), "overflow": "99999999999999999999 1\n" + text} {
		_, whole := packValue(js.ValueOf(v))
		assert.False(t, whole, what)
	}
}

// older makes a database of an older version by hand: heads stand one by one, and
// from version 2 on there is a count of writes.
func older(t *testing.T, factory js.Value, n string, version int, heads, versions map[string]any) {
	t.Helper()
	request := factory.Call("open", n, version)
	create := callback(func(r any) { t.Error(r) }, func([]js.Value) {
		db := request.Get("result")
		for _, space := range book.Spaces {
			db.Call("createObjectStore", string(space))
		}
		if version >= 2 {
			db.Call("createObjectStore", "count").Call("put", 2, "writes")
		}
		txn := request.Get("transaction")
		for id, v := range heads {
			txn.Call("objectStore", "heads").Call("put", v, id)
		}
		for id, v := range versions {
			txn.Call("objectStore", "versions").Call("put", v, []any{id, 1})
		}
	})
	defer create.Release()
	request.Set("onupgradeneeded", create)
	require.NoError(t, answered(t.Context(), request))
	request.Get("result").Call("close")
}

// texts are the stored texts of so many formulas, by id.
func texts(t *testing.T, n int) (heads, versions map[string]any) {
	t.Helper()
	m := book.NewMemory()
	b := book.New(m, booktest.Checks)
	p, err := b.Compare(t.Context(), booktest.Library(n, 1))
	require.NoError(t, err)
	require.NoError(t, b.Apply(t.Context(), p))
	rows, err := m.Snapshot(t.Context(), book.Heads, book.Versions)
	require.NoError(t, err)
	heads, versions = map[string]any{}, map[string]any{}
	for i, r := range rows[0] {
		heads[r.Key.ID], versions[r.Key.ID] = r.Text, rows[1][i].Text
	}
	return heads, versions
}

// storedHeads is what the store of the heads holds, in the order of its keys.
func storedHeads(t *testing.T, s *Store) (keys, values js.Value) {
	t.Helper()
	store := s.handle.raw.Call("transaction", "heads").Call("objectStore", "heads")
	k, v := store.Call("getAllKeys"), store.Call("getAll")
	require.NoError(t, answered(t.Context(), v))
	return k.Get("result"), v.Get("result")
}

func TestHeadsOfOlderVersionsAreBroughtIntoPacks(t *testing.T) {
	heads, versions := texts(t, 700)
	for version, twice := range map[int]bool{1: false, 2: true} {
		t.Run(fmt.Sprint("version ", version), func(t *testing.T) {
			n := name(t)
			older(t, firstFactory(), n, version, heads, versions)
			if twice {
				older(t, secondFactory(t), n, version, heads, versions)
			}
			s := open(t, Options{Name: n})
			assert.False(t, s.Fresh())
			rows, err := s.Snapshot(t.Context(), book.Heads)
			require.NoError(t, err)
			require.Len(t, rows[0], len(heads))
			once := map[string]bool{}
			for _, r := range rows[0] {
				require.Equal(t, heads[r.Key.ID], r.Text)
				once[r.Key.ID] = true
			}
			require.Len(t, once, len(heads))
			keys, _ := storedHeads(t, s)
			assert.LessOrEqual(t, keys.Length(), packCount)
			assert.Equal(t, js.TypeNumber, keys.Index(keys.Length()-1).Type(), "none is left alone")
			b := book.New(s, booktest.Checks)
			_, err = b.Rename(t.Context(), "entry-00042", 1, "Renamed", 5, "")
			require.NoError(t, err)
			assert.Eventually(t, func() bool {
				return assert.ObjectsAreEqual(contents(t, s), contents(t, s.second.spare))
			}, 5*time.Second, 20*time.Millisecond)
		})
	}
}

func TestWhatIsNoTextIsNotTouchedByTheMove(t *testing.T) {
	n := name(t)
	heads, versions := texts(t, 3)
	heads["odd"], heads["none"] = map[string]any{"x": 1}, nil
	older(t, firstFactory(), n, 2, heads, versions)
	s := open(t, Options{Name: n})
	keys, values := storedHeads(t, s)
	require.Equal(t, "object", values.Index(keys.Length()-1).Type().String())
	assert.Equal(t, 1, values.Index(keys.Length()-1).Get("x").Int())
	assert.Equal(t, "none", keys.Index(keys.Length()-2).String())
	l, err := book.New(s, booktest.Checks).List(t.Context())
	require.NoError(t, err)
	assert.Len(t, l.Heads, 3)
	assert.Len(t, l.Damaged, 2)
}

func TestAllTexts(t *testing.T) {
	assert.True(t, allTexts(js.ValueOf([]any{"", "a"})))
	assert.True(t, allTexts(js.ValueOf([]any{})))
	for _, odd := range []any{nil, 7, true, []any{"a"}, map[string]any{"x": 1}, js.Undefined()} {
		assert.False(t, allTexts(js.ValueOf([]any{"a", odd, "b"})), odd)
	}
}

func TestAMoveThatIsCutOffChangesNothing(t *testing.T) {
	n := name(t)
	heads, versions := texts(t, 30)
	older(t, firstFactory(), n, 2, heads, versions)
	torn := func(db *idb.Database, raw js.Value, made bool) error {
		err := packHeads(db, raw, made)
		last := raw.Call("objectStore", "heads").Call("count")
		var f js.Func
		f = callback(func(r any) { t.Error(r) }, func([]js.Value) { // behind the move
			defer f.Release()
			raw.Call("abort")
		})
		last.Set("onsuccess", f)
		return err
	}
	_, err := Open(t.Context(), Options{Name: n, single: true, upgrades: []upgrade{createStores, createCount, torn}})
	require.Error(t, err)
	s := open(t, Options{Name: n, single: true})
	rows, err := s.Snapshot(t.Context(), book.Heads)
	require.NoError(t, err)
	assert.Len(t, rows[0], len(heads))
}

func TestASaveWritesOnePackAndTheLastPurgeNone(t *testing.T) {
	n := name(t)
	s := open(t, Options{Name: n})
	b := book.New(s, booktest.Checks)
	p, err := b.Compare(t.Context(), booktest.Library(2000, 1))
	require.NoError(t, err)
	require.NoError(t, b.Apply(t.Context(), p))
	_, before := storedHeads(t, s)
	require.Equal(t, packCount, before.Length(), "the hash spreads them over all packs")
	_, err = b.Rename(t.Context(), "entry-00042", 1, "Renamed", 5, "")
	require.NoError(t, err)
	_, after := storedHeads(t, s)
	for i := range packCount {
		was, is := before.Index(i).String(), after.Index(i).String()
		assert.Equal(t, i == packOf("entry-00042"), was != is, i)
		assert.Less(t, len(is), 20*400)
	}
	require.NoError(t, s.Write(t.Context(), book.Relaxed, book.Spaces, func(tx book.Tx) error {
		keys, err := tx.Keys(book.Heads)
		require.Len(t, keys, 2000)
		for _, k := range keys {
			err = errors.Join(err, tx.DeleteUnder(book.Heads, k.ID))
		}
		return err
	}))
	keys, _ := storedHeads(t, s)
	assert.Zero(t, keys.Length())
}

// spoilPack puts something in the place of the pack of an id.
func spoilPack(t *testing.T, s *Store, id string, spoil func(text string) any) {
	t.Helper()
	txn := s.handle.raw.Call("transaction", "heads", "readwrite")
	store := txn.Call("objectStore", "heads")
	was := store.Call("get", packOf(id))
	require.NoError(t, answered(t.Context(), was))
	store.Call("put", spoil(was.Get("result").String()), packOf(id))
	require.NoError(t, s.finished(t.Context(), txn))
}

var spoils = map[string]func(text string) any{
	"cut":       func(text string) any { return text[:len(text)/2] },
	"empty":     func(string) any { return "" },
	"null":      func(string) any { return nil },
	"a number":  func(string) any { return 7 },
	"an object": func(string) any { return map[string]any{"x": 1} },
	"begin off": func(text string) any { return text[5:] },
	"twice":     func(text string) any { return text + text },
	"no order": func(text string) any {
		p, _, _ := readPack(text, nil)
		p[0], p[1] = p[1], p[0]
		return pack(p).text()
	},
	"one less":  func(text string) any { return text[:strings.LastIndexByte(text[:len(text)-1], '\n')] },
	"two bytes": func(text string) any { return strings.Replace(text, "{", "crème", 1) },
}

func TestADamagedPackHidesNoFormula(t *testing.T) {
	const id = "entry-00042"
	s := open(t, Options{Name: name(t)})
	b := book.New(s, booktest.Checks)
	p, err := b.Compare(t.Context(), booktest.Library(1000, 2))
	require.NoError(t, err)
	require.NoError(t, b.Apply(t.Context(), p))
	rev := 2
	for what, spoil := range spoils {
		t.Run(what, func(t *testing.T) {
			whole, err := b.List(t.Context())
			require.NoError(t, err)
			spoilPack(t, s, id, spoil)
			e, err := b.Open(t.Context(), id)
			require.NoError(t, err, "opened before the list was read")
			assert.Equal(t, rev, e.Rev)
			l, err := b.List(t.Context())
			require.NoError(t, err)
			require.Empty(t, l.Damaged)
			require.Equal(t, 1000, len(l.Heads))
			for i, h := range l.Heads {
				want := whole.Heads[i]
				assert.Equal(t, []any{want.ID, want.Rev, want.Name, want.Tags}, []any{h.ID, h.Rev, h.Name, h.Tags})
			}
			keys, stored := storedHeads(t, s)
			at := slices.Index(numbers(keys), packOf(id))
			_, ok := packValue(stored.Index(at))
			assert.True(t, ok, "it was mended for good")

			spoilPack(t, s, id, spoil)
			h, err := b.Rename(t.Context(), id, rev, "Renamed", int64(rev), "spare")
			require.NoError(t, err, "a save into it is no conflict, and loses no other")
			rev = h.Rev
			l, err = b.List(t.Context())
			require.NoError(t, err)
			assert.Empty(t, l.Damaged)
			assert.Equal(t, 1000, len(l.Heads))
		})
	}
}

func numbers(keys js.Value) (list []int) {
	for i := range keys.Length() {
		list = append(list, keys.Index(i).Int())
	}
	return list
}

func TestADamagedHeadOfADamagedRevisionIsReported(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	b := book.New(s, booktest.Checks)
	_, err := b.Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	_, err = b.Save(t.Context(), draft("plum", 0))
	require.NoError(t, err)
	require.NoError(t, s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		return tx.Put(book.Versions, book.Key{ID: "pear", Rev: 1}, "{")
	}))
	spoilPack(t, s, "pear", func(string) any { return nil })
	l, err := b.List(t.Context())
	require.NoError(t, err)
	require.Len(t, l.Damaged, 1)
	assert.Equal(t, "pear", l.Damaged[0].Key.ID)
	assert.ErrorIs(t, l.Damaged[0].Err, book.ErrDamaged)
	require.Len(t, l.Heads, 1)
	assert.Equal(t, "plum", l.Heads[0].ID)
}

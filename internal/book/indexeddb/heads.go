//go:build js && wasm

package indexeddb

import (
	"slices"
	"strings"
	"syscall/js"

	"tremblant/internal/book"
)

// heldPack is a pack that a transaction has read.
type heldPack struct {
	pack
	changed bool
}

// fewPacks are read one by one; whoever wants more gets all of them at once.
const fewPacks = 8

// packOf gives the pack in which the head of an id stands, or would.
func (t *tx) packOf(id string) (*heldPack, error) {
	if err := t.ctx.Err(); err != nil {
		return nil, err
	}
	n := packOf(id)
	if p := t.packs[n]; p != nil {
		return p, nil
	}
	if len(t.packs) >= fewPacks {
		err := t.readPacks()
		return t.packs[n], err
	}
	v, err := t.value(book.Heads, js.ValueOf(n))
	if err != nil {
		return nil, err
	}
	err = t.hold(n, v)
	return t.packs[n], err
}

// hold keeps a pack that was read, and mends it if it is damaged.
func (t *tx) hold(n int, v js.Value) (err error) {
	p := &heldPack{}
	if !v.IsUndefined() {
		var whole bool
		if p.pack, whole = packValue(v); !whole {
			p.changed = t.writes
			err = t.mend(n, &p.pack)
		}
	}
	if err == nil {
		if t.packs == nil {
			t.packs = map[int]*heldPack{}
		}
		t.packs[n] = p
	}
	return err
}

// mend adds what a damaged pack lacks, from the newest revisions of all formulas
// that belong there. What search knows of a formula beyond its name and tags
// comes back with its next save. A formula whose revision is damaged as well gets
// an empty head, so that it is reported.
func (t *tx) mend(n int, p *pack) error {
	keys, err := t.keys(book.Versions)
	if err != nil {
		return err
	}
	newest := map[string]book.Key{}
	for _, k := range keys {
		if packOf(k.ID) == n && k.Rev >= newest[k.ID].Rev {
			newest[k.ID] = k
		}
	}
	for id, key := range newest {
		if _, ok := p.find(id); ok {
			continue
		}
		v, err := t.value(book.Versions, keyValue(book.Versions, key))
		if err != nil {
			return err
		}
		head, _ := book.HeadOf(book.Row{Key: key, Text: text(v)})
		p.put(id, head)
	}
	return nil
}

// readPacks reads all packs that the transaction has not read.
func (t *tx) readPacks() (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = caught(r)
		}
	}()
	store := t.raw.Call("objectStore", string(book.Heads))
	keys := store.Call("getAllKeys", keysOfPacks())
	values := store.Call("getAll", keysOfPacks())
	if err := answered(t.ctx, values); err != nil {
		return err
	}
	stored := [packCount]js.Value{}
	keys, values = keys.Get("result"), values.Get("result")
	for i := range keys.Length() {
		// A key between two numbers is none of this package's.
		if n := keys.Index(i).Float(); n == float64(int(n)) {
			stored[int(n)] = values.Index(i)
		}
	}
	for n, v := range stored {
		if t.packs[n] == nil {
			if err := t.hold(n, v); err != nil {
				return err
			}
		}
	}
	return nil
}

// writePacks hands the packs that were changed to the browser.
func (t *tx) writePacks() {
	for n, p := range t.packs {
		if !p.changed || t.failed != nil {
			continue
		}
		store, err := t.txn.ObjectStore(string(book.Heads))
		if err == nil {
			if len(p.pack) == 0 {
				_, err = store.Delete(js.ValueOf(n))
			} else {
				_, err = store.PutKey(js.ValueOf(n), js.ValueOf(p.text()))
			}
		}
		t.keep(err)
	}
}

func (t *tx) putHead(id, text string) error {
	p, err := t.packOf(id)
	if err == nil {
		p.put(id, text)
		p.changed = true
	}
	return err
}

// getHead finds a head in its pack, or one that is in none.
func (t *tx) getHead(id string) (string, bool, error) {
	p, err := t.packOf(id)
	if err != nil {
		return "", false, err
	}
	if at, ok := p.find(id); ok {
		return p.pack[at].Text, true, nil
	}
	v, err := t.value(book.Heads, js.ValueOf(id))
	return text(v), err == nil && !v.IsUndefined(), err
}

func (t *tx) deleteHead(id string) error {
	p, err := t.packOf(id)
	if err != nil {
		return err
	}
	p.changed = p.remove(id) || p.changed
	store, err := t.txn.ObjectStore(string(book.Heads))
	if err == nil {
		_, err = store.Delete(js.ValueOf(id))
	}
	return err
}

// headKeys are the keys of all heads, in order.
func (t *tx) headKeys() ([]book.Key, error) {
	if err := t.readPacks(); err != nil {
		return nil, err
	}
	others := t.raw.Call("objectStore", string(book.Heads)).Call("getAllKeys", keysOfOthers())
	if err := answered(t.ctx, others); err != nil {
		return nil, err
	}
	keys := keysOf(book.Heads, others.Get("result"))
	for _, p := range t.packs {
		for _, r := range p.pack {
			keys = append(keys, r.Key)
		}
	}
	return inOrder(keys), nil
}

// inOrder sorts keys of heads and names each once. It sorts pointers, as others do:
// a sort of another kind would be one more in the program.
func inOrder(keys []book.Key) []book.Key {
	order := make([]*book.Key, len(keys))
	for i := range keys {
		order[i] = &keys[i]
	}
	slices.SortFunc(order, func(a, b *book.Key) int { return strings.Compare(a.ID, b.ID) })
	out := make([]book.Key, 0, len(keys))
	for _, k := range order {
		if len(out) == 0 || out[len(out)-1] != *k {
			out = append(out, *k)
		}
	}
	return out
}

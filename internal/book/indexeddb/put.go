//go:build js && wasm

package indexeddb

import (
	"syscall/js"

	"tremblant/internal/book"
	"tremblant/internal/wire"
)

// pending is a record that a transaction puts, before the browser has it.
type pending struct {
	space book.Space
	key   book.Key
	text  string
}

const (
	batchBytes = 1 << 20 // of texts that wait for the browser
	batchFew   = 8       // records that are not worth a batch
)

// flush hands the waiting records to the browser. Each call from Go into the
// browser costs more than storing a record does, and a put takes half a dozen
// of them; so the many records of an import go over as one text.
func (t *tx) flush() {
	puts := t.puts
	t.puts, t.size = nil, 0
	if t.failed != nil || len(puts) == 0 {
		return
	}
	if len(puts) <= batchFew {
		for _, p := range puts {
			t.keep(t.put(p))
		}
		return
	}
	for _, space := range book.Spaces {
		t.keep(t.putAll(space, puts))
	}
}

func (t *tx) put(p pending) error {
	store, err := t.txn.ObjectStore(string(p.space))
	if err == nil {
		_, err = store.PutKey(keyValue(p.space, p.key), js.ValueOf(p.text))
	}
	return err
}

// putAll puts the records of one space. A Map's forEach calls a function with
// value and key, which is what an object store's put takes: so the loop runs in
// the browser (ECMAScript, Map.prototype.forEach; Indexed Database API 3.0,
// IDBObjectStore.put). What is wrong with one of them aborts the transaction,
// as it does for a put that is not awaited.
func (t *tx) putAll(space book.Space, puts []pending) (err error) {
	w := wire.NewWriter()
	w.Grow(batchBytes + batchBytes/2)
	w.BeginArray()
	some := false
	for i := range puts {
		if puts[i].space != space {
			continue
		}
		some = true
		w.BeginArray()
		writeKey(w, space, puts[i].key)
		w.Text(puts[i].text)
		w.EndArray()
	}
	w.EndArray()
	text, err := w.Bytes()
	if err != nil || !some {
		return err
	}
	defer func() {
		if r := recover(); r != nil {
			err = caught(r)
		}
	}()
	global := js.Global()
	store := t.raw.Call("objectStore", string(space))
	pairs := global.Get("JSON").Call("parse", string(text))
	global.Get("Map").New(pairs).Call("forEach", store.Get("put").Call("bind", store))
	return nil
}

// writeKey writes a key as keyValue makes it.
func writeKey(w *wire.Writer, space book.Space, k book.Key) {
	kind := keyKind(space)
	if kind == none {
		w.Text(k.ID)
		return
	}
	w.BeginArray()
	w.Text(k.ID)
	if kind == number {
		w.Int(int64(k.Rev))
	} else {
		w.Text(k.Sub)
	}
	w.EndArray()
}

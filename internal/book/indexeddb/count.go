//go:build js && wasm

package indexeddb

import "syscall/js"

// The count of writes, in a store of its own.
const (
	countStore = "count"
	countKey   = "writes"
)

// counted reads a count; what is none, or not there, is zero. It stays exact for
// longer than anybody can write: to 2^53.
func counted(v js.Value) int64 {
	if v.Type() != js.TypeNumber {
		return 0
	}
	return int64(v.Float())
}

// count reads the count inside a transaction.
func (t *tx) count() (int64, error) {
	store, err := t.txn.ObjectStore(countStore)
	if err != nil {
		return 0, t.keep(err)
	}
	request, err := store.Get(js.ValueOf(countKey))
	if err != nil {
		return 0, t.keep(err)
	}
	v, err := request.Await(t.ctx)
	if t.ctx.Err() != nil {
		err = t.ctx.Err() // Await reports success when the context ended
	}
	return counted(v), t.keep(err)
}

func (t *tx) setCount(n int64) {
	store, err := t.txn.ObjectStore(countStore)
	if err == nil {
		_, err = store.PutKey(js.ValueOf(countKey), js.ValueOf(n))
	}
	t.keep(err)
}

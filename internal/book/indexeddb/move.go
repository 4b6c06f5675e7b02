//go:build js && wasm

package indexeddb

import (
	"syscall/js"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

// packHeads brings the heads into packs; up to version 2 each one stood under its
// id. What is no text stays where it is.
func packHeads(_ *idb.Database, raw js.Value, made bool) error {
	if made {
		return nil
	}
	store := raw.Call("objectStore", string(book.Heads))
	keys := store.Call("getAllKeys", keysOfOthers())
	heads := store.Call("getAll", keysOfOthers())
	var f js.Func
	f = callback(func(any) { raw.Call("abort") }, func([]js.Value) {
		defer f.Release()
		moveHeads(store, keys.Get("result"), heads.Get("result"))
	})
	heads.Set("onsuccess", f)
	return nil
}

func moveHeads(store, keys, heads js.Value) {
	var packs [packCount]pack
	moved, left := []js.Value{}, false
	for i := range keys.Length() {
		key, head := keys.Index(i), heads.Index(i)
		if key.Type() != js.TypeString || text(head) == "" {
			left = true
			continue
		}
		id := key.String()
		packs[packOf(id)].put(id, text(head))
		moved = append(moved, key)
	}
	for n, p := range packs {
		if len(p) > 0 {
			store.Call("put", p.text(), n)
		}
	}
	if !left {
		store.Call("delete", keysOfOthers())
		return
	}
	for _, key := range moved {
		store.Call("delete", key)
	}
}

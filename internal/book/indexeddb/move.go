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
	if allTexts(keys) && allTexts(heads) {
		for _, r := range rows(book.Heads, keys, heads) {
			packs[packOf(r.Key.ID)].put(r.Key.ID, r.Text)
		}
		store.Call("clear")
	} else {
		moveTexts(store, keys, heads, &packs)
	}
	for n, p := range packs {
		if len(p) > 0 {
			store.Call("put", p.text(), n)
		}
	}
}

// moveTexts takes the texts from among other things, one by one.
func moveTexts(store, keys, heads js.Value, packs *[packCount]pack) {
	for i := range keys.Length() {
		key, head := keys.Index(i), heads.Index(i)
		if key.Type() != js.TypeString || head.Type() != js.TypeString {
			continue
		}
		id := key.String()
		packs[packOf(id)].put(id, head.String())
		store.Call("delete", key)
	}
}

// allTexts asks each element for String's valueOf, which throws for whatever is
// no string, without a call from Go for each.
func allTexts(array js.Value) (all bool) {
	defer func() {
		if recover() != nil {
			all = false
		}
	}()
	valueOf := js.Global().Get("String").Get("prototype").Get("valueOf")
	array.Call("forEach", js.Global().Get("Function").Get("prototype").Get("call").Call("bind", valueOf))
	return true
}

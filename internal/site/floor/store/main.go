//go:build js && wasm

// Command store is the smallest program that keeps a record: it opens an
// IndexedDB database through go-indexeddb, puts one record and waits for the
// transaction. It is the floor that the size of the page is measured against.
package main

import (
	"context"
	"syscall/js"

	"github.com/hack-pad/go-indexeddb/idb"
)

func main() {
	if err := keep(context.Background()); err != nil {
		panic(err)
	}
}

func keep(ctx context.Context) error {
	request, err := idb.Global().Open(ctx, "floor", 1, func(db *idb.Database, _, _ uint) error {
		_, err := db.CreateObjectStore("records", idb.ObjectStoreOptions{})
		return err
	})
	if err != nil {
		return err
	}
	db, err := request.Await(ctx)
	if err != nil {
		return err
	}
	transaction, err := db.Transaction(idb.TransactionReadWrite, "records")
	if err != nil {
		return err
	}
	records, err := transaction.ObjectStore("records")
	if err != nil {
		return err
	}
	if _, err := records.PutKey(js.ValueOf("key"), js.ValueOf("record")); err != nil {
		return err
	}
	return transaction.Await(ctx)
}

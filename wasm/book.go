//go:build js && wasm

package main

import (
	"context"
	"errors"

	"tremblant/internal/book"
	"tremblant/internal/book/indexeddb"
	"tremblant/internal/dom"
	"tremblant/internal/screen"
)

// openBook opens the store in the background. Without one the page runs on a
// book in memory, and says so.
func (s *shell) openBook() {
	s.Go(func(ctx context.Context) {
		port, problem := s.port(ctx)
		s.app.Store(ctx, book.New(port, screen.Checks()), problem)
		if store, ok := port.(*indexeddb.Store); ok {
			s.app.Restored(store.Restored())
		}
		if kept, err := indexeddb.Kept(ctx); problem == "" && err == nil && kept.Known {
			s.app.Kept(kept.Persisted)
		}
		dom.Tell("bookOpen")
	})
}

// port opens IndexedDB, or gives a store in memory and the text that says why.
func (s *shell) port(ctx context.Context) (book.Port, string) {
	var store *indexeddb.Store
	store, err := indexeddb.Open(ctx, indexeddb.Options{
		Report:  s.panicked,
		Changed: func(book.Notice) { s.Go(s.app.Changed) },
		Lost: func() {
			s.Go(func(ctx context.Context) {
				s.app.Changed(ctx)
				s.app.Restored(store.Restored())
			})
		},
		Outdated: func() { s.app.Outdated(); s.show() },
		Blocked:  func() { s.app.Blocked(); s.show() },
	})
	switch {
	case err == nil:
		return store, ""
	case errors.Is(err, book.ErrBlocked):
		return book.NewMemory(), "storage.blocked"
	case errors.Is(err, book.ErrNewer):
		return book.NewMemory(), "storage.newer"
	case errors.Is(err, book.ErrQuota):
		return book.NewMemory(), "storage.full"
	}
	dom.Tell("log", err.Error())
	return book.NewMemory(), "storage.none"
}

// AskToKeep implements [screen.Env]. The browser is asked once a visit, by the page:
// it lets no worker ask.
func (s *shell) AskToKeep() {
	if s.asked {
		return
	}
	s.asked = true
	dom.Tell("askToKeep", indexeddb.SecondBucket)
}

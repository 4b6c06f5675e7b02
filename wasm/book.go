//go:build js && wasm

package main

import (
	"context"

	"tremblant/internal/book"
	"tremblant/internal/dom"
	"tremblant/internal/screen"
)

// openBook opens the store in the background. Without one the page runs on a
// book in memory, and says so.
func (s *shell) openBook() {
	s.Go(func(ctx context.Context) {
		s.app.Store(ctx, book.New(new(book.Memory), screen.Checks()), "storage.none")
		dom.Tell("bookOpen")
	})
}

// AskToKeep implements [screen.Env].
func (s *shell) AskToKeep() {}

//go:build js && wasm

// Package indexeddb keeps the book in the browser's IndexedDB. It is the only
// package that knows the database or go-indexeddb, and hides both wholly behind
// the book's port.
//
// # Schema
//
// One database with one object store for each [book.Space], keys out of line: a
// string for settings and photos, [id, rev] for versions, [entry, trial] for
// trials. A value is the JSON text of one record, and the number of its form
// stands inside. Heads stand many in one value, under the number of their pack
// (see pack.go). So a change of what a record holds needs no new database
// version: old forms are migrated in pure code as they are read. The database
// version goes up only when a store is added or records stand in it otherwise; see
// upgrades in open.go.
//
// # What is worked around
//
// Behaviour of go-indexeddb v0.3.2 and of browsers, as measured in Chromium; a
// test in sharp_test.go stands beside each one that concerns the book.
//
//   - Success of a request is not a commit: a write counts only once the
//     transaction completed, with strict durability where the book asks for it.
//   - Await on a context that ended gives no error: the context is asked after
//     each one.
//   - Await on what has finished never returns: completion is awaited in the
//     same stretch of Go as the last request, and every wait has a limit.
//   - An upgrader that fails kills the program and the new version number stays
//     with no stores in it: the upgrader here never fails, it aborts the upgrade.
//   - An open that is blocked gives a handle that is of no use, and later, once
//     unblocked, makes an empty database: the open request is held here, told
//     apart, and taken back when nobody waits for it any more.
//   - Await inside a cursor's callback is a deadlock: callbacks here copy values
//     and no more.
//   - A connection dies while the page lives on (another tab upgrades, the
//     browser clears data or drops connections of hidden pages): the handle is
//     dropped, opened once more, and the work is done once more.
//   - The global accessor panics when there is no IndexedDB: it is not used.
//   - Errors thrown by a call are of another type than errors of events: both
//     are told by their name.
//
// Inside a transaction there are only IndexedDB calls and pure computing: the
// browser commits a transaction as soon as nothing of it is outstanding.
package indexeddb

import (
	"context"
	"sync"
	"sync/atomic"
	"syscall/js"
	"time"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

// Options say how to open the book's database. The zero value serves.
type Options struct {
	Name     string            // of the database; "" is the product's own
	Report   func(any)         // hears of panics that were caught, for the log
	Changed  func(book.Notice) // hears what another tab has written
	Outdated func()            // a newer page wants to upgrade the database: this page must be loaded anew
	Lost     func()            // the browser took the connection away, perhaps with all that was stored
	Blocked  func()            // opening waits for another tab that holds an older version
	Wait     time.Duration     // how long anything may take; 0 is 15 s
	Patience time.Duration     // how long opening waits once it is blocked; 0 is 4 s

	upgrades []upgrade                // of a test; nil is the product's own
	factory  func() (js.Value, error) // nil is the browser's own
	single   bool                     // no second copy
}

const databaseName = "tremblant"

func (o Options) orDefault() Options {
	if o.Name == "" {
		o.Name = databaseName
	}
	if o.Report == nil {
		o.Report = func(any) {}
	}
	if o.Wait == 0 {
		o.Wait = 15 * time.Second
	}
	if o.Patience == 0 {
		o.Patience = 4 * time.Second
	}
	if o.upgrades == nil {
		o.upgrades = upgrades
	}
	if o.factory == nil {
		o.factory = factory
	}
	return o
}

// Store is a connection to the book's database. It implements [book.Port].
type Store struct {
	options  Options
	channel  *channel
	turn     chan struct{} // holds one while nobody writes: writes reach the second copy in their order
	second   *second       // nil where there is none
	restored atomic.Int64

	mu     sync.Mutex // guards opening
	handle *handle    // nil when it must be opened again
	closed bool
	fresh  bool
}

// handle is one open connection. idb and raw are the same connection.
type handle struct {
	idb  *idb.Database
	raw  js.Value
	dead bool // closed by the browser or for another tab's upgrade
}

var _ book.Port = (*Store)(nil)

// Open opens the database, and makes it if there is none. Errors are
// [*book.Failure]s: ErrUnavailable when the browser has no IndexedDB or refuses
// it, ErrBlocked when another tab holds an older version, ErrNewer when the
// database belongs to a newer page, ErrQuota when there is no room.
func Open(ctx context.Context, o Options) (*Store, error) {
	s := newStore(o)
	spare := make(chan *Store, 1)
	go func() { spare <- s.openSecond(ctx) }()
	if _, err := s.connect(ctx); err != nil {
		go func() { (<-spare).Close() }()
		return nil, err
	}
	s.channel = s.listen()
	s.join(ctx, <-spare)
	return s, nil
}

func newStore(o Options) *Store {
	s := &Store{options: o.orDefault(), turn: make(chan struct{}, 1)}
	s.turn <- struct{}{}
	return s
}

// Fresh reports whether Open made the database. A page that remembers having
// saved something then knows that the browser threw its data away.
func (s *Store) Fresh() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.fresh
}

// Close implements [book.Port].
func (s *Store) Close() error {
	if s == nil {
		return nil
	}
	if s.second != nil {
		s.second.spare.Close()
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	s.channel.close()
	if s.handle != nil {
		s.handle.close()
		s.handle = nil
	}
	return nil
}

// connect gives the open handle, or opens one.
func (s *Store) connect(ctx context.Context) (*handle, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case s.closed:
		return nil, &book.Failure{Op: "use a closed book", Kind: book.ErrStale}
	case s.handle != nil && !s.handle.dead:
		return s.handle, nil
	}
	h, made, err := s.dial(ctx)
	if err != nil {
		return nil, err
	}
	s.handle, s.fresh = h, s.fresh || made
	return h, nil
}

func (s *Store) drop(h *handle) {
	h.close()
	h.dead = true
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.handle == h {
		s.handle = nil
	}
}

// close lets go of the connection; one that is gone already is no error.
func (h *handle) close() { _ = h.idb.Close() }

// Available tells whether the browser lets a page use IndexedDB at all, as far
// as can be told without opening anything.
func Available() error {
	_, err := factory()
	return err
}

//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"syscall/js"
	"time"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

// upgrade changes the database from the version before to its own. It runs
// inside the upgrade transaction: it may create stores and, through raw, reach
// stores that exist; it must not wait for anything. Made tells that there was no
// database at all.
type upgrade func(db *idb.Database, raw js.Value, made bool) error

// upgrades are the steps to each version, from 1. A released step never
// changes: a phone may stand at any version.
var upgrades = []upgrade{createStores, createCount, packHeads}

func createStores(db *idb.Database, _ js.Value, _ bool) error {
	for _, space := range []book.Space{book.Heads, book.Versions, book.Trials, book.Settings, book.Photos} {
		if _, err := db.CreateObjectStore(string(space), idb.ObjectStoreOptions{KeyPath: js.Null()}); err != nil {
			return err
		}
	}
	return nil
}

// createCount adds the store with the count of writes. A book from before it
// begins at one, so that it counts more than an empty second copy.
func createCount(db *idb.Database, _ js.Value, made bool) error {
	store, err := db.CreateObjectStore(countStore, idb.ObjectStoreOptions{KeyPath: js.Null()})
	if err != nil || made {
		return err
	}
	_, err = store.PutKey(js.ValueOf(countKey), js.ValueOf(1))
	return err
}

// factory finds the browser's IDBFactory. Reading it may throw where storage is
// forbidden. Value.Get does not catch that: the exception would pass through Go
// and leave the program standing for ever. A call does, so the property is read
// by one.
func factory() (f js.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = failure("find IndexedDB", book.ErrUnavailable, caught(r))
		}
	}()
	if f = js.Global().Get("Reflect").Call("get", js.Global(), "indexedDB"); !f.Truthy() {
		return f, failure("find IndexedDB", book.ErrUnavailable, nil)
	}
	return f, nil
}

// opening is one open request, held so that it can be told when it is blocked,
// how its upgrade went, and that nobody waits for it any more.
type opening struct {
	store     *Store
	real      js.Value // the browser's factory
	request   js.Value
	events    chan string // "blocked", "success", "error"
	abandoned bool
	made      bool  // the database did not exist
	thrown    error // by the call of open
	failed    error // of the upgrade
	cutOff    bool  // the browser took the database away while it was being opened
	funcs     []js.Func
}

// The browser cuts a connection off while it clears what it keeps, which it may do
// in several steps: so often, and after such pauses, it is opened again.
const (
	tries    = 8
	tryPause = 150 * time.Millisecond
)

// dial opens a connection and reports whether it made the database.
func (s *Store) dial(ctx context.Context) (h *handle, made bool, err error) {
	real, err := s.options.factory()
	if err != nil {
		return nil, false, err
	}
	for i := 1; ; i++ {
		o := &opening{store: s, real: real, events: make(chan string, 4)}
		h, err = o.run(ctx)
		if !o.cutOff || i == tries || ctx.Err() != nil {
			return h, o.made, err
		}
		time.Sleep(tryPause)
	}
}

func (o *opening) run(ctx context.Context) (h *handle, err error) {
	defer func() {
		if r := recover(); r != nil {
			o.abandon()
			err = failure("open", book.ErrUnavailable, errors.Join(o.thrown, caught(r)))
		}
	}()
	// The listeners of go-indexeddb live as long as this context; the ones of
	// this package outlive it where they must.
	listening, cancel := context.WithCancel(context.Background())
	defer cancel()
	wrapped, err := idb.WrapFactory(o.factory())
	if err != nil {
		return nil, err
	}
	version := uint(len(o.store.options.upgrades))
	request, err := wrapped.Open(listening, o.store.options.Name, version, o.upgrade)
	if err != nil {
		return nil, failure("open", book.ErrUnavailable, errors.Join(o.thrown, err))
	}
	if err := o.await(ctx); err != nil {
		o.abandon()
		return nil, err
	}
	db, err := request.Result()
	if err != nil {
		o.cutOff = true
		return nil, failure("open", book.ErrStale, err)
	}
	h = &handle{idb: db, raw: o.request.Get("result")}
	return h, o.prove(h, version)
}

// factory is the object that go-indexeddb takes for the browser's own factory:
// its open calls the real one and keeps the request.
func (o *opening) factory() js.Value {
	open := js.FuncOf(func(_ js.Value, args []js.Value) (result any) {
		defer func() {
			if r := recover(); r != nil {
				o.thrown = caught(r)
				result = nil // go-indexeddb panics on it where run can catch that
			}
		}()
		o.request = o.real.Call("open", args[0], args[1])
		o.listen()
		return o.request
	})
	o.funcs = append(o.funcs, open)
	wrapper := js.Global().Get("Object").New()
	wrapper.Set("open", open)
	return wrapper
}

func (o *opening) listen() {
	o.on("blocked", func() { o.events <- "blocked" })
	o.on("error", func() { o.events <- "error" })
	o.on("upgradeneeded", func() {
		// Nobody would create the stores: take the new version number back.
		if o.abandoned {
			o.request.Get("transaction").Call("abort")
		}
	})
	o.on("success", func() {
		if o.abandoned {
			o.request.Get("result").Call("close")
			return
		}
		o.events <- "success"
	})
}

// on listens to an event of the request for as long as the request lives.
func (o *opening) on(event string, do func()) {
	f := callback(o.store.options.Report, func([]js.Value) { do() })
	o.funcs = append(o.funcs, f)
	o.request.Call("addEventListener", event, f)
}

// await waits for the answer to the request, for a limited time when another
// tab blocks it.
func (o *opening) await(ctx context.Context) error {
	limit := time.NewTimer(o.store.options.Wait)
	defer limit.Stop()
	kind := book.ErrStale
	for {
		select {
		case event := <-o.events:
			switch event {
			case "success":
				o.release()
				return nil
			case "error":
				o.release()
				return o.refused()
			}
			kind = book.ErrBlocked
			limit.Reset(o.store.options.Patience)
			o.store.tell(o.store.options.Blocked)
		case <-limit.C:
			return failure("open", kind, nil)
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// refused is the error of a request that failed.
func (o *opening) refused() error {
	if o.failed != nil {
		return failure("upgrade", book.ErrUnavailable, o.failed)
	}
	name, message := errorName(o.request.Get("error"))
	kind := book.ErrUnavailable
	switch name {
	case "VersionError":
		kind = book.ErrNewer
	case "QuotaExceededError":
		kind = book.ErrQuota
	case "AbortError": // nobody here has aborted it
		kind, o.cutOff = book.ErrStale, true
	}
	return failure("open", kind, errors.New(name+": "+message))
}

// upgrade is go-indexeddb's upgrader. It returns no error whatever happens, for
// that would end the program and leave the version number behind; it aborts.
func (o *opening) upgrade(db *idb.Database, from, to uint) error {
	o.made = from == 0
	if o.failed = o.steps(db, from, to); o.failed != nil {
		o.made = false
		o.abort()
	}
	return nil
}

func (o *opening) steps(db *idb.Database, from, to uint) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = caught(r)
		}
	}()
	raw := o.request.Get("transaction")
	for n := from; n < to; n++ {
		if err := o.store.options.upgrades[n](db, raw, from == 0); err != nil {
			return fmt.Errorf("to version %d: %w", n+1, err)
		}
	}
	return nil
}

func (o *opening) abort() {
	defer func() {
		if r := recover(); r != nil {
			o.store.options.Report(r)
		}
	}()
	o.request.Get("transaction").Call("abort")
}

// prove makes sure of the handle: that it is one, and that all stores are there.
func (o *opening) prove(h *handle, version uint) error {
	got, err := h.idb.Version()
	if err != nil || got != version {
		o.cutOff = true
		return failure("open", book.ErrStale, errors.Join(err, fmt.Errorf("version %d", got)))
	}
	names, err := h.idb.ObjectStoreNames()
	if err != nil {
		o.cutOff = true
		return failure("open", book.ErrStale, err)
	}
	for _, store := range stores(book.Spaces) {
		if !slices.Contains(names, store) {
			h.close()
			return failure("open", book.ErrDamaged, errors.New("no store "+store))
		}
	}
	o.store.watch(h)
	return nil
}

// watch marks the handle when the browser takes the connection away, and gives
// way to a newer page that wants to upgrade.
func (s *Store) watch(h *handle) {
	h.raw.Call("addEventListener", "versionchange", callback(s.options.Report, func(args []js.Value) {
		h.dead = true
		h.raw.Call("close")
		if len(args) > 0 && args[0].Get("newVersion").Type() == js.TypeNumber {
			s.tell(s.options.Outdated)
		}
	}))
	h.raw.Call("addEventListener", "close", callback(s.options.Report, func([]js.Value) {
		h.dead = true
		s.tell(s.lost)
	}))
}

// abandon gives up waiting. The request itself cannot be taken back: if it is
// answered after all, the listeners undo what it did. They are not released.
func (o *opening) abandon() { o.abandoned = true }

// release frees the listeners of a request that was answered.
func (o *opening) release() {
	for _, f := range o.funcs {
		f.Release()
	}
	o.funcs = nil
}

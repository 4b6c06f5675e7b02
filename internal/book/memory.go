package book

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync"
)

// Memory is a connection to a store that lives as long as the page: for tests,
// and for a browser that has no store.
type Memory struct {
	// Fail, if set, is asked at each step, and its error is taken as the
	// store's: "snapshot", "read", "write" at the begin, "commit" at the end.
	Fail func(step string) error

	store  *memoryStore
	closed bool
}

type memoryStore struct {
	sync.Mutex
	rows map[Space]map[Key]string
}

// NewMemory makes an empty store and a connection to it.
func NewMemory() *Memory {
	return &Memory{store: &memoryStore{rows: map[Space]map[Key]string{}}}
}

// Connect makes another connection to the same store, as another tab would.
func (m *Memory) Connect() *Memory { return &Memory{store: m.store} }

// Snapshot implements [Port].
func (m *Memory) Snapshot(ctx context.Context, spaces ...Space) ([][]Row, error) {
	m.store.Lock()
	defer m.store.Unlock()
	if err := m.ready(ctx, "snapshot"); err != nil {
		return nil, err
	}
	tx := memoryTx{m: m, spaces: spaces}
	out := make([][]Row, len(spaces))
	for i, s := range spaces {
		out[i] = tx.all(s, func(Key) bool { return true })
	}
	return out, nil
}

// Read implements [Port].
func (m *Memory) Read(ctx context.Context, spaces []Space, fn func(Tx) error) error {
	m.store.Lock()
	defer m.store.Unlock()
	if err := m.ready(ctx, "read"); err != nil {
		return err
	}
	return fn(&memoryTx{m: m, ctx: ctx, spaces: spaces})
}

// Write implements [Port].
func (m *Memory) Write(ctx context.Context, _ Durability, spaces []Space, fn func(Tx) error) error {
	m.store.Lock()
	defer m.store.Unlock()
	if err := m.ready(ctx, "write"); err != nil {
		return err
	}
	tx := &memoryTx{m: m, ctx: ctx, spaces: spaces, changes: map[Space]map[Key]*string{}}
	if err := fn(tx); err != nil {
		return err
	}
	if err := m.ready(ctx, "commit"); err != nil {
		return err
	}
	tx.commit()
	return nil
}

// Close implements [Port].
func (m *Memory) Close() error {
	m.store.Lock()
	defer m.store.Unlock()
	m.closed = true
	return nil
}

func (m *Memory) ready(ctx context.Context, step string) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if m.closed {
		return &Failure{Op: step, Kind: ErrStale}
	}
	if m.Fail != nil {
		return m.Fail(step)
	}
	return nil
}

var (
	errReadOnly = errors.New("book: write in a read transaction")
	errScope    = errors.New("book: space is not part of the transaction")
)

// memoryTx lays the changes of a transaction over the stored rows; a nil text
// is a deletion.
type memoryTx struct {
	m       *Memory
	ctx     context.Context
	spaces  []Space
	changes map[Space]map[Key]*string
}

func (t *memoryTx) check(s Space, write bool) error {
	switch {
	case t.ctx.Err() != nil:
		return t.ctx.Err()
	case !slices.Contains(t.spaces, s):
		return errScope
	case write && t.changes == nil:
		return errReadOnly
	}
	return nil
}

func (t *memoryTx) Get(s Space, k Key) (string, bool, error) {
	if err := t.check(s, false); err != nil {
		return "", false, err
	}
	if text, ok := t.changes[s][k]; ok {
		if text == nil {
			return "", false, nil
		}
		return *text, true, nil
	}
	text, ok := t.m.store.rows[s][k]
	return text, ok, nil
}

func (t *memoryTx) Under(s Space, id string) ([]Row, error) {
	if err := t.check(s, false); err != nil {
		return nil, err
	}
	return t.all(s, func(k Key) bool { return k.ID == id }), nil
}

func (t *memoryTx) Keys(s Space) ([]Key, error) {
	if err := t.check(s, false); err != nil {
		return nil, err
	}
	var keys []Key
	for _, row := range t.all(s, func(Key) bool { return true }) {
		keys = append(keys, row.Key)
	}
	return keys, nil
}

func (t *memoryTx) all(s Space, wanted func(Key) bool) []Row {
	var rows []Row
	for k, text := range t.m.store.rows[s] {
		if _, changed := t.changes[s][k]; !changed && wanted(k) {
			rows = append(rows, Row{k, text})
		}
	}
	for k, text := range t.changes[s] {
		if text != nil && wanted(k) {
			rows = append(rows, Row{k, *text})
		}
	}
	slices.SortFunc(rows, func(a, b Row) int { return a.Key.compare(b.Key) })
	return rows
}

// compare orders keys as the store does: id, then revision, then sub-key.
func (k Key) compare(o Key) int {
	return cmp.Or(cmp.Compare(k.ID, o.ID), cmp.Compare(k.Rev, o.Rev), cmp.Compare(k.Sub, o.Sub))
}

func (t *memoryTx) set(s Space, k Key, text *string) error {
	if err := t.check(s, true); err != nil {
		return err
	}
	if t.changes[s] == nil {
		t.changes[s] = map[Key]*string{}
	}
	t.changes[s][k] = text
	return nil
}

func (t *memoryTx) Put(s Space, k Key, text string) error { return t.set(s, k, &text) }

func (t *memoryTx) Delete(s Space, k Key) error { return t.set(s, k, nil) }

func (t *memoryTx) DeleteUnder(s Space, id string) error {
	rows, err := t.Under(s, id)
	for _, r := range rows {
		err = cmp.Or(err, t.set(s, r.Key, nil))
	}
	return err
}

func (t *memoryTx) commit() {
	for s, changes := range t.changes {
		if t.m.store.rows[s] == nil {
			t.m.store.rows[s] = map[Key]string{}
		}
		for k, text := range changes {
			if text == nil {
				delete(t.m.store.rows[s], k)
			} else {
				t.m.store.rows[s][k] = *text
			}
		}
	}
}

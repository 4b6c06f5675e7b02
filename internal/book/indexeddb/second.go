//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"sync"
	"syscall/js"
	"time"

	"tremblant/internal/book"
)

// The second copy.
//
// Chromium keeps the databases of an origin in a LevelDB whose log it goes on
// writing after a crash. When the browser is killed while it writes, as phones
// kill it, a torn record stands at the end of that log and the next records
// behind it. The opening after that finds a checksum that does not fit and the
// browser deletes all of the origin's databases; or it takes the torn record for
// the end, and everything behind it is gone. The kill harness shows both. No
// page can prevent that, but a second LevelDB is hardly ever torn at the same
// time: so all that is written is written once more into a database in a storage
// bucket of its own (Storage Buckets API; the browsers that have none keep their
// databases in SQLite, which goes back to its last commit).
//
// Both databases count their writes. The one that counted fewer has lost some,
// and is made like the other when the book is opened.

// SecondBucket is the name of the storage bucket with the second copy.
const SecondBucket = "second-copy"

const (
	secondLimit = 3 * time.Second        // how long opening and a save wait for the second copy
	gapLimit    = 500 * time.Millisecond // how long a write waits for that of another tab before it
	gapPause    = 20 * time.Millisecond
	maxFailures = 3
	// bulk is a write that nobody waits for twice: an import. Until it is in the
	// second copy, the counts tell.
	bulk = 200
)

// second carries what was written over to the second copy, one write after
// another.
type second struct {
	main, spare *Store

	mu       sync.Mutex // guards what follows
	jobs     []job
	busy     bool
	failures int // in a row; too many, and the copy is left behind until the book is opened again
}

type job struct {
	stamp   int64
	ops     []op
	compare bool // what is missing is not in ops
	done    chan struct{}
}

// op is one change within a write.
type op struct {
	do   func(book.Tx, op) error
	at   book.Space
	key  book.Key
	text string
}

func put(tx book.Tx, o op) error         { return tx.Put(o.at, o.key, o.text) }
func remove(tx book.Tx, o op) error      { return tx.Delete(o.at, o.key) }
func removeUnder(tx book.Tx, o op) error { return tx.DeleteUnder(o.at, o.key.ID) }

func replay(ops []op) func(book.Tx) error {
	return func(tx book.Tx) error {
		for _, o := range ops {
			if err := o.do(tx, o); err != nil {
				return err
			}
		}
		return nil
	}
}

// bucketFactory finds the factory of the second bucket; none where the browser
// has no buckets.
func bucketFactory(ctx context.Context) (factory js.Value, err error) {
	b, err := bucket(ctx)
	if err != nil {
		return js.Value{}, err
	}
	if f := b.Get("indexedDB"); f.Truthy() {
		return f, nil
	}
	return js.Value{}, book.ErrUnavailable
}

func bucket(ctx context.Context) (js.Value, error) {
	navigator := js.Global().Get("navigator")
	if !navigator.Truthy() || !navigator.Get("storageBuckets").Truthy() {
		return js.Value{}, book.ErrUnavailable
	}
	return await(ctx, func() js.Value {
		return navigator.Get("storageBuckets").Call("open", SecondBucket, map[string]any{"durability": "strict"})
	})
}

// openSecond opens the second copy, or gives nil: the book does without.
func (s *Store) openSecond(ctx context.Context) *Store {
	if s.options.single {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, secondLimit)
	defer cancel()
	f, err := bucketFactory(ctx)
	if err != nil {
		return nil
	}
	o := s.options
	o.single, o.factory = true, func() (js.Value, error) { return f, nil }
	o.Changed, o.Outdated, o.Lost, o.Blocked = nil, nil, nil, nil
	c := newStore(o)
	if _, err := c.connect(ctx); err != nil {
		c.Close()
		return nil
	}
	return c
}

// join makes the book like its second copy if it has lost something, and has
// the copy follow it from then on.
func (s *Store) join(ctx context.Context, spare *Store) {
	if spare == nil {
		return
	}
	s.second = &second{main: s, spare: spare}
	s.mend(ctx)
}

// mend compares the counts, and makes the one that lost something like the
// other. If that fails, the next write or the next opening tries again.
func (s *Store) mend(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, s.options.Wait)
	defer cancel()
	ours, err := s.stamp(ctx)
	theirs, err2 := s.second.spare.stamp(ctx)
	switch {
	case err != nil || err2 != nil:
	case theirs > ours:
		if err := s.bringBack(ctx); err != nil {
			s.options.Report(err)
		}
	case ours > theirs:
		s.second.follow(job{stamp: ours, compare: true})
	}
}

// bringBack makes the book like its second copy.
func (s *Store) bringBack(ctx context.Context) error {
	changed, err := level(ctx, s.second.spare, s)
	if err == nil && changed > 0 {
		s.restored.Add(int64(changed))
		s.mu.Lock()
		s.fresh = false
		s.mu.Unlock()
	}
	return err
}

// lost is called when the browser took the connection away under an open page,
// perhaps with all that was stored.
func (s *Store) lost() {
	if s.second != nil {
		<-s.turn
		s.mend(context.Background())
		s.turn <- struct{}{}
	}
	if s.options.Lost != nil {
		s.options.Lost()
	}
}

// Restored is how many records the browser had lost and were brought back from
// the second copy since the book was opened.
func (s *Store) Restored() int {
	if s == nil { // told to be lost before it was open
		return 0
	}
	return int(s.restored.Load())
}

// follow has the second copy do what the book did. The answer is closed when
// that is done, or given up.
func (c *second) follow(j job) (done <-chan struct{}) {
	j.done = make(chan struct{})
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.failures >= maxFailures {
		close(j.done)
		return j.done
	}
	c.jobs = append(c.jobs, j)
	if !c.busy {
		c.busy = true
		go c.work()
	}
	return j.done
}

func (c *second) work() {
	for {
		c.mu.Lock()
		if len(c.jobs) == 0 {
			c.busy = false
			c.mu.Unlock()
			return
		}
		j := c.jobs[0]
		c.jobs = c.jobs[1:]
		c.mu.Unlock()
		err := c.carry(j)
		c.mu.Lock()
		if c.failures++; err == nil {
			c.failures = 0
		}
		c.mu.Unlock()
		close(j.done)
	}
}

var (
	errBehind = errors.New("the second copy lacks an earlier write")
	errAhead  = errors.New("the second copy has this write")
)

// carry does one write in the second copy. If the one before it is missing,
// another tab is about to carry that over, or never will: then everything is
// compared.
func (c *second) carry(j job) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = caught(r)
		}
	}()
	ctx := context.Background() // whoever saved may have gone; this must be done
	for begun := time.Now(); ; time.Sleep(gapPause) {
		_, _, err := c.spare.write(ctx, book.Strict, book.Spaces, replay(j.ops), func(now int64) (int64, error) {
			switch {
			case now >= j.stamp:
				return 0, errAhead
			case now < j.stamp-1 || j.compare:
				return 0, errBehind
			}
			return j.stamp, nil
		})
		switch {
		case err == nil:
			return nil
		case errors.Is(err, errAhead):
			return c.ahead(ctx, j)
		case !errors.Is(err, errBehind):
			return err
		case j.compare || time.Since(begun) > gapLimit:
			_, err := level(ctx, c.main, c.spare)
			return err
		}
	}
}

// ahead is told that the second copy counted more than a write that was just
// done. Another tab may have carried it over by comparing; or else the browser
// threw the book away under the open page, and the write began it anew: then it
// is done once more on top of what the second copy has.
func (c *second) ahead(ctx context.Context, j job) error {
	ours, err := c.main.stamp(ctx)
	if err != nil {
		return err
	}
	lost := false
	if _, _, err = c.spare.write(ctx, book.Strict, book.Spaces, replay(j.ops), func(now int64) (int64, error) {
		if lost = now > ours; !lost {
			return 0, errAhead
		}
		return now + 1, nil
	}); !lost {
		return nil
	}
	if err == nil {
		err = c.main.bringBack(ctx)
	}
	c.main.tell(c.main.options.Lost)
	return err
}

var errMoved = errors.New("written by another tab meanwhile")

// level makes a store like another that counted more writes, and tells how many
// records that changed.
func level(ctx context.Context, from, to *Store) (changed int, err error) {
	for range 5 {
		want, stamp, err := from.stamped(ctx)
		if err != nil {
			return 0, err
		}
		have, seen, err := to.stamped(ctx)
		if err != nil || seen >= stamp {
			return 0, err
		}
		ops := difference(have, want)
		_, _, err = to.write(ctx, book.Strict, book.Spaces, replay(ops), func(now int64) (int64, error) {
			if now != seen {
				return 0, errMoved
			}
			return stamp, nil
		})
		if !errors.Is(err, errMoved) {
			return len(ops), err
		}
	}
	return 0, errMoved
}

// difference is what turns the rows of the book's spaces into others. A value
// that is no text stays where it is and is not carried over.
func difference(have, want [][]book.Row) (ops []op) {
	for i, space := range book.Spaces {
		old := make(map[book.Key]string, len(have[i]))
		for _, r := range have[i] {
			old[r.Key] = r.Text
		}
		for _, r := range want[i] {
			text, ok := old[r.Key]
			delete(old, r.Key)
			if r.Text != "" && (!ok || text != r.Text) {
				ops = append(ops, op{put, space, r.Key, r.Text})
			}
		}
		for _, r := range have[i] {
			if text, left := old[r.Key]; left && text != "" {
				ops = append(ops, op{remove, space, r.Key, ""})
			}
		}
	}
	return ops
}

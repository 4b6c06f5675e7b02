package book

import "context"

// Space is one kind of record in the store.
type Space string

// The spaces. What stands in them is documented where it is encoded.
const (
	Heads    Space = "heads"    // by id: projection of the newest revision
	Versions Space = "versions" // by [id, rev]: every revision
	Trials   Space = "trials"   // by [entry id, trial id]
	Settings Space = "settings" // by key
	Photos   Space = "photos"   // by entry id
)

// Spaces are all of them, in a fixed order.
var Spaces = []Space{Heads, Versions, Trials, Settings, Photos}

// Key finds a record in its space. Heads, settings and photos have only an ID;
// versions have ID and Rev, trials ID and Sub.
type Key struct {
	ID  string
	Rev int
	Sub string
}

// Row is one stored record. If what is stored is no text, Text is no record.
type Row struct {
	Key  Key
	Text string
}

// Durability says how long a write waits.
type Durability uint8

// Strict waits until the bytes are with the device's disk as far as the browser
// can tell; Relaxed until the browser has taken them.
const (
	Strict Durability = iota
	Relaxed
)

// Port is a transactional store of texts: of any UTF-8 that does not begin with
// a byte order mark, which the way into JavaScript drops. Errors of the store
// are [*Failure]s.
type Port interface {
	// Snapshot reads all records of some spaces in one transaction, each space
	// in key order but the heads, which come in any.
	Snapshot(ctx context.Context, spaces ...Space) ([][]Row, error)

	// Read runs fn in one read transaction.
	Read(ctx context.Context, spaces []Space, fn func(Tx) error) error

	// Write runs fn in one write transaction and returns nil only after it was
	// committed. If fn returns an error, nothing is written and the error is
	// returned. fn may be run a second time when the connection was lost, so it
	// must begin afresh each time; it must not wait for anything but tx.
	Write(ctx context.Context, how Durability, spaces []Space, fn func(Tx) error) error

	// Close lets go of the store. Later calls fail with ErrStale.
	Close() error
}

// Tx is what can be done inside a transaction.
type Tx interface {
	// Get reads one record; false if there is none.
	Get(space Space, key Key) (text string, ok bool, err error)

	// Under reads all records of one id, in key order.
	Under(space Space, id string) ([]Row, error)

	// Keys reads the keys of all records of a space, in order.
	Keys(space Space) ([]Key, error)

	// Put writes one record.
	Put(space Space, key Key, text string) error

	// Delete removes one record, if there.
	Delete(space Space, key Key) error

	// DeleteUnder removes all records of one id.
	DeleteUnder(space Space, id string) error
}

// Notice says what another connection to the same store has written.
type Notice struct {
	All     bool    // so much, or in such a way, that everything should be read again
	Touched []Touch // otherwise the records, in the order written
}

// Touch is a record, or all records of one id in a space, that was written or
// removed.
type Touch struct {
	Space Space
	ID    string
}

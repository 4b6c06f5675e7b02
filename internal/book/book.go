// Package book keeps the saved formulas with their versions, trials and photos,
// and what this kitchen told of itself, so that nothing that was reported as
// saved is ever lost.
//
// # Model
//
// An [Entry] is one formula under one id. Every save makes a new revision, 1, 2,
// 3 ..., and every revision stays: going back, comparing and branching read old
// revisions. Beside the revisions stands one [Head] for each entry, a small
// projection of its newest revision, so that a list of ten thousand loads fast.
// Deleting is a revision too: it puts the entry into the bin, from which it can
// be taken back until it is purged.
//
// Two tabs may have the book open. A save names the revision that it was made
// from. If another revision has come in between, both are kept: the one stored
// stays, and the later save becomes an entry of its own, marked as a copy made
// in a conflict ([Conflict]). The test and the write are one transaction.
//
// The formula itself is opaque here: JSON text that the caller's [Checks] accept.
// Ids and times come from the caller as well; this package has no clock and no
// source of randomness.
//
// # Storage
//
// The rules above are written once, over a small transactional [Port]. The port
// has two implementations: [Memory], for tests and for a browser without
// storage, and the IndexedDB one. Both pass the contract in package booktest.
// Each record is one JSON text that carries the number of its form; records of
// older forms are read for ever (see testdata/form1). A record that cannot be
// read is reported, left in place, and hinders no other.
package book

import "tremblant/internal/wire"

// Head is what the list knows of an entry: its newest revision without the
// formula itself.
type Head struct {
	ID       string
	Rev      int // from 1, one more with each save
	Name     string
	Tags     []string
	Made     int64  // first save, Unix time in ms
	Saved    int64  // this revision's save, Unix time in ms
	From     Origin // what it was branched or copied from; zero if it began by itself
	Conflict string // the id of the entry whose change came first, if this is a copy made in a conflict
	Binned   int64  // when it was deleted, Unix time in ms; 0 while it is not
	Reading         // what search and filters know; empty in an old revision
}

// Origin is a revision of another entry.
type Origin struct {
	ID  string
	Rev int
}

// Reading is what search and filters may know of a formula; the caller reads
// it from the body.
type Reading struct {
	Words  string   // text to search beside name and tags: agents, notes. Kept folded, see [Fold]
	Facets []string // what can be filtered by, as "agent.agar" or "diet.vegan"
}

// Entry is one revision with its formula.
type Entry struct {
	Head
	Body []byte        // the formula: canonical compact JSON
	Rest []wire.Member // members that a newer program wrote; hand them on with the next save
}

// Checks are the caller's knowledge of what the book stores. A nil function
// accepts every JSON value.
type Checks struct {
	Body    func(body wire.Value) (Reading, error)   // a formula
	Batch   func(batch wire.Value) error             // the batch of a trial
	Setting func(key string, value wire.Value) error // a kitchen setting
}

// Bounds of what is stored. They keep one record well under what a phone moves
// at once, and are far over what a kitchen writes by hand.
const (
	MaxName    = 200     // bytes of a name
	MaxTag     = 60      // bytes of a tag
	MaxTags    = 20      // tags of one entry
	MaxBody    = 128_000 // bytes of a formula, batch or setting
	MaxWords   = 4_000   // bytes of the searched text beside name and tags; the rest is cut
	MaxFacets  = 60      // facets of one entry; the rest is cut
	MaxPhoto   = 400_000 // bytes of a photo's data URL
	MaxID      = 64      // bytes of an id
	MaxKey     = 64      // bytes of a setting's key
	MaxNote    = 4_000   // bytes of a trial's note
	MaxUnixMs  = 1 << 52 // latest time; some 140,000 years on
	MaxRev     = 1 << 30 // highest revision
	MaxFileRev = 1 << 29 // highest revision that a file may bring: as many again can follow it
	bodyDepth  = 24      // nesting of a formula
	bodyValues = 20_000  // values in a formula
)

// Book is the book over one store. It holds no state of its own, so any number
// of goroutines may use it.
type Book struct {
	port   Port
	checks Checks
}

// New makes a book over a port.
func New(port Port, checks Checks) *Book { return &Book{port, checks} }

// Close lets go of the store.
func (b *Book) Close() error { return b.port.Close() }

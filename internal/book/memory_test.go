package book_test

import (
	"testing"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

// two gives two connections to one in-memory store. Closing one leaves the
// other open, as with two tabs.
func two(t *testing.T) (a, b book.Port) {
	m := book.NewMemory()
	return m, m.Connect()
}

func TestMemoryKeepsTheContract(t *testing.T) { booktest.Run(t, two) }

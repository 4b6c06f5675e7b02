//go:build kill

package kill

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	rounds = flag.Int("rounds", envInt("KILL_ROUNDS", 25), "how often the browser is killed")
	seed   = flag.Uint64("seed", 1, "of the moments at which it is killed")
	beside = flag.Int("browsers", 2, "how many browsers are killed side by side, each with its own profile")
)

func envInt(name string, def int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return def
}

// purgeEvery bounds what is stored, and lets kills fall into purges too.
const purgeEvery = 12

func TestNoReportedSaveIsLost(t *testing.T) {
	wasm := build(t)
	for i := range *beside {
		t.Run(fmt.Sprint("browser ", i+1), func(t *testing.T) {
			t.Parallel()
			killAgainAndAgain(t, newSite(t, wasm), (*rounds+i) / *beside, *seed+uint64(i))
		})
	}
}

func killAgainAndAgain(t *testing.T, s *site, rounds int, seed uint64) {
	h := newHarness(t, s)
	rnd := rand.New(rand.NewPCG(seed, 2))
	begun := time.Now()
	for h.round = 1; h.round <= rounds && !t.Failed(); h.round++ {
		h.run(t, rnd)
	}
	h.kills(t, rounds, begun)
	// A last look, in which nothing is killed before everything was compared.
	h.round++
	before := h.ledger.comparisons
	h.once(t, func(b *browser) { h.await(t, b, h.compared) })
	require.Greater(t, h.ledger.comparisons, before)
	require.False(t, t.Failed())
}

type harness struct {
	site    *site
	profile string

	mu       sync.Mutex
	ledger   *ledger
	round    int
	started  bool // the browser of this round has asked for the program
	restarts int  // browsers that did not come up and were started again
	problems []string
	compared chan bool // of this round: the state was compared
	saved    chan bool // of this round: something was reported
}

func newHarness(t *testing.T, s *site) *harness {
	h := &harness{site: s, profile: filepath.Join(t.TempDir(), "profile"), ledger: newLedger()}
	s.asked = func() { h.mu.Lock(); h.started = true; h.mu.Unlock() }
	s.hear("/state", h.state)
	s.hear("/done", h.done)
	s.hear("/trouble", h.trouble)
	return h
}

// run is one round: start, let it compare and save, kill at a random moment.
func (h *harness) run(t *testing.T, rnd *rand.Rand) {
	startup := rnd.IntN(8) == 0 // kill while it opens, reads or purges
	delay := time.Duration(rnd.IntN(150)) * time.Millisecond
	h.once(t, func(b *browser) {
		if startup {
			time.Sleep(time.Duration(200+rnd.IntN(800)) * time.Millisecond)
			return
		}
		if h.await(t, b, h.compared) && h.await(t, b, h.saved) {
			time.Sleep(delay)
		}
	})
}

func (h *harness) once(t *testing.T, until func(*browser)) {
	h.mu.Lock()
	h.compared, h.saved, h.started = make(chan bool, 1), make(chan bool, 1), false
	h.mu.Unlock()
	b := launch(t, h.profile, h.site.url)
	until(b)
	b.kill()
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, p := range h.problems {
		t.Errorf("round %d: %s", h.round, p)
	}
	h.problems = nil
}

// await waits for the page. A browser that ends by itself, or does not even ask
// for the program, says nothing about the book: the round is over. That is
// counted and must stay rare.
func (h *harness) await(t *testing.T, b *browser, what chan bool) bool {
	select {
	case <-what:
		return true
	case <-b.done:
	case <-time.After(40 * time.Second):
		h.mu.Lock()
		started := h.started
		h.mu.Unlock()
		if started {
			t.Errorf("round %d: the page does not answer", h.round)
			return false
		}
	}
	h.restarts++
	return false
}

// state compares what is stored with what was reported, and tells the page what
// to do in this round.
func (h *harness) state(text string) string {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.problems = append(h.problems, h.ledger.compare(text)...)
	signal(h.compared)
	what := "save"
	if h.round%purgeEvery == 0 {
		what = "purge"
	}
	return fmt.Sprint(h.round, " ", what)
}

func (h *harness) done(text string) string {
	h.mu.Lock()
	defer h.mu.Unlock()
	if err := h.ledger.note(strings.Fields(text)); err != nil {
		h.problems = append(h.problems, err.Error())
	}
	// Every other purge is seen to its end, or the book would grow for ever on a
	// machine too busy to purge before the kill.
	patient := h.round/purgeEvery%2 == 0
	if !strings.HasPrefix(text, "binning") && !(patient && text == "purging") {
		signal(h.saved)
	}
	return ""
}

func (h *harness) trouble(text string) string {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.problems = append(h.problems, "trouble: "+text)
	signal(h.compared)
	signal(h.saved)
	return ""
}

func signal(c chan bool) {
	select {
	case c <- true:
	default:
	}
}

func (h *harness) kills(t *testing.T, rounds int, begun time.Time) {
	h.mu.Lock()
	defer h.mu.Unlock()
	l := h.ledger
	t.Logf("%d kills in %v: %d writes reported as done, %d comparisons, %d records compared, %d writes found that were not yet reported, %d browsers that did not come up",
		h.round-1, time.Since(begun).Round(time.Second), l.reported, l.comparisons, l.compared, l.unreported, h.restarts)
	assert.LessOrEqual(t, h.restarts, 1+rounds/20)
	if rounds >= 10 {
		assert.Greater(t, l.reported, rounds, "the page saved too little for the test to mean anything")
	}
}

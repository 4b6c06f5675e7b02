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
	h := &harness{site: newSite(t), profile: filepath.Join(t.TempDir(), "profile"), ledger: newLedger()}
	h.site.hear("/state", h.state)
	h.site.hear("/done", h.done)
	h.site.hear("/trouble", h.trouble)
	rnd := rand.New(rand.NewPCG(*seed, 2))
	begun := time.Now()
	for h.round = 1; h.round <= *rounds && !t.Failed(); h.round++ {
		h.run(t, rnd)
	}
	h.kills(t, begun)
	// A last look, in which nothing is killed before everything was compared.
	h.once(t, time.Minute, func(b *browser) { h.await(t, h.compared) })
	require.False(t, t.Failed())
}

type harness struct {
	site    *site
	profile string

	mu       sync.Mutex
	ledger   *ledger
	round    int
	early    int // kills before the state was compared
	problems []string
	compared chan bool // of this round: the state was compared
	saved    chan bool // of this round: something was reported
}

// run is one round: start, let it compare and save, kill at a random moment.
func (h *harness) run(t *testing.T, rnd *rand.Rand) {
	startup := rnd.IntN(8) == 0 // kill while it opens, reads or purges
	delay := time.Duration(rnd.IntN(150)) * time.Millisecond
	h.once(t, time.Minute, func(*browser) {
		if startup {
			time.Sleep(time.Duration(200+rnd.IntN(800)) * time.Millisecond)
			return
		}
		if h.await(t, h.compared) && h.await(t, h.saved) {
			time.Sleep(delay)
		}
	})
}

func (h *harness) once(t *testing.T, _ time.Duration, until func(*browser)) {
	h.mu.Lock()
	h.compared, h.saved = make(chan bool, 1), make(chan bool, 1)
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

func (h *harness) await(t *testing.T, what chan bool) bool {
	select {
	case <-what:
		return true
	case <-time.After(40 * time.Second):
		t.Errorf("round %d: the page does not answer", h.round)
		return false
	}
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
	if !strings.HasPrefix(text, "binning") {
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

func (h *harness) kills(t *testing.T, begun time.Time) {
	h.mu.Lock()
	defer h.mu.Unlock()
	l := h.ledger
	t.Logf("%d kills in %v: %d writes reported as done, %d comparisons, %d records compared, %d writes found that were not yet reported",
		h.round-1, time.Since(begun).Round(time.Second), l.reported, l.comparisons, l.compared, l.unreported)
	if *rounds >= 20 {
		assert.Greater(t, l.reported, *rounds, "the page saved too little for the test to mean anything")
	}
}

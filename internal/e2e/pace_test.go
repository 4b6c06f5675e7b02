//go:build e2e && bench

package e2e

import (
	"math"
	"os/exec"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// slowdown stands for an old phone; the same for the page and for its floors.
const slowdown = 4

// slowing makes the browser of a page slower, or gives it full speed again.
type slowing func(page *Page, on bool)

// slowedBothWays measures in a browser that is slower as a whole, and in one that has
// the page's thread slowed by Chromium's own throttle, which people know.
func slowedBothWays(t *testing.T, measure func(t *testing.T, browser *Browser, slow slowing)) {
	t.Run("whole browser", func(t *testing.T) {
		others := busy() // before halts make it count its own
		browser, pace := StartPaced(t)
		times := pace.Tune(browser.Page(Phone), slowdown)
		t.Logf("the whole browser %.1f times slower, by a loop of fixed length%s", times, others)
		require.InDelta(t, slowdown, times, 1)
		measure(t, browser, pace.set)
	})
	t.Run("the page's thread", func(t *testing.T) {
		t.Logf("the page's thread %d times slower%s", slowdown, busy())
		measure(t, Start(t), throttle)
	})
}

func throttle(page *Page, on bool) {
	if on {
		page.Slow(slowdown)
	} else {
		page.Slow(1) // a page that is slowed takes processor time even when it rests
	}
}

// running is how long a slowed browser runs before it is halted again: short beside
// a frame, long beside what it costs to halt it.
const running = 2 * time.Millisecond

// pace makes a whole browser slower, all of its processes and threads, as an old
// phone is slower: it halts them most of the time. Chromium's own throttle slows
// the page's thread alone, and leaves the workers, the service worker and what
// draws at full speed.
type pace struct {
	t    testing.TB
	cmd  *exec.Cmd
	over float64 // what a halt costs beside its length, as a factor
	stop chan struct{}
	done chan struct{}
}

// StartPaced starts a browser that can be slowed as a whole.
func StartPaced(t testing.TB) (*Browser, *pace) {
	t.Helper()
	p := &pace{t: t, over: 1}
	browser := launch(t, []chromedp.ExecAllocatorOption{chromedp.ModifyCmdFunc(func(cmd *exec.Cmd) {
		// A group of its own, which all that it starts belong to; and it ends with the test.
		cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
		p.cmd = cmd
	})})
	t.Cleanup(p.Full)
	return browser, p
}

// Slow makes it so many times slower until Full.
func (p *pace) Slow(times float64) {
	p.t.Helper()
	p.Full()
	p.stop, p.done = make(chan struct{}), make(chan struct{})
	group, over := -p.cmd.Process.Pid, p.over
	go func() {
		defer close(p.done)
		defer syscall.Kill(group, syscall.SIGCONT)
		began := time.Now()
		var ran time.Duration
		for {
			from := time.Now()
			time.Sleep(running)
			syscall.Kill(group, syscall.SIGSTOP)
			ran += time.Since(from)
			// By the sum of both, so that a halt that was too long makes the next one shorter.
			owed := time.Duration(float64(ran)*times/over) - time.Since(began)
			select {
			case <-p.stop:
				return
			case <-time.After(owed):
			}
			syscall.Kill(group, syscall.SIGCONT)
		}
	}()
}

// Full gives it the whole processor back.
func (p *pace) Full() {
	if p.stop == nil {
		return
	}
	close(p.stop)
	<-p.done
	p.stop = nil
}

func (p *pace) set(_ *Page, on bool) {
	if on {
		p.Slow(slowdown)
	} else {
		p.Full()
	}
}

// One correction from one measurement was seen to leave it 5.2 times slower instead of
// 4 on one machine, two runs of two.
const (
	tries      = 5
	nearEnough = 0.25 // of the times wanted
)

// Tune makes Slow say what it does: halts cost the browser a tenth more than they last.
// It measures with work of a fixed size in a page, and returns how many times slower
// that is afterwards.
func (p *pace) Tune(page *Page, times float64) float64 {
	p.t.Helper()
	const work = `(() => {
		const from = performance.now();
		let x = 1;
		for (let i = 0; i < 1e7; i++) x = (x * 48271) % 2147483647;
		return performance.now() - from + (x ? 0 : 1);
	})()`
	Eval[float64](page, work) // compiles it
	took := func() float64 {
		var all []float64
		for range 5 {
			all = append(all, Eval[float64](page, work))
		}
		slices.Sort(all)
		return all[len(all)/2] // the machine's other work comes and goes
	}
	slowdown := func() float64 {
		full := took()
		p.Slow(times)
		defer p.Full()
		return took() / full
	}
	measured := slowdown()
	for try := 0; try < tries && math.Abs(measured-times) > nearEnough; try++ {
		p.over *= measured / times
		measured = slowdown()
	}
	return measured
}

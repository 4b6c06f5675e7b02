//go:build kill

package kill

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// tab is one page of the book under the hands of a test.
type tab struct {
	t   *testing.T
	ctx context.Context
}

// newTab opens the page: in a browser of its own, or beside another tab.
func newTab(t *testing.T, s *site, beside *tab) *tab {
	t.Helper()
	parent := t.Context()
	if beside != nil {
		parent = beside.ctx
	} else {
		options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium(t)),
			chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()))
		allocator, cancel := chromedp.NewExecAllocator(parent, options...)
		t.Cleanup(cancel)
		parent = allocator
	}
	ctx, cancel := chromedp.NewContext(parent)
	t.Cleanup(cancel)
	p := &tab{t, ctx}
	require.NoError(t, chromedp.Do(ctx, chromedp.Navigate(s.url+"?serve")))
	p.ready()
	return p
}

func (p *tab) ready() {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx,
		chromedp.Poll[chromedp.Void]("window.bookReady === true", chromedp.WithPollingTimeout(40*time.Second))))
}

func (p *tab) call(name string, args ...any) string {
	p.t.Helper()
	list, err := json.Marshal(append([]any{}, args...))
	require.NoError(p.t, err)
	answer, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](fmt.Sprintf("%s(...%s)", name, list), chromedp.EvalAwaitPromise))
	require.NoError(p.t, err)
	return answer
}

func (p *tab) save(id string, base int, spare, name string, size int) string {
	p.t.Helper()
	return p.call("bookSave", id, base, spare, name, size)
}

// names are the names of the newest revisions by id.
func (p *tab) names() map[string]string {
	p.t.Helper()
	text, ok := strings.CutPrefix(p.call("bookState"), "ok ")
	require.True(p.t, ok, text)
	var rows []row
	require.NoError(p.t, json.Unmarshal([]byte(text), &rows))
	names := map[string]string{}
	for _, r := range rows {
		if r.Space == book.Heads {
			var h struct{ Name string }
			require.NoError(p.t, json.Unmarshal([]byte(r.Text), &h))
			names[r.ID] = h.Name
		}
	}
	return names
}

// quota overrides what the browser allows the page's origin; 0 ends that.
func (p *tab) quota(s *site, bytes float64) {
	p.t.Helper()
	params := storage.OverrideQuotaForOriginParams{Origin: s.origin()}
	if bytes > 0 {
		params.QuotaSize = &bytes
	}
	p.command(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, storage.OverrideQuotaForOrigin, params)
		return err
	})
}

// throwAway lets the browser clear the database of the page's origin.
func (p *tab) throwAway(s *site) {
	p.t.Helper()
	p.command(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, storage.ClearDataForOrigin, storage.ClearDataForOriginParams{Origin: s.origin(), StorageTypes: "indexeddb"})
		return err
	})
}

func (p *tab) command(do func(ctx context.Context, t *chromedp.Target) error) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.Func(do)))
}

func (s *site) origin() string { return strings.TrimSuffix(s.url, "/") }

func TestTwoTabsLoseNoSave(t *testing.T) {
	s := newSite(t, build(t))
	one := newTab(t, s, nil)
	two := newTab(t, s, one)
	assert.Equal(t, "ok 1", one.save("pear", 0, "", "Pear", 10))
	assert.Equal(t, "ok 2", two.save("pear", 1, "", "Pear of tab two", 10))
	assert.Contains(t, one.save("pear", 1, "pear-kept", "Pear of tab one", 10), string(book.CodeConflict)+":")
	want := map[string]string{"pear": "Pear of tab two", "pear-kept": "Pear of tab one"}
	assert.Equal(t, want, one.names())
	assert.Equal(t, want, two.names())
	assert.Eventually(t, func() bool { return one.call("bookHeard") == "ok 1" && two.call("bookHeard") == "ok 2" },
		5*time.Second, 50*time.Millisecond, "each tab hears of the other's saves")
}

func TestOverQuotaNothingIsReportedAsSaved(t *testing.T) {
	s := newSite(t, build(t))
	p := newTab(t, s, nil)
	p.quota(s, 3<<20)
	// Chromium remembers for a while how much room it found; an override given
	// after the first save would not be seen.
	require.Equal(t, "ok 1", p.save("first", 0, "", "First", 100))
	saved := map[string]string{"first": "First"}
	full := false
	for i := 0; i < 200 && !full; i++ {
		id := fmt.Sprint("big-", i)
		answer := p.save(id, 0, "", id, 100_000)
		if full = strings.HasPrefix(answer, string(book.CodeQuota)+":"); !full {
			require.Equal(t, "ok 1", answer)
			saved[id] = id
		}
	}
	require.True(t, full, "the quota was never reached")
	assert.Equal(t, saved, p.names(), "what was reported is there, and nothing else")

	p.quota(s, 0)
	assert.Equal(t, "ok 1", p.save("after", 0, "", "After", 100_000))
}

func TestDataThrownAwayUnderAnOpenPage(t *testing.T) {
	s := newSite(t, build(t))
	p := newTab(t, s, nil)
	require.Equal(t, "ok 1", p.save("pear", 0, "", "Pear", 10))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Reload()))
	p.ready()
	assert.Equal(t, "ok false", p.call("bookFresh"))
	p.throwAway(s)
	assert.Equal(t, "ok 2", p.save("pear", 1, "", "Pear, still on the screen", 10), "the page goes on and saves anew")
	assert.Equal(t, map[string]string{"pear": "Pear, still on the screen"}, p.names())
	assert.Equal(t, "ok true", p.call("bookFresh"), "and knows that the rest is gone")
}

func TestExportWipeImportInTheBrowser(t *testing.T) {
	s := newSite(t, build(t))
	p := newTab(t, s, nil)
	for i := range 30 {
		require.Equal(t, "ok 1", p.save(fmt.Sprint("e", i), 0, "", fmt.Sprint("Entry ", i), 500))
	}
	first, ok := strings.CutPrefix(p.call("bookExport"), "ok ")
	require.True(t, ok)
	other := newTab(t, s, nil) // a browser without the data
	assert.Empty(t, other.names())
	assert.Equal(t, "ok 30", other.call("bookImport", first))
	assert.Equal(t, "ok "+first, other.call("bookExport"))
	assert.Contains(t, other.call("bookImport", first[:len(first)/2]), string(book.CodeFileSyntax))
	assert.Equal(t, "ok "+first, other.call("bookExport"))
}

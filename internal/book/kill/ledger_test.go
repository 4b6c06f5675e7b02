//go:build kill

package kill

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"

	"tremblant/internal/book"
)

// ledger is what the harness knows to be saved.
type ledger struct {
	saves    map[book.Key]string // token by entry and revision
	trials   map[book.Key]string // token by entry and trial
	settings map[book.Key]string // token by key and revision
	binning  map[string]int      // the revision by which an entry may be in the bin
	purging  bool                // everything may be gone, but only all of it

	reported, comparisons, compared, unreported int
}

func newLedger() *ledger {
	return &ledger{
		saves: map[book.Key]string{}, trials: map[book.Key]string{}, settings: map[book.Key]string{}, binning: map[string]int{},
	}
}

// note takes down one report.
func (l *ledger) note(words []string) error {
	l.reported++
	switch {
	case len(words) == 4 && words[0] == "save":
		l.saves[book.Key{ID: words[1], Rev: atoi(words[2])}] = words[3]
	case len(words) == 4 && words[0] == "trial":
		l.trials[book.Key{ID: words[1], Sub: words[2]}] = words[3]
	case len(words) == 4 && words[0] == "setting":
		l.settings[book.Key{ID: words[1], Rev: atoi(words[2])}] = words[3]
	case len(words) == 3 && words[0] == "binning":
		l.binning[words[1]] = atoi(words[2])
	case len(words) == 1 && words[0] == "purging":
		l.purging = true
	case len(words) == 1 && words[0] == "purged":
		l.forget()
	default:
		return fmt.Errorf("strange report %q", words)
	}
	return nil
}

func (l *ledger) forget() {
	clear(l.saves)
	clear(l.trials)
	clear(l.binning)
	l.purging = false
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

type row struct {
	Space   book.Space
	ID, Sub string
	Rev     int
	Text    string
}

// formula is the body of the page's records.
type formula struct {
	Token string
	Count int
	Fill  []string
}

// compare checks all that is stored against all that was reported.
func (l *ledger) compare(state string) (problems []string) {
	bad := func(format string, args ...any) { problems = append(problems, fmt.Sprintf(format, args...)) }
	l.comparisons++
	var rows []row
	if err := json.Unmarshal([]byte(state), &rows); err != nil {
		return []string{"state: " + err.Error()}
	}
	stored := book.NewMemory()
	ctx := context.Background()
	if err := stored.Write(ctx, book.Strict, book.Spaces, func(tx book.Tx) error {
		for _, r := range rows {
			if err := tx.Put(r.Space, book.Key{ID: r.ID, Rev: r.Rev, Sub: r.Sub}, r.Text); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		return []string{err.Error()}
	}
	l.compared += len(rows)
	b := book.New(stored, book.Checks{})
	list, err := b.List(ctx)
	if err != nil {
		bad("list: %v", err)
	}
	for _, d := range list.Damaged {
		bad("damaged: %v", d.Err)
	}
	if l.purging && len(list.Heads) == 0 {
		l.forget() // the purge was carried out before the kill
	}
	newest := map[string]int{}
	for _, h := range list.Heads {
		newest[h.ID] = h.Rev
		problems = append(problems, l.entry(ctx, b, h)...)
	}
	for _, r := range rows {
		if (r.Space == book.Versions || r.Space == book.Trials) && newest[r.ID] == 0 {
			bad("%s %s %d %s without a head", r.Space, r.ID, r.Rev, r.Sub)
		}
	}
	for key := range l.saves {
		if newest[key.ID] < key.Rev {
			bad("LOST: %s revision %d was reported, %d is the newest", key.ID, key.Rev, newest[key.ID])
		}
	}
	problems = append(problems, l.others(ctx, b)...)
	l.purging = false // if it was not carried out, it never will be
	return problems
}

// entry checks one entry with all its revisions.
func (l *ledger) entry(ctx context.Context, b *book.Book, h book.Head) (problems []string) {
	bad := func(format string, args ...any) { problems = append(problems, fmt.Sprintf(format, args...)) }
	list, damaged, err := b.Versions(ctx, h.ID)
	if err != nil || len(damaged) > 0 {
		bad("revisions of %s: %v %v", h.ID, err, damaged)
	}
	if len(list) != h.Rev {
		bad("%s is at revision %d and has %d of them", h.ID, h.Rev, len(list))
	}
	extra := 0
	for i, e := range list {
		if want := h.Rev - i; e.Rev != want {
			bad("%s has revision %d in the place of %d", h.ID, e.Rev, want)
		}
		token, ok := l.saves[book.Key{ID: e.ID, Rev: e.Rev}]
		if !ok && e.Rev != l.binning[e.ID] {
			extra++ // saved, and killed before the report
			l.saves[book.Key{ID: e.ID, Rev: e.Rev}] = e.Name
		}
		if ok && token != e.Name {
			bad("%s revision %d is %s, reported was %s", e.ID, e.Rev, e.Name, token)
		}
		if err := whole(e.Body, e.Name); err != nil {
			bad("%s revision %d: %v", e.ID, e.Rev, err)
		}
	}
	if extra > 1 {
		bad("%s has %d revisions that nobody reported", h.ID, extra)
	}
	l.unreported += extra
	if len(list) == 0 {
		return problems
	}
	if h.Name != list[0].Name || h.Saved != list[0].Saved || h.Binned != list[0].Binned {
		bad("head and newest revision of %s differ", h.ID)
	}
	trials, damaged, err := b.Trials(ctx, h.ID)
	if err != nil || len(damaged) > 0 {
		bad("trials of %s: %v %v", h.ID, err, damaged)
	}
	found := map[string]string{}
	for _, t := range trials {
		var f formula
		if err := json.Unmarshal(t.Batch, &f); err != nil {
			bad("trial %s: %v", t.ID, err)
		}
		found[t.ID] = f.Token
		if err := whole(t.Batch, f.Token); err != nil {
			bad("trial %s: %v", t.ID, err)
		}
	}
	for key, token := range l.trials {
		if key.ID == h.ID && found[key.Sub] != token {
			bad("LOST: trial %s of %s", key.Sub, key.ID)
		}
	}
	return problems
}

// others checks the settings.
func (l *ledger) others(ctx context.Context, b *book.Book) (problems []string) {
	bad := func(format string, args ...any) { problems = append(problems, fmt.Sprintf(format, args...)) }
	settings, damaged, err := b.Settings(ctx)
	if err != nil || len(damaged) > 0 {
		bad("settings: %v %v", err, damaged)
	}
	found := map[string]book.Setting{}
	for _, s := range settings {
		found[s.Key] = s
		var f formula
		if err := json.Unmarshal(s.Body, &f); err != nil {
			bad("setting %s: %v", s.Key, err)
		}
		if err := whole(s.Body, f.Token); err != nil {
			bad("setting %s: %v", s.Key, err)
		}
	}
	for key, token := range l.settings {
		s := found[key.ID]
		if s.Rev < key.Rev {
			bad("LOST: setting %s revision %d, found %d", key.ID, key.Rev, s.Rev)
		}
		if s.Rev == key.Rev && whole(s.Body, token) != nil {
			bad("setting %s revision %d is another one", key.ID, key.Rev)
		}
	}
	return problems
}

// whole checks that a record is of one save only and complete.
func whole(text []byte, token string) error {
	var f formula
	if err := json.Unmarshal(text, &f); err != nil {
		return err
	}
	if f.Token != token || f.Count != len(f.Fill) {
		return fmt.Errorf("half written: %s, %d of %d", f.Token, len(f.Fill), f.Count)
	}
	for _, s := range f.Fill {
		if s != token {
			return fmt.Errorf("mixed: %s in %s", s, token)
		}
	}
	return nil
}

//go:build js && wasm

// Command page is the program inside the browser of the kill harness: it hands
// over all that is stored, then saves as fast as it can and reports each save
// after it was reported as done. It judges nothing.
package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"syscall/js"

	"tremblant/internal/book"
	"tremblant/internal/book/indexeddb"
	"tremblant/internal/wire"
)

func main() {
	ctx := context.Background()
	store, err := indexeddb.Open(ctx, indexeddb.Options{
		Report:  func(r any) { post("/trouble", fmt.Sprint("caught: ", r)) },
		Changed: func(book.Notice) { heard++ },
	})
	if err != nil {
		post("/trouble", "open: "+err.Error())
		return
	}
	b := book.New(store, book.Checks{})
	if js.Global().Get("location").Get("search").String() == "?serve" {
		serve(ctx, store, b)
	}
	post("/trouble", run(ctx, store, b).Error())
}

// run saves for ever; what it returns is why it could not go on.
func run(ctx context.Context, store *indexeddb.Store, b *book.Book) error {
	state, err := everything(ctx, store)
	if err != nil {
		return err
	}
	plan := strings.Fields(post("/state", state)) // round number, and whether to purge
	if len(plan) != 2 {
		return errors.New("no plan: " + strings.Join(plan, " "))
	}
	if plan[1] == "purge" {
		if err := purge(ctx, b); err != nil {
			return err
		}
	}
	w := worker{ctx: ctx, b: b, round: plan[0]}
	for {
		if err := w.step(); err != nil {
			return err
		}
	}
}

// everything is all rows of all spaces, as JSON.
func everything(ctx context.Context, store *indexeddb.Store) (string, error) {
	spaces, err := store.Snapshot(ctx, book.Spaces...)
	if err != nil {
		return "", err
	}
	w := wire.NewWriter()
	w.BeginArray()
	for i, rows := range spaces {
		for _, r := range rows {
			w.BeginObject()
			w.Name("space").Text(string(book.Spaces[i]))
			w.Name("id").Text(r.Key.ID)
			w.Name("rev").Int(int64(r.Key.Rev))
			w.Name("sub").Text(r.Key.Sub)
			w.Name("text").Text(r.Text)
			w.EndObject()
		}
	}
	w.EndArray()
	text, err := w.Bytes()
	return string(text), err
}

// purge deletes everything for good, in one transaction each.
func purge(ctx context.Context, b *book.Book) error {
	l, err := b.List(ctx)
	if err != nil {
		return err
	}
	for _, h := range l.Heads {
		post("/done", fmt.Sprint("binning ", h.ID, " ", h.Rev+1))
		if _, err := b.Bin(ctx, h.ID, h.Rev, 1); err != nil {
			return err
		}
	}
	post("/done", "purging")
	if _, err = b.Purge(ctx, 2); err != nil {
		return err
	}
	post("/done", "purged")
	return nil
}

// worker saves: revisions of three entries in turn, a trial and a setting now
// and then.
type worker struct {
	ctx   context.Context
	b     *book.Book
	round string
	n     int
	revs  [3]int
	shelf int
}

func (w *worker) step() error {
	w.n++
	token := fmt.Sprintf("%s-%d", w.round, w.n)
	i := w.n % len(w.revs)
	id := fmt.Sprintf("r%s-e%d", w.round, i)
	switch {
	case w.n%10 == 9:
		s, err := w.b.PutSetting(w.ctx, book.Setting{Key: "shelf.r" + w.round, Rev: w.shelf, Body: body(token, w.n)})
		if w.shelf = s.Rev; err != nil {
			return err
		}
		post("/done", fmt.Sprint("setting ", s.Key, " ", s.Rev, " ", token))
	case w.n%10 == 5 && w.revs[i] > 0:
		t, err := w.b.PutTrial(w.ctx, book.Trial{ID: "t" + strconv.Itoa(w.n), Entry: id, Rev: w.revs[i], Batch: body(token, w.n)})
		if err != nil {
			return err
		}
		post("/done", fmt.Sprint("trial ", id, " ", t.ID, " ", token))
	default:
		h, err := w.b.Save(w.ctx, book.Draft{ID: id, Base: w.revs[i], Name: token, Saved: int64(w.n), Body: body(token, w.n)})
		if w.revs[i] = h.Rev; err != nil {
			return err
		}
		post("/done", fmt.Sprint("save ", id, " ", h.Rev, " ", token))
	}
	return nil
}

// body is a record of up to 40 kB that says in each place which save it is of,
// so that a mixture of two would show.
func body(token string, n int) []byte {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("token").Text(token)
	count := 1 + n*n*37%3000
	w.Name("count").Int(int64(count))
	w.Name("fill").BeginArray()
	for range count {
		w.Text(token)
	}
	w.EndArray()
	w.EndObject()
	text, err := w.Bytes()
	if err != nil {
		panic(err)
	}
	return text
}

// post sends a text to the harness and gives its answer. Nothing here may be
// waited for inside a transaction.
func post(path, text string) string {
	answer := make(chan string, 1)
	got := js.FuncOf(func(_ js.Value, args []js.Value) any {
		answer <- args[0].String()
		return nil
	})
	defer got.Release()
	read := js.FuncOf(func(_ js.Value, args []js.Value) any { return args[0].Call("text") })
	defer read.Release()
	js.Global().Call("fetch", path, map[string]any{"method": "POST", "body": text}).Call("then", read).Call("then", got, got)
	return <-answer
}

// heard counts the notices of other tabs.
var heard int

// serve puts some of the book's work at the hands of a test that drives the
// page: functions that give promises.
func serve(ctx context.Context, store *indexeddb.Store, b *book.Book) {
	expose("bookSave", func(args []js.Value) (any, error) {
		d := book.Draft{ID: args[0].String(), Base: args[1].Int(), Spare: args[2].String(), Name: args[3].String(), Saved: 1,
			Body: noise(args[4].Int())}
		h, err := b.Save(ctx, d)
		return h.Rev, err
	})
	expose("bookState", func([]js.Value) (any, error) { return everything(ctx, store) })
	expose("bookHeard", func([]js.Value) (any, error) { return heard, nil })
	expose("bookFresh", func([]js.Value) (any, error) { return store.Fresh(), nil })
	expose("bookImport", func(args []js.Value) (any, error) {
		f, err := b.ReadFile([]byte(args[0].String()))
		if err != nil {
			return "", err
		}
		p, err := b.Compare(ctx, f)
		if err != nil {
			return "", err
		}
		return len(p.Items), b.Apply(ctx, p)
	})
	expose("bookExport", func([]js.Value) (any, error) {
		f, _, err := b.Export(ctx)
		if err != nil {
			return "", err
		}
		text, err := f.Encode()
		return string(text), err
	})
	js.Global().Set("bookReady", true)
	select {}
}

// noise is a body of so many bytes that the store cannot press together.
func noise(n int) []byte {
	text := make([]byte, n)
	x := uint32(2463534242)
	for i := range text {
		x ^= x << 13
		x ^= x >> 17
		x ^= x << 5
		text[i] = 'A' + byte(x%26)
	}
	return []byte(`"` + string(text) + `"`)
}

// expose makes a global function that gives a promise of "ok <result>" or of
// "<note code>: <error>".
func expose(name string, do func(args []js.Value) (any, error)) {
	js.Global().Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any {
		var work js.Func
		work = js.FuncOf(func(_ js.Value, settle []js.Value) any {
			go func() {
				defer work.Release()
				result, err := do(args)
				if err != nil {
					settle[0].Invoke(string(book.NoteOf(err).Code) + ": " + err.Error())
					return
				}
				settle[0].Invoke("ok " + fmt.Sprint(result))
			}()
			return nil
		})
		return js.Global().Get("Promise").New(work)
	}))
}

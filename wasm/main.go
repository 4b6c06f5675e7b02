//go:build js && wasm

// Command wasm is the program behind the page: it carries events from the page
// to the screen and patches back, and opens the book.
package main

import (
	"context"
	"strconv"
	"time"

	"tremblant/internal/dom"
	"tremblant/internal/phrase"
	"tremblant/internal/screen"
)

func main() {
	env := &shell{}
	dom.OnPanic = env.panicked
	env.app = screen.New(env, phrase.BookOf(dom.Text()))
	env.app.Files = env
	env.app.Begin(dom.Ask("draft"))
	dom.Events(env.event)
	env.app.GoTo(dom.Ask("hash"))
	env.show()
	dom.Tell("ready")
	env.openBook()
	select {}
}

// shell is what the screen asks of the browser.
type shell struct {
	app   *screen.App
	asked bool // the browser was asked to keep the book
}

func (s *shell) show() { dom.Apply(s.app.Patch()) }

// event carries one event of the page to the screen.
func (s *shell) event(kind string, args []string) {
	switch {
	case kind == "lab-on":
		s.app.LabOn()
	case kind == "lab-texts":
		s.app.LabTexts()
	case len(args) == 1 && kind == "lab-change":
		s.app.LabChange(args[0])
	case len(args) == 1 && kind == "file-coming":
		s.app.FileComing(args[0])
	case len(args) == 2 && kind == "file":
		s.app.File(args[0], dom.AskBytes("takeFile"), args[1] != "")
	case kind == "photo-coming":
		s.app.PhotoComing()
	case len(args) == 1 && kind == "kept":
		s.app.Kept(args[0] != "")
	case len(args) == 1 && kind == "photo":
		s.app.Photo(args[0])
	case kind == "draft":
		draft := s.app.Draft()
		dom.Tell("writeDraft", draft, s.app.Opening(draft))
	case len(args) == 2 && kind == "input":
		s.app.Input(args[0], args[1])
	case len(args) == 2 && kind == "do":
		row, _ := strconv.Atoi(args[1])
		s.app.Do(args[0], row)
	case len(args) == 2 && kind == "enter":
		s.app.Enter(args[0], args[1])
	case len(args) == 1 && kind == "go":
		s.app.GoTo(args[0])
	case len(args) == 1 && kind == "closed":
		s.app.Closed(args[0])
	}
	s.show()
}

func (s *shell) panicked(what any) {
	detail := "panic"
	switch x := what.(type) {
	case error:
		detail = x.Error()
	case string:
		detail = x
	}
	dom.Tell("log", "recovered: "+detail)
	s.app.Crashed(detail)
	s.show()
}

// patience is how long an answer of the store may take.
const patience = 20 * time.Second

// Go implements [screen.Env]: work that waits for the store.
func (s *shell) Go(work func(ctx context.Context)) {
	dom.Go(func() {
		ctx, done := context.WithTimeout(context.Background(), patience)
		defer done()
		work(ctx)
		s.show()
	})
}

// The small services of the browser, which implement [screen.Env].

func (s *shell) Now() int64            { return dom.Now() }
func (s *shell) NewID() string         { return dom.Ask("newId") }
func (s *shell) Date(ms int64) string  { return dom.Ask("date", float64(ms)) }
func (s *shell) Day(ms int64) string   { return dom.Ask("day", float64(ms)) }
func (s *shell) Link() string          { return dom.Ask("link") }
func (s *shell) KeepDraft()            { dom.Tell("keepDraft") }
func (s *shell) Visit(place string)    { dom.Tell("visit", place) }
func (s *shell) Speak(text string)     { dom.Tell("speak", text) }
func (s *shell) Lab(kind, text string) { dom.Tell("toLab", kind, text) }
func (s *shell) LabTexts()             { dom.Tell("labTexts") }

// Offer implements [screen.Files].
func (s *shell) Offer(name, kind string, text []byte) {
	dom.Tell("offerFile", name, kind, dom.Bytes(text))
}

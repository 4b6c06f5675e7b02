package screen

import (
	"context"

	"tremblant/internal/phrase"
)

// Opening is what a program says first that begins with this draft, see
// [App.Begin], in the pan. The shell keeps it beside the draft: shown by the page
// of the next visit before that visit's program is there, it has the figures on
// the first frame. It is "" for a draft that brings a panic about: that has been told
// when it was typed, and must not keep the draft from being written.
func (a *App) Opening(draft string) (patch string) {
	defer func() {
		if recover() != nil {
			patch = ""
		}
	}()
	next := New(still{a.env}, a.words)
	next.Begin(draft)
	next.GoTo("")
	return next.Patch()
}

// FirstOpening is the [App.Opening] of a visit that nothing was left for, in these
// words. It is computed when the site is built: a first visit has its figures before
// the program has come. It is "" when the words bring a panic about.
func FirstOpening(words phrase.Book) string {
	return (&App{words: words}).Opening("")
}

// still is an [Env] that does nothing to the page. What it would tell the lab is not
// heard, so that a link, which only the lab is told, need not be known.
type still struct{ Env }

func (still) Link() string { return "" }

func (still) Go(func(context.Context)) {}
func (still) KeepDraft()               {}
func (still) AskToKeep()               {}
func (still) Visit(string)             {}
func (still) Speak(string)             {}
func (still) Lab(string, string)       {}

package screen

import "context"

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

// still is an [Env] that does nothing to the page.
type still struct{ Env }

func (still) Go(func(context.Context)) {}
func (still) KeepDraft()               {}
func (still) AskToKeep()               {}
func (still) Visit(string)             {}
func (still) Speak(string)             {}
func (still) Lab(string, string)       {}

//go:build js && wasm

// Command lab is the second program behind the page. It runs in a worker and
// carries events to the lab and patches back.
package main

import (
	"strconv"

	"tremblant/internal/dom"
	"tremblant/internal/lab"
	"tremblant/internal/phrase"
)

func main() {
	dom.OnPanic = failed
	shell := &shell{lab.New(phrase.BookOf(dom.Text()))}
	dom.Events(shell.event)
	select {}
}

type shell struct{ lab *lab.Lab }

// event takes one event; "show" follows when all that is known has been told.
func (s *shell) event(kind string, args []string) {
	switch {
	case kind == "show":
		s.show()
	case len(args) == 1 && kind == "working":
		if err := s.lab.Working(args[0]); err != nil {
			failed(err)
		}
	case len(args) == 1 && kind == "evening":
		if err := s.lab.Evening(args[0]); err != nil {
			failed(err)
		}
	case len(args) == 2 && kind == "input":
		s.lab.Input(args[0], args[1])
	case len(args) == 2 && kind == "do":
		row, _ := strconv.Atoi(args[1])
		s.lab.Do(args[0], row)
	case len(args) == 1 && kind == "open":
		s.lab.Open(args[0], true)
	case len(args) == 1 && kind == "closed":
		s.lab.Open(args[0], false)
	}
}

func (s *shell) show() {
	dom.Apply(s.lab.Patch())
	if change := s.lab.Change(); change != "" {
		dom.Tell("change", change)
	}
}

func failed(what any) {
	why := "panic"
	switch x := what.(type) {
	case error:
		why = x.Error()
	case string:
		why = x
	}
	dom.Tell("failed", why)
}

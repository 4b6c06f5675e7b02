package lab

import (
	"tremblant/internal/formula"
)

// swap says what a formula will be and what could stand in for its agents.
type swap struct{}

func newSwap() *swap { return &swap{} }

func (w *swap) part() string { return "swap" }

func (w *swap) inputs() []string { return nil }

func (w *swap) show(s *state) {
	s.page.Text("lab-swap-now", "")
}

func (w *swap) do(what string, row int, s *state) *formula.Change { return nil }

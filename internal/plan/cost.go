package plan

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Cost is what a batch costs in ingredients, in the kitchen's own currency.
type Cost struct {
	Currency string
	Lines    []CostLine
	Batch    float64  // sum of the priced lines
	Portion  float64  // of the batch; 0 when not portioned
	Missing  []string // ids of items without a price: the sum leaves them out
}

// CostLine is one item's cost: mass in the batch times price per kilogram.
type CostLine struct {
	ID     string
	Mass   unit.Mass
	Price  float64 // per kg
	Amount float64
}

// costs adds up the priced items. Work, energy and what is left of a premix
// are not in it.
func (s *Sheet) costs(in Input) error {
	s.Cost.Currency = in.Currency
	for _, item := range in.Items {
		if !item.Priced {
			if item.Mass > 0 {
				s.Cost.Missing = append(s.Cost.Missing, item.ID)
			}
			continue
		}
		if !unit.Finite(item.Price) || item.Price < 0 || item.Price > unit.MaxFigure {
			return note.Refuse(item.ID, CodeBadPrice, item.Name("item"))
		}
		line := CostLine{item.ID, item.Mass, item.Price, float64(item.Mass) / 1000 * item.Price}
		s.Cost.Lines = append(s.Cost.Lines, line)
		s.Cost.Batch += line.Amount
	}
	if in.Portions > 0 {
		s.Cost.Portion = s.Cost.Batch / in.Portions
	}
	return nil
}

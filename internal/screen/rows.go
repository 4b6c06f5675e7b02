package screen

import (
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/view"
)

// rowList is one of the pan's lists of inputs: the liquid's parts, or the doses.
type rowList struct {
	list       string // "part" or "dose"
	limit      int
	properties []string
	usual      map[string]string // what a new row holds
	n          int               // rows on the page
}

func partRows() *rowList {
	return &rowList{"part", formula.MaxParts, []string{"name", "amount", "unit"}, map[string]string{"unit": "g"}, 0}
}

func doseRows() *rowList {
	return &rowList{"dose", formula.MaxDoses, []string{"name", "amount", "unit", "grade"}, map[string]string{"unit": "g"}, 0}
}

func (l *rowList) field(i int, property string) string { return view.Row(l.list, i, property) }

// used is how many rows the fields need; at least one.
func (l *rowList) used(f formula.Fields) int {
	n := 1
	for i := range l.limit {
		if !l.empty(f, i) {
			n = i + 1
		}
	}
	return n
}

func (l *rowList) empty(f formula.Fields, i int) bool {
	return strings.TrimSpace(f[l.field(i, "name")]+f[l.field(i, "amount")]) == ""
}

// show makes the rows and puts the fields in.
func (l *rowList) show(p *view.Page, f formula.Fields, n int) {
	l.n = n
	p.Rows(l.list, n)
	for i := range n {
		for _, property := range l.properties {
			field := l.field(i, property)
			if usual := l.usual[property]; f[field] == "" && usual != "" {
				f[field] = usual
			}
			p.Value(field, f[field])
		}
	}
}

// drop takes row i out of the fields; the rows below move up.
func (l *rowList) drop(f formula.Fields, i int) {
	l.follow(f, i+1, -1)
	for ; i < l.limit; i++ {
		for _, property := range l.properties {
			next, ok := f[l.field(i+1, property)]
			if ok && i+1 < l.limit {
				f[l.field(i, property)] = next
			} else {
				delete(f, l.field(i, property))
			}
		}
	}
}

// insert puts row i of the fields from, which drop took out, into f again; the rows
// below move down. It reports whether there was room.
func (l *rowList) insert(f, from formula.Fields, i int) bool {
	if !l.empty(f, l.limit-1) {
		return false
	}
	l.follow(f, i, 1)
	for k := l.limit - 1; k >= i; k-- {
		for _, property := range l.properties {
			above, at := f, k-1
			if k == i {
				above, at = from, i
			}
			if text := above[l.field(at, property)]; text != "" {
				f[l.field(k, property)] = text
			} else {
				delete(f, l.field(k, property))
			}
		}
	}
	return true
}

// value names row i as a choice of what is left.
func (l *rowList) value(i int) string { return strings.TrimSuffix(l.field(i, ""), "-") }

// follow keeps what is left on its ingredient while the rows from first on move by so
// many rows.
func (l *rowList) follow(f formula.Fields, first, by int) {
	for i := first; i < l.limit; i++ {
		if f["left-of"] == l.value(i) {
			f["left-of"] = l.value(i + by)
			return
		}
	}
}

// clear takes all rows out of the fields.
func (l *rowList) clear(f formula.Fields) {
	for i := range l.limit {
		for _, property := range l.properties {
			delete(f, l.field(i, property))
		}
	}
}

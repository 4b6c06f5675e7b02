package screen

import (
	"maps"
	"strconv"

	"tremblant/internal/formula"
)

// The day of service is chosen as so many days from today, for a formula and for an
// evening. With the day that was meant beside it, "tomorrow" is today when tomorrow has
// come.
const (
	lastDay = 3 // that can be chosen, from today
	dayMs   = 24 * 60 * 60 * 1000

	methodDay = formula.LabPrefix + "method-day"
	methodOn  = formula.LabPrefix + "method-day-is" // as [Env] writes a day
)

// dayMeant is the day so many days from today; "" for today, which is meant anew each day.
func (a *App) dayMeant(days string) string {
	n, err := strconv.Atoi(days)
	if err != nil || n < 1 || n > lastDay {
		return ""
	}
	return a.env.Day(a.env.Now() + int64(n)*dayMs)
}

// daysTo is how many days off a day is, as it would be chosen; "" when it has come or gone.
func (a *App) daysTo(meant string) string {
	for n := 1; n <= lastDay; n++ {
		if text := strconv.Itoa(n); a.dayMeant(text) == meant {
			return text
		}
	}
	return ""
}

// onDay are the fields of a formula with its day of service counted from today.
func (a *App) onDay(f formula.Fields) formula.Fields {
	meant := f[methodOn]
	if meant == "" || a.daysTo(meant) == f[methodDay] {
		return f
	}
	f = maps.Clone(f)
	f[methodDay] = a.daysTo(meant)
	return f
}

// passDays counts the formula's day of service from today, in a page that stayed open.
func (p *pan) passDays() {
	if p.app.onDay(p.fields)[methodDay] != p.fields[methodDay] {
		p.app.tellLab()
		p.touched()
	}
}

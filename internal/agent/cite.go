package agent

import "tremblant/internal/source"

// Cite is the number of a source in this package's table; zero is none.
type Cite uint8

// Ref is the source itself; the zero Ref for an unknown number.
func (c Cite) Ref() source.Ref {
	if int(c) >= len(sources) {
		return source.Ref{}
	}
	return sources[c]
}

// CiteCount is how many sources the table has; valid numbers are 1 to CiteCount.
func CiteCount() int { return len(sources) - 1 }

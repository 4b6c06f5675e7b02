// Package source says where a figure comes from and how far it can be trusted.
//
// Every constant, dose window and rule of the catalogues carries a [Ref]. The
// page shows the tag beside the figure; a test refuses a catalogue row without one.
package source

// Tag tells how far a figure can be trusted, strongest first.
type Tag string

// The tags, strongest first. Only Published may be shown as a published fact.
const (
	Published Tag = "published" // read in the named publication, standard or official page
	Open      Tag = "open"      // read in an openly licensed collection or open public data
	Derived   Tag = "derived"   // computed here from stated inputs
	Tertiary  Tag = "tertiary"  // read on a secondary page, weaker than Published
	Memory    Tag = "memory"    // from memory; the named work is where it is believed to stand
	Practice  Tag = "practice"  // common practice, no source: shown as a rule of thumb
)

// Known reports whether t is one of the tags above.
func (t Tag) Known() bool {
	switch t {
	case Published, Open, Derived, Tertiary, Memory, Practice:
		return true
	}
	return false
}

// RuleOfThumb reports whether a figure with this tag must be shown as a rule
// of thumb rather than as a fact.
func (t Tag) RuleOfThumb() bool { return t == Memory || t == Practice || t == Derived }

// Ref is one source: its tag and, unless it is common practice, the work:
// author, title, year, place.
type Ref struct {
	Tag  Tag
	Text string
}

// Valid reports whether r has a known tag, and a text where the tag promises one.
func (r Ref) Valid() bool { return r.Tag.Known() && (r.Tag == Practice || r.Text != "") }

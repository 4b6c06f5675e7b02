package book

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// CheckName gives a name without outer white space, or a refusal at field
// "name": it must have 1 to [MaxName] bytes and no control characters. Markup
// is as good as any text; the page shows names as text only.
func CheckName(name string) (string, error) {
	name = strings.TrimSpace(name)
	switch {
	case name == "":
		return "", note.Refuse("name", CodeNoName)
	case len(name) > MaxName:
		return "", tooLong("name", CodeLongName, MaxName)
	case !printable(name):
		return "", note.Refuse("name", CodeBadName)
	}
	return name, nil
}

// CheckTags gives tags without outer white space, empty ones and repetitions
// (compared by [Fold]), or a refusal at field "tags".
func CheckTags(tags []string) ([]string, error) {
	var out, folded []string
	for _, t := range tags {
		t = strings.TrimSpace(t)
		f := cmp.Or(Fold(t), t) // a sign alone has no folded form
		if t == "" || slices.Contains(folded, f) {
			continue
		}
		if len(t) > MaxTag {
			return nil, tooLong("tags", CodeLongTag, MaxTag)
		}
		if !printable(t) {
			return nil, note.Refuse("tags", CodeBadName)
		}
		out, folded = append(out, t), append(folded, f)
	}
	if len(out) > MaxTags {
		return nil, tooLong("tags", CodeManyTags, MaxTags)
	}
	return out, nil
}

func tooLong(field string, code note.Code, limit int) error {
	return note.Refuse(field, code, note.Num("limit", float64(limit), unit.One))
}

// printable reports whether s is UTF-8 without control characters.
func printable(s string) bool {
	if !utf8.ValidString(s) {
		return false
	}
	for _, r := range s {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return false
		}
	}
	return true
}

// validID reports whether id can be an id or a setting's key: 1 to limit ASCII
// letters, digits, dots, hyphens and underscores. Random UUIDs are.
func validID(id string, limit int) bool {
	for _, c := range []byte(id) {
		letter := c|0x20 >= 'a' && c|0x20 <= 'z'
		if !letter && (c < '0' || c > '9') && c != '-' && c != '_' && c != '.' {
			return false
		}
	}
	return id != "" && len(id) <= limit
}

func checkID(id string) error {
	if !validID(id, MaxID) {
		return note.Refuse("id", CodeBadID, note.Typed("id", wire.Cut(id, MaxID)))
	}
	return nil
}

func checkTime(ms int64) error {
	if ms < 0 || ms > MaxUnixMs {
		return note.Refuse("saved", CodeBadTime)
	}
	return nil
}

var bodyLimits = wire.Limits{Bytes: MaxBody, Depth: bodyDepth, Members: bodyValues, Values: bodyValues}

// canonical reads a body from outside and gives its value and its one canonical
// text. The error names the place in the body.
func canonical(body []byte) (wire.Value, []byte, error) {
	v, err := wire.Read(body, bodyLimits)
	if err != nil {
		return v, nil, refusedBody(err)
	}
	text, err := wire.Compact(v)
	if err != nil {
		return v, nil, refusedBody(err)
	}
	return v, text, nil
}

// bodyError is a refusal that keeps its cause for errors.As and the log.
type bodyError struct {
	*note.Refusal
	cause error
}

func refusedBody(cause error) error {
	return &bodyError{note.Refuse("", CodeBody), cause}
}

func (e *bodyError) Error() string { return e.Refusal.Error() + ": " + e.cause.Error() }

func (e *bodyError) Unwrap() []error { return []error{e.Refusal, e.cause} }

// readBody asks the caller's check what it reads in a formula, within bounds.
func (c Checks) readBody(v wire.Value) (Reading, error) {
	if c.Body == nil {
		return Reading{}, nil
	}
	r, err := c.Body(v)
	if err != nil {
		return Reading{}, err
	}
	return r.bounded(), nil
}

// bounded drops what would make the head unreadable or big. Search and filters
// then know a little less; nothing of the formula is lost.
func (r Reading) bounded() Reading {
	var facets []string
	for _, f := range r.Facets {
		if f != "" && len(f) <= MaxTag && printable(f) && len(facets) < MaxFacets {
			facets = append(facets, f)
		}
	}
	return Reading{Words: wire.Cut(Fold(r.Words), MaxWords), Facets: facets}
}

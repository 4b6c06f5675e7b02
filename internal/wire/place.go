package wire

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// frame is one open array or object on the way to a place.
type frame struct {
	array bool
	index int
	name  string // raw, between the quotes
	named bool   // the colon after the name was passed
}

// locate works out line, column and pointer of a byte offset by walking the
// text once more. Everything before the offset has been read and found sound,
// so the walk need not check anything.
func locate(text string, offset int) Place {
	offset = min(offset, len(text))
	var open []frame
	for i := 0; i < offset; {
		switch c := text[i]; c {
		case '{', '[':
			open = append(open, frame{array: c == '['})
		case '}', ']':
			open = open[:max(0, len(open)-1)]
		case ',', ':':
			if n := len(open); n > 0 {
				open[n-1].step(c)
			}
		case '"':
			end := skipString(text, i)
			if n := len(open); n > 0 && end <= offset && end-1 > i && !open[n-1].named {
				open[n-1].name = text[i+1 : end-1]
			}
			i = end
			continue
		}
		i++
	}
	before := text[:offset]
	return Place{
		Offset: offset,
		Line:   1 + strings.Count(before, "\n"),
		Column: 1 + utf8.RuneCountInString(before[1+strings.LastIndexByte(before, '\n'):]),
		Path:   pointer(open),
	}
}

// step takes note of a comma or colon directly inside the frame.
func (f *frame) step(c byte) {
	switch {
	case c == ':':
		f.named = true
	case f.array:
		f.index++
	default:
		f.named = false
	}
}

// skipString gives the offset behind the string that begins at i, or the end
// of the text if the string has no end.
func skipString(text string, i int) int {
	for i++; i < len(text); i++ {
		switch text[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return len(text)
}

func pointer(open []frame) string {
	var b strings.Builder
	for _, f := range open {
		switch {
		case f.array:
			b.WriteByte('/')
			b.WriteString(strconv.Itoa(f.index))
		case f.named:
			name, err := unescape(f.name)
			if err != nil {
				name = f.name
			}
			b.WriteString(step(name))
		}
	}
	return b.String()
}

// step is one step of a JSON Pointer, escaped as RFC 6901 section 3 says.
func step(name string) string {
	name = strings.ReplaceAll(name, "~", "~0")
	return "/" + strings.ReplaceAll(name, "/", "~1")
}

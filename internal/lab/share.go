package lab

import (
	"strconv"
	"strings"

	go_qr "github.com/piglig/go-qr"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// maxCode is the most bytes of a link that are drawn as a code: what a QR code
// of version 25, 117 modules wide, holds at the lowest level of correction in
// byte mode (ISO/IEC 18004:2015, table 7; figure from memory, and held by a
// test against the encoder). On a phone's screen a module is then still two and
// a half pixels wide; finer ones are hard for another phone to read.
const (
	maxCode    = 1273
	maxVersion = 25
)

// quietZone is the empty border that a reader needs, in modules (ISO/IEC
// 18004:2015, 5.3.8; from memory).
const quietZone = 4

// share draws the link of the working formula as a code for another phone, and gives
// it to a button that copies it.
type share struct{}

func newShare() *share { return &share{} }

func (*share) part() string { return "share" }

func (*share) inputs() []string { return nil }

func (*share) do(string, int, *state) *formula.Change { return nil }

func (*share) show(s *state) {
	behind := s.fields.Link()
	link := s.link + "#" + behind
	s.page.Show("lab-share-link", len(behind) <= formula.MaxLink) // a longer one opens nothing
	s.page.Set("lab-share-copy", "data-link", link)
	path, size, fine := codePath(link)
	s.page.Show("lab-share-code", fine)
	s.page.Show("lab-share-hint", fine)
	s.page.Show("lab-share-big", !fine)
	s.page.Figure("lab-share-bytes", float64(len(link)), s.say("lab-share.bytes", note.Num("bytes", float64(len(link)), unit.One), note.Num("limit", maxCode, unit.One)))
	if !fine {
		return
	}
	s.page.Set("lab-share-svg", "viewBox", "0 0 "+strconv.Itoa(size)+" "+strconv.Itoa(size))
	s.page.Set("lab-share-path", "d", path)
}

// codePath is a QR code as the path of an SVG drawing, one unit a module, and
// the width of the drawing with its border. False: the text is too long.
func codePath(text string) (path string, size int, fine bool) {
	if len(text) > maxCode {
		return "", 0, false
	}
	segments, err := go_qr.MakeSegments(text)
	if err != nil {
		return "", 0, false
	}
	const anyMask = -1
	code, err := go_qr.EncodeSegments(segments, go_qr.Low, go_qr.MinVersion, maxVersion, anyMask, true)
	if err != nil {
		return "", 0, false
	}
	var b strings.Builder
	n := code.Size()
	for y := range n {
		for x := 0; x < n; {
			run := 0
			for x+run < n && code.Module(x+run, y) {
				run++
			}
			if run > 0 {
				w := strconv.Itoa(run)
				b.WriteString("M" + strconv.Itoa(x+quietZone) + " " + strconv.Itoa(y+quietZone) + "h" + w + "v1h-" + w + "z")
			}
			x += max(run, 1)
		}
	}
	return b.String(), n + 2*quietZone, true
}

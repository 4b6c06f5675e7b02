package lab

import (
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
)

// The codes are read back with gozxing, a decoder that shares no code with the
// encoder (github.com/makiuchi-d/gozxing v0.1.1, a port of ZXing).

var runForm = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`)

// drawnCode paints a path as a screen would, a module so many pixels wide.
func drawnCode(t *testing.T, path string, size, scale int) image.Image {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, size*scale, size*scale))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	left := runForm.ReplaceAllStringFunc(path, func(run string) string {
		m := runForm.FindStringSubmatch(run)
		require.Equal(t, m[3], m[4])
		n := make([]int, 3)
		for i := range n {
			n[i], _ = strconv.Atoi(m[i+1])
		}
		for y := n[1] * scale; y < (n[1]+1)*scale; y++ {
			for x := n[0] * scale; x < (n[0]+n[2])*scale; x++ {
				img.SetGray(x, y, color.Gray{})
			}
		}
		return ""
	})
	require.Empty(t, left, "the path holds something else than runs of modules")
	return img
}

func decoded(t *testing.T, img image.Image) string {
	t.Helper()
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	require.NoError(t, err)
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	require.NoError(t, err)
	return result.GetText()
}

const address = "https://kitchen.test/some/where/"

func quinceFields(notes string) formula.Fields {
	f := formula.Fields{
		"name": "Quitte & Söhne, 100 %", "tags": "cold", "notes": notes, "part-1-name": "quince juice", "part-1-amount": "200", "part-1-unit": "g",
		"dose-1-name": "agar", "dose-1-amount": "1,5", "dose-1-unit": "%", "make": "liquid", "batch-liquid": "350", "batch-liquid-unit": "ml",
	}
	if notes == "" {
		delete(f, "notes")
	}
	return f
}

func TestCodeIsReadByAnotherDecoder(t *testing.T) {
	for name, notes := range map[string]string{
		"short": "", "with notes": strings.Repeat("Stir well. ", 20), "all scripts": "寒天 1 g · желе · “quoted” <b>&amp;",
	} {
		t.Run(name, func(t *testing.T) {
			fields := quinceFields(notes)
			link := address + "#" + fields.Link()
			path, size, fine := codePath(link)
			require.True(t, fine)
			for _, scale := range []int{3, 8} {
				got := decoded(t, drawnCode(t, path, size, scale))
				assert.Equal(t, link, got)
				_, hash, _ := strings.Cut(got, "#")
				back, ok, err := formula.ParseLink("#" + hash)
				require.NoError(t, err)
				require.True(t, ok)
				assert.Equal(t, fields, back, "link and code give the formula back")
			}
		})
	}
}

// The bound is the most that fits: one byte more does not.
func TestCodeBound(t *testing.T) {
	text := strings.Repeat("a", maxCode)
	path, size, fine := codePath(text)
	require.True(t, fine, "the bound itself fits into version %d", maxVersion)
	assert.Equal(t, 4*maxVersion+17+2*quietZone, size)
	assert.Equal(t, text, decoded(t, drawnCode(t, path, size, 4)))
	_, _, fine = codePath(text + "a")
	assert.False(t, fine)
}

func shareLab(t *testing.T, fields formula.Fields) string {
	t.Helper()
	l := New(phrase.Book{Find: func(string) (string, bool) { return "", false }})
	body, err := formula.Working{Fields: fields, Shelf: formula.UsualShelf(), Link: address}.Encode()
	require.NoError(t, err)
	require.NoError(t, l.Working(string(body)))
	l.Open("share", true)
	return l.Patch()
}

func TestShareShowsACodeOrSaysThatItIsTooLong(t *testing.T) {
	patch := shareLab(t, quinceFields(""))
	assert.Contains(t, patch, `["set","lab-share-path","d","M4 4h7v1h-7z`)
	assert.Contains(t, patch, `["show","lab-share-big",""]`)
	patch = shareLab(t, quinceFields(strings.Repeat("Stir. ", 400)))
	assert.NotContains(t, patch, "lab-share-path")
	assert.Contains(t, patch, `["show","lab-share-big","1"]`)
	assert.Contains(t, patch, `["show","lab-share-code",""]`)
}

// A link too long to be opened is not offered to be copied.
func TestShareOffersALinkThatOpens(t *testing.T) {
	patch := shareLab(t, quinceFields(strings.Repeat("Stir. ", 400)))
	assert.Contains(t, patch, `["show","lab-share-link","1"]`)
	assert.Contains(t, patch, `["set","lab-share-copy","data-link","`+address+`#formula?`)
	patch = shareLab(t, quinceFields(strings.Repeat("Stir. ", 1400)))
	assert.Contains(t, patch, `["show","lab-share-link",""]`)
}

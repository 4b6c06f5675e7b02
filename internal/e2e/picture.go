//go:build e2e

package e2e

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"slices"
)

// lean makes a picture of the page small enough to be kept with the sources: with
// the 16 colours that stand for most of it. A page has few, and the edges of its
// letters are the rest.
func lean(picture []byte) ([]byte, error) {
	full, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		return nil, err
	}
	colours := palette(full)
	bounds := full.Bounds()
	out := image.NewPaletted(bounds, colours)
	nearest := map[color.RGBA]uint8{}
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			c := rgba(full, x, y)
			index, known := nearest[c]
			if !known {
				index = uint8(colours.Index(c))
				nearest[c] = index
			}
			out.SetColorIndex(x, y, index)
		}
	}
	var b bytes.Buffer
	err = (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, out)
	return b.Bytes(), err
}

// palette takes the commonest colour of each of the commonest groups of like ones.
func palette(picture image.Image) color.Palette {
	const group = 0xF8 // five bits of each of red, green and blue
	type tally struct {
		all   int
		first uint32 // number of its darkest colour: an order among equals
		each  map[color.RGBA]int
	}
	groups := map[color.RGBA]*tally{}
	bounds := picture.Bounds()
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			c := rgba(picture, x, y)
			key := color.RGBA{c.R & group, c.G & group, c.B & group, 255}
			if groups[key] == nil {
				groups[key] = &tally{first: number(key), each: map[color.RGBA]int{}}
			}
			groups[key].all++
			groups[key].each[c]++
		}
	}
	common := make([]*tally, 0, len(groups))
	for _, g := range groups {
		common = append(common, g)
	}
	slices.SortFunc(common, func(a, b *tally) int {
		if a.all != b.all {
			return b.all - a.all
		}
		return int(a.first) - int(b.first)
	})
	var colours color.Palette
	for _, g := range common[:min(len(common), 16)] {
		var most color.RGBA
		for c, n := range g.each {
			if n > g.each[most] || n == g.each[most] && number(c) < number(most) {
				most = c
			}
		}
		colours = append(colours, most)
	}
	return colours
}

func rgba(picture image.Image, x, y int) color.RGBA {
	return color.RGBAModel.Convert(picture.At(x, y)).(color.RGBA)
}

// number puts colours in an order, so that the same picture gives the same file.
func number(c color.RGBA) uint32 { return uint32(c.R)<<16 | uint32(c.G)<<8 | uint32(c.B) }

// Command icons draws the page's PNG icons from web/icons/dome.svg with an
// installed Chromium:
//
//	go run ./internal/site/cmd/icons [-dir web/icons]
//
// The drawing is flat, so a small palette keeps the files at a few kilobytes.
package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// icon is one file to draw. A filled one has the ground up to its corners,
// because the system cuts its own shape out of it.
type icon struct {
	name   string
	pixels int64
	scale  float64 // of the drawing within the icon
	filled bool
}

// A maskable icon must keep what matters within a circle of 80 % of its width
// (W3C, Web Application Manifest, "Icon masks and safe zone").
var icons = []icon{
	{"dome-180.png", 180, 1, true},
	{"dome-192.png", 192, 1, false},
	{"dome-512.png", 512, 1, false},
	{"dome-maskable-512.png", 512, 0.8, true},
}

const (
	colours = 16 // of the palette: four flat ones and the blends at their edges
	timeout = time.Minute
)

func main() {
	dir := flag.String("dir", "web/icons", "folder of dome.svg, and of the icons")
	flag.Parse()
	if err := run(*dir); err != nil {
		fmt.Fprintln(os.Stderr, "icons:", err)
		os.Exit(1)
	}
}

func run(dir string) error {
	svg, err := os.ReadFile(filepath.Join(dir, "dome.svg"))
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(context.Background(), timeout)
	defer cancel()
	ctx, cancel = chromedp.NewContext(ctx)
	defer cancel()
	for _, i := range icons {
		small, err := draw(ctx, i, string(svg))
		if err != nil {
			return fmt.Errorf("%s: %w", i.name, err)
		}
		if err := os.WriteFile(filepath.Join(dir, i.name), small, 0o644); err != nil {
			return err
		}
		fmt.Printf("%s: %d bytes\n", i.name, len(small))
	}
	return nil
}

// draw shows the drawing in a page of the icon's size and takes its picture.
func draw(ctx context.Context, i icon, svg string) ([]byte, error) {
	quoted, err := json.Marshal(svg)
	if err != nil {
		return nil, err
	}
	script := fmt.Sprintf(`
		document.documentElement.innerHTML = '<body style="margin:0;overflow:hidden">' + %s;
		const drawing = document.querySelector("svg");
		drawing.style.cssText = "display:block;width:100vw;height:100vh;transform:scale(%g)";
		if (%t) document.body.style.background = drawing.querySelector("#ground").getAttribute("fill");`, quoted, i.scale, i.filled)
	err = chromedp.Do(ctx,
		chromedp.EmulateViewport(i.pixels, i.pixels),
		chromedp.Navigate("about:blank"),
		chromedp.Evaluate[chromedp.Void]("(() => {"+script+"})()"),
	)
	if err != nil {
		return nil, err
	}
	// The alpha of zero is left out of the message and would count as opaque.
	clear := emulation.SetDefaultBackgroundColorOverrideParams{Color: &cdp.RGBA{A: 1e-6}}
	if _, err := chromedp.Call(ctx, emulation.SetDefaultBackgroundColorOverride, clear); err != nil {
		return nil, err
	}
	shot, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		return nil, err
	}
	return shrink(shot)
}

// shrink re-encodes a picture with a palette of its most frequent colours.
func shrink(shot []byte) ([]byte, error) {
	full, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		return nil, err
	}
	small := image.NewPaletted(full.Bounds(), palette(full))
	for y := full.Bounds().Min.Y; y < full.Bounds().Max.Y; y++ {
		for x := full.Bounds().Min.X; x < full.Bounds().Max.X; x++ {
			small.Set(x, y, full.At(x, y))
		}
	}
	var buf bytes.Buffer
	err = (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&buf, small)
	return buf.Bytes(), err
}

func palette(p image.Image) color.Palette {
	counts := map[color.NRGBA]int{}
	for y := p.Bounds().Min.Y; y < p.Bounds().Max.Y; y++ {
		for x := p.Bounds().Min.X; x < p.Bounds().Max.X; x++ {
			counts[color.NRGBAModel.Convert(p.At(x, y)).(color.NRGBA)]++
		}
	}
	found := make([]color.NRGBA, 0, len(counts))
	for c := range counts {
		found = append(found, c)
	}
	slices.SortFunc(found, func(a, b color.NRGBA) int {
		return cmp.Or(counts[b]-counts[a], cmp.Compare(key(a), key(b)))
	})
	var out color.Palette
	for _, c := range found[:min(colours, len(found))] {
		out = append(out, c)
	}
	return out
}

func key(c color.NRGBA) uint32 {
	return uint32(c.R)<<24 | uint32(c.G)<<16 | uint32(c.B)<<8 | uint32(c.A)
}

//go:build e2e

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// pickPhoto lets the page's file input have a picture of 3000 × 2000 pixels of
// noise, which no compression makes small, or a file that is none.
const pickPhoto = `(async noise => {
	let file = new File(["no picture"], "a.jpg", { type: "image/jpeg" });
	if (noise) {
		const canvas = new OffscreenCanvas(3000, 2000), pen = canvas.getContext("2d");
		const data = pen.createImageData(3000, 2000);
		let x = 1;
		for (let i = 0; i < data.data.length; i++) data.data[i] = i % 4 === 3 ? 255 : (x = x * 16807 % 2147483647) & 255;
		pen.putImageData(data, 0, 0);
		file = new File([await canvas.convertToBlob({ type: "image/png" })], "a.png", { type: "image/png" });
	}
	const carrier = new DataTransfer();
	carrier.items.add(file);
	const input = document.querySelector("[name=photo-file]");
	input.files = carrier.files;
	input.dispatchEvent(new Event("change", { bubbles: true }));
})`

func TestPhotoOnAPhone(t *testing.T) {
	t.Parallel()
	server, _, page := visit(t)
	asked := func() bool {
		return Eval[bool](page, `performance.getEntriesByType("resource").some(e => e.name.includes("/photo."))`)
	}
	recipe(page, server)
	page.Press(`[data-do="kept-pan"]`)
	page.WaitShown("#kept")
	assert.False(t, page.Visible("#photo"))
	page.Run(pickPhoto + `(true)`)
	page.Wait(`document.getElementById("photo-picture").naturalWidth > 0`)
	src := Eval[string](page, `document.getElementById("photo-picture").src`)
	assert.LessOrEqual(t, len(src), 400_000)
	assert.Greater(t, len(src), 50_000, "as good as fits")
	assert.InDelta(t, 1.5, Eval[float64](page, `(p => p.naturalWidth / p.naturalHeight)(document.getElementById("photo-picture"))`), 0.02)
	assert.True(t, asked())
	page.NoHScroll(360)
	page.Fingers("#kept")
	page.Shot("book-photo")
	page.View(Narrow)
	page.NoHScroll(320)
	page.View(Phone)

	page.Allow("decode|source image|InvalidStateError|EncodingError")
	page.Run(pickPhoto + `(false)`)
	page.WaitText(`[data-for="photo-file"]`, "cannot be kept")
	assert.Equal(t, src, Eval[string](page, `document.getElementById("photo-picture").src`))

	page.Reload()
	usable(page)
	goTo(page, "pan")
	page.Press(`[data-do="kept-pan"]`)
	page.Wait(`document.getElementById("photo-picture").naturalWidth > 0`)
	assert.Equal(t, src, Eval[string](page, `document.getElementById("photo-picture").src`), "it is kept")
	assert.False(t, asked(), "what makes pictures small is loaded when one is chosen")
	page.PressIn("#photo-drop")
	page.Wait(`document.getElementById("photo").hidden`)
	do(page, "undo")
	page.Wait(`!document.getElementById("photo").hidden`)
}

//go:build e2e

package e2e

import "testing"

func TestLabOpens(t *testing.T) {
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Press("#lab-swap > summary")
	page.Wait(`document.documentElement.dataset.lab === "1"`)
	page.WaitText("#lab-swap-now-texture", "Sliceable")
	page.NoHScroll(360)
	page.Shot("lab-swap-open")
	page.Press("#lab-swap-offer-2-pick")
	page.WaitText("#lab-swap-chosen", "Put it in the pan")
	page.Shot("lab-swap-picked")
}

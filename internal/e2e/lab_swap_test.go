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
}

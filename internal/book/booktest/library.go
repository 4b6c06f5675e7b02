package booktest

import (
	"fmt"

	"tremblant/internal/book"
)

// Heads are the heads of a kitchen that never throws anything away.
func Heads(n int) []book.Head {
	fruit := []string{"Pear", "Quince", "Crème", "Plum", "Beet", "Smoke", "Celery", "Tea"}
	kind := []string{"jelly", "foam", "sauce", "fluid gel", "cream", "pearls"}
	agent := []string{"agar", "gelatin", "xanthan", "gellan", "pectin", "carrageenan"}
	heads := make([]book.Head, n)
	for i := range heads {
		a := agent[i%len(agent)]
		heads[i] = book.Head{
			ID: fmt.Sprintf("entry-%05d", i), Rev: 1 + i%9, Saved: int64(i*7919%n) * 1000, Made: 1,
			Name: fmt.Sprintf("%s %s no. %d", fruit[i%len(fruit)], kind[i%len(kind)], i),
			Tags: []string{"station " + fruit[(i+3)%len(fruit)], "season"},
			Reading: book.Reading{
				Words:  book.Fold(fmt.Sprintf("%s %s for the plate with the long spoon, rest overnight, batch %d, weeps when cut warm, hold at 7 degrees", a, fruit[i%7], i)),
				Facets: []string{"agent." + a, "texture.soft-set", "diet.vegan"},
			},
		}
	}
	return heads
}

// Library is the book of such a kitchen: n formulas of so many revisions each.
func Library(n, revisions int) book.File {
	var f book.File
	for i, h := range Heads(n) {
		for rev := 1; rev <= revisions; rev++ {
			h.Rev, h.Saved = rev, int64(i*10+rev)
			f.Revisions = append(f.Revisions, book.Entry{Head: h, Body: fmt.Appendf(nil,
				`{"liquid":{"name":"pear juice","mass":%d,"brix":11.5,"ph":3.9},"agents":["agar","gellan"],"doses":[{"agent":"agar","share":0.45},{"agent":"gellan","share":0.%d}],"texture":"soft-set","method":[{"step":"disperse"},{"step":"boil","minutes":2},{"step":"pour"}],"note":"Rest overnight, unmould cold, batch %d."}`,
				300+i%500, 10+rev, i)})
		}
	}
	return f
}

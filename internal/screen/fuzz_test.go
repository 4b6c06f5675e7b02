package screen

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"tremblant/internal/book"
	"tremblant/internal/formula"
)

// tried are texts that people and pages have got wrong.
var tried = []string{
	"", " ", "0", "-1", "1", "2,5", "1.250", "1,2,3", "1e309", "NaN", "Inf", "abc", "½", "1 1/2", "1000000 kg", "100", "99.9", "101 %",
	"350 ml", "5 sheets", "g", "<b>x</b>", "agar", "gelatin", "xanthan", "a\x00b", "\xff\xfe", "{agent}", "١٢٣", "0.0000001", "999999999999",
	strings.Repeat("9", 5000), strings.Repeat("ü", 10_000), "2 g agar\n1 g gellan\n?", "200 g milk; 2 g agar", "dose-1", "part-2", "left", "portions", "liquid",
}

// names are inputs that are there, and some that are not.
var names = append(formula.FieldNames(), "ask-sheet-mass", "sheet-mass", "sheet-grade", "powder-bloom", "find", "link-text", "entry-1-rename",
	"scale-1-step", "scale-2-max", "scale-99-step", "dose-0-amount", "dose--amount", "part-99-name", "", "lab-anything", "nothing")

// FuzzPage lets somebody do anything in any order: the page must not fail, no
// figure may be NaN, and every patch must be one that the page can carry out.
func FuzzPage(f *testing.F) {
	f.Add(uint64(1), "1,5 g agar", true)
	f.Add(uint64(2), "{", false)
	f.Add(uint64(1), "%", true) // leaves a formula in the draft that is called {agent}
	f.Add(uint64(3), `{"form":1,"fields":{"make":"left","left-of":"dose-1","left-amount":"1"}}`, true)
	f.Fuzz(func(t *testing.T, seed uint64, text string, fails bool) {
		if len(text) > 20_000 {
			t.Skip()
		}
		r := rand.New(rand.NewPCG(seed, 0))
		lax := func() *paper { // what is typed may look like a sentence with holes
			p := newPaper(t)
			p.strict = false
			return p
		}
		k := openingOn(t, lax(), book.NewMemory(), text)
		if fails {
			k.store.Fail = func(string) error {
				if r.IntN(4) == 0 {
					return &book.Failure{Op: "fuzz", Kind: book.ErrUncertain}
				}
				return nil
			}
		}
		k.app.Store(t.Context(), book.New(k.store, Checks()), "")
		k.show()
		does := slices.Sorted(maps.Keys(readHTML(t).does)) // in one order, so that a seed repeats itself
		for range 60 {
			k.time += int64(r.IntN(1000))
			word := tried[r.IntN(len(tried))]
			if r.IntN(5) == 0 {
				word = text
			}
			switch r.IntN(10) {
			case 0, 1, 2, 3, 4:
				k.typing(names[r.IntN(len(names))], word)
			case 5, 6, 7:
				k.press(does[r.IntN(len(does))], r.IntN(5)-1)
			case 8:
				k.goTo([]string{"#book", "#formula?" + text, "#formula?lines=" + word, text}[r.IntN(4)])
			default:
				k.enter("entry-1-rename", word)
			}
		}
		again := openingOn(t, lax(), k.store, k.app.Draft())
		for name, figure := range again.paper.figures {
			if strings.Contains(figure.text+figure.value, "NaN") {
				t.Errorf("figure %s is %+v", name, figure)
			}
		}
	})
}

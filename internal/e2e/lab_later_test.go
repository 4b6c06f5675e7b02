//go:build e2e

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// opened are the parts of the lab that write most, and into most folds.
var opened = []string{"liquid", "swap", "foam", "emulsion", "sphere", "dry", "method", "help"}

// labHolds is what stands in the lab, on the sheets and in the cook's list, a line for
// each element that is not hidden: what it is called, its attributes, value and text.
const labHolds = `(() => {
	const lines = [];
	const read = (el) => {
		if (el.hidden) return;
		const attributes = [...el.attributes].filter(a => !["open", "style"].includes(a.name) && !(a.name === "data-state" && !a.value)).map(a => a.name + "=" + a.value).sort();
		const holds = el.matches("[type=checkbox], [type=radio]") ? el.checked : el.matches("input, select, textarea") ? el.value : "";
		const text = "today" in el.dataset ? "" : [...el.childNodes].filter(n => n.nodeType === Node.TEXT_NODE).map(n => n.data.trim()).join(" ");
		lines.push([el.tagName, ...attributes, holds, text].join(" "));
		[...el.children].forEach(read);
	};
	for (const part of document.querySelectorAll("details[data-lab], .sheet, #cook-rows")) read(part);
	return lines;
})()`

// What is said to a fold that is closed stands in it when it is opened, as if it had
// been open all the time: rows, what their fields are called, values, figures.
func TestClosedFoldsMissNothing(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	unfold := func(p *Page) {
		for _, part := range opened {
			p.Unfold("#lab-" + part)
		}
		still(p) // a press would miss what moves
		p.PressIn("#lab-method [data-cook=open]")
		p.Press("#lab-method-cook [data-cook=close]")
		p.Run(`dispatchEvent(new Event("beforeprint"))`)
		p.Run(`dispatchEvent(new Event("afterprint"))`)
	}
	after := func(early bool) []string {
		p := browser.Page(Phone)
		p.Prefer("prefers-reduced-motion", "reduce")
		p.Open(server.URL() + "#formula?name=Quince&lines=200+g+apple+juice;40+g+sugar;2+g+agar;0.4+g+xanthan&batch-liquid=350")
		usable(p)
		for _, part := range opened {
			p.Run(`document.querySelector("#lab-` + part + `").open = true`)
			p.Answered()
		}
		p.Wait(isLabOn)
		// What is typed in the folds comes back with the draft.
		p.Unfold("#lab-method")
		price := Eval[string](p, `document.querySelector(".prep-prices li:nth-child(2) input").name`)
		require.NotEmpty(t, price, "a row's field is called by what it prices")
		typeAll(p, price, "1,20", "lab-method-currency", "€", "lab-method-bowl", "150")
		p.Choose("lab-method-place", "still-fridge")
		p.Answered()
		p.Wait(`(sessionStorage.getItem("tremblant-draft") ?? "").includes("still-fridge")`)
		p.Reload()
		usable(p)
		for _, part := range opened {
			p.Run(`document.querySelector("#lab-` + part + `").open = true`)
			p.Answered()
		}
		p.Wait(isLabOn)
		if early {
			unfold(p)
		} else {
			require.False(t, Eval[bool](p, `Boolean(document.querySelector("[name=lab-method-currency]"))`), "it is not in the page yet")
		}
		for _, amount := range []string{"420", "abc", "500", "1,5", "380"} {
			p.Type("batch-liquid", amount)
			p.Answered()
		}
		p.Type("part-2-name", "honey") // other rows, of other names
		p.Choose("lab-method-target", "fluid")
		p.Type("lab-method-service", "1930")
		p.Choose("lab-method-day", "1") // never too late, whatever the minute
		p.Answered()
		if !early {
			unfold(p)
		}
		still(p)
		require.Equal(t, "€", value(p, "lab-method-currency"))
		return Eval[[]string](p, labHolds)
	}
	want, got := after(true), after(false)
	assert.Greater(t, len(want), 1000, "the folds have been read")
	assert.Equal(t, want, got)
}

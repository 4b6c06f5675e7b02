//go:build e2e && soak

package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/performance"
	"github.com/stretchr/testify/assert"
)

// keepProgram, in the program's worker, holds on to the loader's object, which knows
// the program's memory and the table of values that the program has borrowed, and
// notes every callback that the program makes, without keeping it alive. It tells
// the page when asked.
const keepProgram = `{
	let loader, program;
	Object.defineProperty(globalThis, "Go", {
		get: () => loader,
		set: (Loader) => {
			loader = class extends Loader {
				callbacks = [];
				constructor() { super(); program = this }
				_makeFuncWrapper(id) {
					const callback = super._makeFuncWrapper(id);
					this.callbacks.push(new WeakRef(callback));
					return callback;
				}
			};
		},
	});
	addEventListener("message", async ({ data: [kind] }) => {
		if (kind !== "holds") return;
		for (let i = 0; i < 3; i++) { // a reference that was looked at lives to the end of its task
			gc();
			await new Promise(done => setTimeout(done));
		}
		postMessage([["held", {
			memory: program._inst.exports.mem.buffer.byteLength,
			callbacks: program.callbacks.filter(ref => ref.deref()).length,
			values: program._values.length,
		}]]);
	});
}`

// held is what a page holds after rubbish was collected.
type held struct {
	Heap      float64 `json:"heap"`      // bytes of the page's own heap
	Memory    float64 `json:"memory"`    // bytes of the program, which never shrink
	Callbacks int     `json:"callbacks"` // functions of the program that something still holds
	Values    int     `json:"values"`    // all that is lent to the program, until it next collects rubbish
	Nodes     int     `json:"nodes"`     // elements on the page
	Listeners float64 `json:"-"`         // event listeners on the page
}

// TestSoakEdits makes ten thousand edits. What is held after the first few
// thousand is held for good reason; more after the rest is a leak.
func TestSoakEdits(t *testing.T) {
	server := Serve(t, Dist(t))
	server.BeforeProgram(keepProgram)
	page := Start(t, "enable-precise-memory-info", "js-flags=--expose-gc").Page(Phone)
	page.Open(server.URL())
	page.Ready()
	edit(page, firstEdits)
	before := holds(page)
	edit(page, 10_000)
	after := holds(page)
	t.Logf("after %d edits: %+v", firstEdits, before)
	t.Logf("after 10 000 more: %+v", after)
	const MiB = 1 << 20
	assert.Less(t, after.Memory-before.Memory, 4.0*MiB, "the program's memory grows")
	assert.Less(t, after.Heap-before.Heap, 2.0*MiB, "the page's heap grows")
	assert.Less(t, float64(after.Values-before.Values), 0.1*float64(before.Values), "what the program borrows grows")
	assert.LessOrEqual(t, after.Callbacks, before.Callbacks, "callbacks are made and not released")
	assert.LessOrEqual(t, after.Listeners, before.Listeners, "listeners are added and not removed")
	assert.LessOrEqual(t, after.Nodes, before.Nodes+10, "the page's elements grow")
}

// firstEdits fill the program's heap: it takes sixteen megabytes before it collects
// rubbish for the first time (GOGC in web/program.js), and grows until then.
const firstEdits = 5000

// edit changes the amount so many times, a frame after each twenty.
func edit(page *Page, times int) {
	page.t.Helper()
	const script = `globalThis.edited = 0;
	(async () => {
		const input = document.querySelector("[name=batch-liquid]");
		for (let i = 1; i <= %d; i++) {
			input.value = 100 + i %% 397;
			input.dispatchEvent(new InputEvent("input", { bubbles: true }));
			if (i %% 20 === 0) await new Promise(requestAnimationFrame);
		}
		while (tremblant.page.waits()) await new Promise(requestAnimationFrame);
		globalThis.edited = 1;
	})()`
	page.Run(fmt.Sprintf(script, times))
	for range 10 { // the patience of one wait is for what a person waits for
		if Eval[bool](page, `new Promise(done => setTimeout(() => done(edited === 1), 20000 * (1 - edited)))`) {
			return
		}
	}
	page.t.Fatal("the edits do not end")
}

func holds(page *Page) held {
	page.t.Helper()
	call(page, heapprofiler.CollectGarbage, cdp.Empty{})
	h := Eval[held](page, `new Promise(done => {
		tremblant.program.addEventListener("message", function told({ data: [[kind, held]] }) {
			if (kind !== "held") return;
			tremblant.program.removeEventListener("message", told);
			done({ ...held, heap: performance.memory.usedJSHeapSize, nodes: document.getElementsByTagName("*").length });
		});
		tremblant.program.postMessage(["holds"]);
	})`)
	call(page, performance.Enable, performance.EnableParams{})
	for _, metric := range call(page, performance.GetMetrics, cdp.Empty{}).Metrics {
		if metric.Name == "JSEventListeners" {
			h.Listeners = metric.Value
		}
	}
	return h
}

//go:build e2e && bench

package e2e

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// askedTask is how long, in ms, the page may hold up a finger after the start.
const askedTask = 50.0

// watchTasks leaves every task of the page's own thread that took longer than
// 50 ms, the least that browsers report, in globalThis.tasks.
const watchTasks = `{
	globalThis.tasks = [];
	new PerformanceObserver(list => { for (const { duration } of list.getEntries()) tasks.push(duration) }).observe({ type: "longtask" });
}`

// TestBenchLongTasks looks for tasks that hold up a finger, on a processor four
// times slower, while amounts are typed, the places are changed, and each part of
// the lab and each of its folds is opened. The clock goes on while other programs have the processor: on
// a busy machine this test says more about them.
func TestBenchLongTasks(t *testing.T) {
	_, _, page := visit(t)
	time.Sleep(2 * time.Second) // the start, and what the worker keeps, are over
	page.Run(watchTasks)
	page.Slow(slowdown)
	report := func(what string) {
		t.Helper()
		time.Sleep(500 * time.Millisecond)
		tasks := Eval[[]float64](page, `tasks.splice(0)`)
		t.Logf("%s: tasks over %g ms: %.0f", what, askedTask, tasks)
		assert.Empty(t, tasks, "%s%s", what, busy())
	}
	for i := range 5 {
		page.Type("batch-liquid", fmt.Sprint(300+i*17))
	}
	report("typing")
	goTo(page, "book")
	report("the book")
	goTo(page, "shelf")
	report("the shelf")
	goTo(page, "pan")
	report("the pan")
	for _, part := range Eval[[]string](page, `[...document.querySelectorAll("#pan details[data-lab]")].map(e => e.id)`) {
		page.PressIn("#" + part + " > summary")
		page.Wait(isLabOn)
		report("opening " + part)
	}
	page.Type("batch-liquid", "400")
	report("typing with the lab open")
	page.OnScreen("[data-cook=open]") // what comes into sight is laid out, and moves the rest
	page.PressIn("[data-cook=open]")
	page.WaitShown("#cook-list")
	report("the cook's list")
	page.Press("[data-cook=close]")
	report("closing the list")
	const closed = `[...document.querySelectorAll("#pan details[data-lab] details:not([open])")].filter(e => e.checkVisibility())`
	for n := Eval[int](page, closed+`.length`); n > 0; n-- {
		fold := Eval[string](page, `(() => {
			const fold = `+closed+`[0];
			document.querySelector("#next-fold")?.removeAttribute("id");
			fold.firstElementChild.id = "next-fold";
			return fold.innerText;
		})()`)
		page.OnScreen("#next-fold")
		page.PressIn("#next-fold")
		page.Wait(`document.querySelector("#next-fold").parentElement.open`)
		report("opening " + fold)
	}
	page.Type("batch-liquid", "300")
	report("typing with every fold open")
}

// Package lab is the second program behind the page: everything beyond the pan,
// the book and the shelf. It is loaded when somebody opens one of its parts,
// and runs in a worker, so that its weight delays no first load and its
// computing no keystroke. It is pure: it takes what a person does and what the
// pan tells, and says what the page is to show, as ops of package view.
//
// The page sends every change of the working formula to [Lab.Working], what is
// typed into the lab's own inputs to [Lab.Input], its buttons to [Lab.Do], and
// the opening and closing of its parts to [Lab.Open]. When a burst of these is
// over, [Lab.Patch] computes what is stale and gives the ops.
//
// # How to write a section
//
// A section is one subject: the part of the page that one <details> holds.
//
//   - Its heading stands in the page, in web/parts/lab.html, as
//
//     <details class="fold lab" data-lab="<part>" id="lab-<part>"><summary data-text="lab-<part>.title">...</summary>
//     <!-- include parts/lab/wait.html -->
//     </details>
//
//     and the sentence lab-<part>.title in web/text/en/lab-titles.json.
//
//   - All the rest of its HTML stands in web/parts/lab/<part>.html, is taken in by
//     web/lab.html, which comes with the lab, and is
//
//     <form novalidate data-into="lab-<part>" class="lab-body"> ... </form>
//
//     It comes to the page when somebody opens the part; ops for it wait until then.
//     What stands outside the pan (a dialog, a sheet to print) has no data-into, stands
//     before the parts and goes to the end of the page. Its style is
//     web/style/lab/6x-<part>.css.
//
//   - All names in it begin "lab-<part>-": inputs (name), buttons (data-do),
//     figures (data-figure), lists (data-list, with a template of the id
//     "t-" and the list's name in web/parts/lab/<part>-rows.html), sentences beside
//     inputs (data-for), and ids. A row's names are "lab-<part>-<list>-#-<what>".
//
//   - Its sentences stand in web/text/en/lab/lab-<part>.json.
//
//   - Its code stands in files <part>*.go here: a type that implements section,
//     and one line in sections. A section that knows something about the liquid
//     or the formula that others need implements teller as well, and writes it
//     into the state: tellers are asked in the order of the list, open or not,
//     before anything is shown.
//
// What is typed into an input is kept with the formula by the pan, under the
// input's name, and comes back with the working formula. So a section holds no
// copy of it: it reads the state's fields, best through [typed], which also
// says beside the input what is wrong with it. The lab fills the inputs.
//
// A section holds only what a person does in it that is not worth saving, such
// as which row is open.
//
// To change the formula, a section returns a change from its do: the pan takes
// it as one step that can be taken back.
package lab

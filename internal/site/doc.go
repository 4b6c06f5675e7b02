// Package site builds, serves and weighs the static site. It runs on the
// developer's machine only; nothing of it is shipped.
//
// # What a build does
//
// [Build] compiles the program in ./wasm, takes wasm_exec.js from the very
// toolchain that compiled it (the two must match), and assembles web/ into an
// output folder that any static host serves as it is, from any sub-path:
//
//	web/index.html, sw.js, manifest.webmanifest   keep their names
//	web/**/*.html                                 parts, joined into index.html and lab.<hash>.html
//	web/style/*.css                               joined in lexical order: style.<hash>.css
//	web/style/lab/*.css                           joined in lexical order: lab.<hash>.css
//	web/text/<language>/*.json                    merged: text.<language>.<hash>.json
//	web/text/<language>/lab/*.json                merged: lab.<language>.<hash>.json
//	web/boot.js, web/icons/*, ...                 <name>.<hash>.<extension>
//	the compiled program                          app.<hash>.wasm
//	its loader, unless a script has it within     wasm_exec.<hash>.js
//	the compiled lab, if anything refers to it    lab.<hash>.wasm
//
// The hash is one of the content, so a name never stands for two contents and
// may be cached for ever. Only files that something refers to are shipped. Each
// file that can be compressed has a .br and a .gz beside it. The same input
// gives the same bytes.
//
// Both programs are compiled without inlining, their data segments are joined, and
// what tells lines of source is blanked out, which makes them smaller when they
// arrive. A trace on the console names functions without their lines.
//
// A file whose name begins "lab." is loaded only with the lab, the program
// behind parts of the page that not every visit opens. It is no part of the
// first load, and the service worker keeps it in a second step.
//
// Comments are left out: whole ones in HTML and CSS, in JavaScript those that
// fill their lines.
//
// # Parts
//
// In HTML, a comment takes in another file, named relative to web/:
//
//	<!-- include parts/pan.html -->
//
// Parts may take in parts. A part that nothing takes in is an error.
//
// # Tokens
//
// In HTML, CSS, JavaScript and the manifest, tokens between double braces are
// replaced. An unknown or unfinished token is an error.
//
//	{{asset style.css}}     the hashed name of a file; style.css, lab.css, app.wasm,
//	                        lab.wasm, wasm_exec.js and text.<language>.json are made by the build
//	{{script dates.js}}     what stands in a script, in place
//	{{sheet style.css}}     what stands in a stylesheet, in place
//	{{languages}}           {"en":"text.en.<hash>.json",...}, as JSON
//	{{languages lab}}       the same for the lab's texts
//	{{opening}}             what a first visit opens with in English, as a string of JavaScript;
//	                        every other language's is the key "opening" of its catalogue
//	{{text some.key}}       the English sentence, escaped for HTML
//	{{style --paper}}       the first value that the CSS gives to a custom property
//	{{csp}}                 the content security policy, [CSP] with the hash of style.css
//	{{release}}             the name of the release, for people
//	{{version}}             a short hash over everything that is shipped
//	{{precache}}            what the service worker keeps at install, as JSON
//	{{precache lab}}        what it keeps when that is done, as JSON
//
// The last three stand only in the files that keep their names, since the hashed
// ones are what the version is computed from.
package site

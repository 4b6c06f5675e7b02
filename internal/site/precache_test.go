package site

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLabIsKeptInASecondStep(t *testing.T) {
	files := with(
		"lab.js", `importScripts("{{asset wasm_exec.js}}"); load("{{asset lab.wasm}}")`,
		"boot.js", small["boot.js"]+`new Worker("{{asset lab.js}}")`,
		"sw.js", `const files = {{precache}};`+"\n"+`const lab = {{precache lab}};`,
	)
	out, site, err := builtWith(t, files, Options{Lab: "./internal/site/floor/empty"})
	require.NoError(t, err)
	worker := tree(t, out)["sw.js"]
	first, second, _ := strings.Cut(worker, "\n")
	js, _ := one(t, tree(t, out), `lab\.[0-9a-f]{10}\.js`)
	wasm, program := one(t, tree(t, out), `lab\.[0-9a-f]{10}\.wasm`)
	assert.True(t, strings.HasPrefix(program, "\x00asm"))
	both := []string{js, wasm}
	slices.Sort(both) // by their hashes
	assert.Equal(t, `const lab = ["`+strings.Join(both, `","`)+`"];`, second)
	assert.NotContains(t, first, `"lab.`)
	for _, name := range site.Files {
		assert.True(t, rootedName(name) || strings.Contains(worker, `"`+name+`"`) || languageOf(name) == "fr", name)
	}
}

func rootedName(name string) bool {
	return name == page || name == "sw.js" || name == "manifest.webmanifest"
}

func TestWithoutALabTheSecondStepIsEmpty(t *testing.T) {
	out, _, err := built(t, with("sw.js", "const lab = {{precache lab}};"))
	require.NoError(t, err)
	assert.Equal(t, "const lab = [];", tree(t, out)["sw.js"])
	_, _, err = built(t, with("sw.js", "const lab = {{precache later}};"))
	assert.ErrorContains(t, err, "sw.js: {{precache later}}: precaches in two steps")
}

func TestLabThatDoesNotCompile(t *testing.T) {
	_, _, err := builtWith(t, with("boot.js", `"{{asset lab.wasm}}"`), Options{Lab: "./internal/nowhere"})
	require.ErrorContains(t, err, "nowhere")
}

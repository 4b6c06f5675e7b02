package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small is a page with one of everything that the build does.
var small = map[string]string{
	"index.html": `<link href="{{asset style.css}}"><meta name="version" content="{{version}}">` +
		`<meta http-equiv="Content-Security-Policy" content="{{csp}}"><script src="{{asset boot.js}}"></script>` +
		"\n<!-- include parts/a.html -->\n<i>{{text hello}} {{release}}</i>",
	"parts/a.html":         "<!-- for the reader -->\n<p>A</p>\n<!-- include parts/b.html -->",
	"parts/b.html":         "<p>B</p><img src=\"{{asset icons/i.svg}}\">",
	"part.js":              "// for the reader\npart();\n",
	"boot.js":              "// for the reader\n{{script part.js}}load(\"{{asset app.wasm}}\", \"{{asset wasm_exec.js}}\", {{languages}}); // kept\n",
	"sw.js":                "const v = \"{{version}}\", files = {{precache}};",
	"manifest.webmanifest": `{"theme_color":"{{style --paper}}"}`,
	"style/20-b.css":       "b{color:var(--paper)}",
	"style/10-a.css":       "/* for the reader */ a{--paper : #abc ;}",
	"text/en/b.json":       `{"b":"{n} of <b>"}`,
	"text/en/a.json":       `{"hello":"a & b"}`,
	"text/fr/all.json":     `{"hello":"bonjour","b":"{n}"}`,
	"icons/i.svg":          "<svg/>",
	"icons/spare.svg":      "<svg></svg>",
}

// with returns the small page with some files changed; "" deletes one.
func with(changes ...string) map[string]string {
	files := maps.Clone(small)
	for i := 0; i < len(changes); i += 2 {
		files[changes[i]] = changes[i+1]
		if changes[i+1] == "" {
			delete(files, changes[i])
		}
	}
	return files
}

// built builds a page with the smallest program and returns the output folder.
func built(t *testing.T, files map[string]string) (string, *Site, error) {
	t.Helper()
	return builtWith(t, files, Options{})
}

// builtWith is built with some options of the test's own.
func builtWith(t *testing.T, files map[string]string, o Options) (string, *Site, error) {
	t.Helper()
	web, out := t.TempDir(), filepath.Join(t.TempDir(), "dist")
	for name, content := range files {
		file := filepath.Join(web, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(content), 0o644))
	}
	o.Root, o.Web, o.Wasm, o.Out, o.Release, o.Compress = "../..", web, "./internal/site/floor/empty", out, "1.2.3", Fast
	site, err := Build(o)
	return out, site, err
}

func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			raw, err := os.ReadFile(filepath.Join(dir, name))
			files[name] = string(raw)
			return err
		}
		return err
	}))
	return files
}

// one returns the only file whose name matches.
func one(t *testing.T, files map[string]string, pattern string) (name, content string) {
	t.Helper()
	for _, n := range sortedKeys(files) {
		if regexp.MustCompile("^" + pattern + "$").MatchString(n) {
			require.Empty(t, name, "two files match %s", pattern)
			name, content = n, files[n]
		}
	}
	require.NotEmpty(t, name, "no file matches %s in %v", pattern, sortedKeys(files))
	return name, content
}

func TestBuildAssembles(t *testing.T) {
	out, site, err := built(t, small)
	require.NoError(t, err)
	files := tree(t, out)

	style, css := one(t, files, `style\.[0-9a-f]{10}\.css`)
	assert.Equal(t, " a{--paper : #abc ;}b{color:var(--paper)}", css, "joined in lexical order")
	icon, _ := one(t, files, `icons/i\.[0-9a-f]{10}\.svg`)
	en, english := one(t, files, `text\.en\.[0-9a-f]{10}\.json`)
	assert.Equal(t, `{"b":"{n} of <b>","hello":"a & b"}`, english, "merged, keys in order")
	fr, _ := one(t, files, `text\.fr\.[0-9a-f]{10}\.json`)
	wasm, program := one(t, files, `app\.[0-9a-f]{10}\.wasm`)
	assert.True(t, strings.HasPrefix(program, "\x00asm"))
	loader, _ := one(t, files, `wasm_exec\.[0-9a-f]{10}\.js`)
	boot, js := one(t, files, `boot\.[0-9a-f]{10}\.js`)
	assert.Equal(t, "part();\n"+`load("`+wasm+`", "`+loader+`", {"en":"`+en+`","fr":"`+fr+`"}); // kept`+"\n", js)

	html := files["index.html"]
	assert.Contains(t, html, `href="`+style+`"`)
	assert.Contains(t, html, `src="`+boot+`"`)
	assert.Contains(t, html, "<p>A</p>\n<p>B</p><img src=\""+icon+`">`)
	assert.Contains(t, html, "<i>a &amp; b 1.2.3</i>")
	assert.Contains(t, html, `content="`+pageCSP([]byte(css))+`"`)
	assert.Contains(t, html, `content="`+site.Version+`"`)
	assert.NotContains(t, html, "for the reader")
	assert.Equal(t, `{"theme_color":"#abc"}`, files["manifest.webmanifest"])

	assert.Regexp(t, `^[0-9a-f]{10}$`, site.Version)
	assert.Contains(t, files["sw.js"], `const v = "`+site.Version+`"`)
	for _, name := range []string{"./", "manifest.webmanifest", style, icon, en, wasm, loader, boot} {
		assert.Contains(t, files["sw.js"], `"`+name+`"`)
	}
	assert.NotContains(t, files["sw.js"], fr, "kept only when used")
	assert.Equal(t, []string{"icons/spare.svg"}, site.Unused)
	assert.NotContains(t, strings.Join(site.Files, " "), "spare")
}

// A page in a sub-path finds its files only if no reference begins at the root.
func TestBuiltReferencesAreRelative(t *testing.T) {
	out, _, err := built(t, small)
	require.NoError(t, err)
	for name, content := range tree(t, out) {
		if hasTokens(name) && !strings.HasPrefix(name, "wasm_exec") {
			assert.NotRegexp(t, `(src|href|start_url|scope)\W{1,4}/|https?://`, content, name)
		}
	}
}

func TestLoaderIsTheToolchainsOwn(t *testing.T) {
	out, _, err := built(t, small)
	require.NoError(t, err)
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	want, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib/wasm/wasm_exec.js"))
	require.NoError(t, err)
	_, got := one(t, tree(t, out), `wasm_exec\.[0-9a-f]+\.js`)
	assert.Equal(t, string(want), got)
}

func TestBuildIsDeterministic(t *testing.T) {
	first, a, err := built(t, small)
	require.NoError(t, err)
	second, b, err := built(t, small)
	require.NoError(t, err)
	assert.Equal(t, a.Version, b.Version)
	assert.Equal(t, tree(t, first), tree(t, second))
}

func TestEveryChangeGivesANewVersion(t *testing.T) {
	_, before, err := built(t, small)
	require.NoError(t, err)
	for name, changes := range map[string][]string{
		"a style":      {"style/20-b.css", "b{color:red}"},
		"a sentence":   {"text/fr/all.json", `{"hello":"salut","b":"{n}"}`},
		"the worker":   {"sw.js", small["sw.js"] + " "},
		"the manifest": {"manifest.webmanifest", "{}"},
		"a part":       {"parts/a.html", "<!-- include parts/b.html -->"},
		"an icon":      {"icons/i.svg", "<svg> </svg>"},
	} {
		t.Run(name, func(t *testing.T) {
			_, after, err := built(t, with(changes...))
			require.NoError(t, err)
			assert.NotEqual(t, before.Version, after.Version)
		})
	}
}

func TestCompressedTwinsHoldTheSame(t *testing.T) {
	out, site, err := built(t, small)
	require.NoError(t, err)
	files := tree(t, out)
	for _, name := range site.Files {
		br, err := io.ReadAll(brotli.NewReader(strings.NewReader(files[name+".br"])))
		require.NoError(t, err, name)
		assert.Equal(t, files[name], string(br), name)
		gz, err := gzip.NewReader(strings.NewReader(files[name+".gz"]))
		require.NoError(t, err, name)
		plain, err := io.ReadAll(gz)
		require.NoError(t, err, name)
		assert.Equal(t, files[name], string(plain), name)
	}
}

func TestShippedCompressionIsTheSmallest(t *testing.T) {
	raw := bytes.Repeat([]byte("agar gellan gelatin 0.6 % "), 2000)
	ship, err := Ship.Brotli(raw)
	require.NoError(t, err)
	fast, err := Fast.Brotli(raw)
	require.NoError(t, err)
	gz, err := Ship.Gzip(raw)
	require.NoError(t, err)
	assert.Less(t, len(ship), len(fast))
	assert.Less(t, len(ship), len(gz))
}

func TestBuildErrors(t *testing.T) {
	for name, c := range map[string]struct {
		changes []string
		want    string
	}{
		"missing part":         {[]string{"parts/b.html", ""}, "parts/a.html: include: no such file in web/: parts/b.html"},
		"part in itself":       {[]string{"parts/b.html", "<!-- include parts/b.html -->"}, "go deeper than"},
		"part outside web":     {[]string{"parts/b.html", "<!-- include ../x.html -->"}, "../x.html"},
		"part that none takes": {[]string{"parts/c.html", "c"}, "parts/c.html: no file takes this part in"},
		"unknown token":        {[]string{"boot.js", "{{assets x}}"}, "boot.js: {{assets x}}: is no token"},
		"unfinished token":     {[]string{"boot.js", "{{asset x"}, `boot.js: "{{asset x" is no token`},
		"missing asset":        {[]string{"boot.js", "{{asset x.png}}"}, "no such file in web/: x.png"},
		"asset ring":           {[]string{"boot.js", "{{asset boot.js}}"}, "refers to itself"},
		"version in an asset":  {[]string{"boot.js", "{{version}}"}, "known only to"},
		"no such sentence":     {[]string{"parts/b.html", "{{text nope}}"}, "has no such key"},
		"no such property":     {[]string{"manifest.webmanifest", "{{style --nope}}"}, "sets no such property"},
		"not a property":       {[]string{"manifest.webmanifest", "{{style nope}}"}, "begins with --"},
		"no worker":            {[]string{"sw.js", ""}, "no such file in web/: sw.js"},
		"key twice in a file":  {[]string{"text/en/a.json", `{"hello":"a","hello":"b"}`}, `text/en/a.json: key "hello" stands in a.json already`},
		"key in two files":     {[]string{"text/en/b.json", `{"hello":"b"}`}, `text/en/b.json: key "hello" stands in a.json already`},
		"not a string":         {[]string{"text/en/b.json", `{"b":1}`}, `"b" is not a string`},
		"nested":               {[]string{"text/en/b.json", `{"b":{"c":"d"}}`}, `"b" is not a string`},
		"not an object":        {[]string{"text/en/b.json", `["b"]`}, "one JSON object"},
		"two objects":          {[]string{"text/en/b.json", `{"b":"c"}{}`}, "after the object"},
		"broken":               {[]string{"text/en/b.json", `{"b":"c"`}, "text/en/b.json"},
		"key missing":          {[]string{"text/fr/all.json", `{"b":"b"}`}, `text/fr: key "hello" is missing`},
		"key too many":         {[]string{"text/fr/all.json", `{"b":"b","hello":"h","c":"c"}`}, `English has no key "c"`},
		"slot too many":        {[]string{"text/fr/all.json", `{"b":"{m}","hello":"h"}`}, `"b" has {m}`},
		"the build's own key":  {[]string{"text/en/b.json", `{"b":"b","opening":"c"}`, "text/fr/all.json", `{"b":"b","hello":"h","opening":"c"}`}, `text/fr: key "opening" is the build's own`},
		"no English":           {[]string{"text/en/a.json", "", "text/en/b.json", ""}, "web/text/en is missing"},
		"not a language":       {[]string{"text/English/a.json", "{}"}, "one folder for each language"},
	} {
		t.Run(name, func(t *testing.T) {
			out, _, err := built(t, with(c.changes...))
			require.ErrorContains(t, err, c.want)
			assert.NoDirExists(t, out, "a failed build leaves nothing")
		})
	}
}

// What a first visit opens with says what stands on it in that language's words, in
// the script for the page as it comes and in the texts for every other language.
func TestOpeningOfAFirstVisit(t *testing.T) {
	const key = "example.1.name"
	out, _, err := built(t, with("boot.js", "{{opening}}\n{{languages}}",
		"text/en/b.json", `{"b":"b","`+key+`":"\"Gel\" of <pear>"}`, "text/fr/all.json", `{"b":"b","hello":"h","`+key+`":"Gelée de poire","number.decimal":","}`,
		"text/en/c.json", `{"number.decimal":"."}`))
	require.NoError(t, err)
	_, script := one(t, tree(t, out), `boot\.[0-9a-f]{10}\.js`)
	literal, _, _ := strings.Cut(script, "\n")
	_, french := one(t, tree(t, out), `text\.fr\.[0-9a-f]{10}\.json`)
	var texts map[string]string
	require.NoError(t, json.Unmarshal([]byte(french), &texts))
	var english string
	require.NoError(t, json.Unmarshal([]byte(literal), &english))
	for patch, want := range map[string][]string{
		english:          {`"Gel" of <pear>`, "0.01"},
		texts["opening"]: {"Gelée de poire", "0,01"},
	} {
		var ops [][]string
		require.NoError(t, json.Unmarshal([]byte(patch), &ops))
		assert.Contains(t, ops, []string{"value", "name", want[0]})
		assert.Contains(t, ops, []string{"value", "scale-2-step", want[1]})
	}
}

// Two subjects may use the same word for the same thing.
func TestKeyMayStandTwiceWithTheSameText(t *testing.T) {
	out, _, err := built(t, with("text/en/b.json", `{"b":"{n} of <b>","hello":"a & b"}`))
	require.NoError(t, err)
	_, english := one(t, tree(t, out), `text\.en\.[0-9a-f]{10}\.json`)
	assert.Equal(t, `{"b":"{n} of <b>","hello":"a & b"}`, english)
}

func TestBuildFailsOnAProgramThatDoesNotCompile(t *testing.T) {
	_, err := CompileWasm("../..", "./internal/nowhere", "x")
	require.Error(t, err)
	_, err = Build(Options{Root: "../..", Wasm: "./internal/nowhere", Out: filepath.Join(t.TempDir(), "dist")})
	require.ErrorContains(t, err, "nowhere")
}

func TestReleaseIsOneWord(t *testing.T) {
	_, err := CompileWasm("../..", "./internal/site/floor/empty", "1 -X main.other=2")
	require.ErrorContains(t, err, "release")
}

func TestBuildReplacesOnlyABuiltSite(t *testing.T) {
	dir := t.TempDir()
	precious := filepath.Join(dir, "precious.txt")
	require.NoError(t, os.WriteFile(precious, []byte("x"), 0o644))
	require.ErrorContains(t, write(dir, map[string][]byte{}, Fast), "not replaced")
	assert.FileExists(t, precious)

	site := filepath.Join(t.TempDir(), "dist")
	old := map[string][]byte{"index.html": nil, "sw.js": nil, "manifest.webmanifest": nil, "old.txt": nil}
	require.NoError(t, write(site, old, Fast))
	delete(old, "old.txt")
	require.NoError(t, write(site, old, Fast))
	assert.NoFileExists(t, filepath.Join(site, "old.txt"))
}

// The real page must build, and with every language complete.
func TestOwnPageBuilds(t *testing.T) {
	site, err := Build(Options{Root: "../..", Out: filepath.Join(t.TempDir(), "dist"), Compress: Fast})
	require.NoError(t, err)
	assert.NotEmpty(t, site.Version)
}

// A catalogue is read whole or refused, never in part: what is accepted is
// what the standard decoder reads.
func FuzzText(f *testing.F) {
	for _, text := range []string{`{}`, `{"a":"b"}`, `{"a":"b","a":"c"}`, `{"a":1}`, `{"a":{}}`, `[]`, `{"a":"b"`, `{"a":"b"}}`} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		got := map[string]string{}
		if decodeText(raw, func(key, sentence string) error { got[key] = sentence; return nil }) != nil {
			return
		}
		want := map[string]string{}
		require.NoError(t, json.Unmarshal(raw, &want))
		require.Equal(t, want, got)
	})
}

// What a stylesheet says must reach the page as it was hashed.
func TestStylesheetInThePage(t *testing.T) {
	out, _, err := built(t, with("index.html", small["index.html"]+"<style>{{sheet style.css}}</style>"))
	require.NoError(t, err)
	html := tree(t, out)["index.html"]
	_, rest, _ := strings.Cut(html, "<style>")
	style, _, _ := strings.Cut(rest, "</style>")
	sum := sha256.Sum256([]byte(style))
	assert.Equal(t, " a{--paper : #abc ;}b{color:var(--paper)}", style)
	assert.Contains(t, html, "style-src 'self' 'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"';")

	for _, mark := range []string{"</style>", "<!--"} {
		_, _, err := built(t, with("index.html", small["index.html"]+"<style>{{sheet style.css}}</style>", "style/20-b.css", `b::before{content:"`+mark+`"}`))
		assert.ErrorContains(t, err, "a stylesheet in the page cannot hold")
	}
}

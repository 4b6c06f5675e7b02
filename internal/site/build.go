package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
)

// Options say what to build and where to. The zero value builds the module in
// the current folder into dist/.
type Options struct {
	Root     string      // the module's folder; "" is the current one
	Web      string      // folder of the page's sources, relative to Root; "" is web
	Wasm     string      // package of the program, relative to Root; "" is ./wasm
	Lab      string      // package of the lab, relative to Root; "" is ./wasm/lab
	Out      string      // the folder to write, relative to Root; "" is dist
	Release  string      // the name of the release, for people; "" is dev
	Compress Compression // how hard to compress; the zero value is what ships
}

// Site is a built site.
type Site struct {
	Version string   // short hash over everything that is shipped
	Files   []string // names of the shipped files, sorted, without the compressed twins
	Unused  []string // files of web/ that nothing refers to, sorted
}

// rooted names the files that keep their names: the page, because people link
// to it, the worker, because browsers compare it under one name, and the
// manifest, because an installed page is known by it.
var rooted = []string{"index.html", "manifest.webmanifest", "sw.js"}

const page = "index.html"

// Build compiles and assembles the site and writes it to o.Out, replacing what
// an earlier build left there. It refuses to replace a folder that is no built
// site. Every error names the file that it stands in.
func Build(o Options) (*Site, error) {
	o = o.withDefaults()
	b, err := newBuilder(o)
	if err != nil {
		return nil, err
	}
	files, err := b.assemble()
	if err != nil {
		return nil, err
	}
	if err := write(under(o.Root, o.Out), files, o.Compress); err != nil {
		return nil, err
	}
	return &Site{Version: b.version, Files: sortedKeys(files), Unused: b.unused()}, nil
}

func (o Options) withDefaults() Options {
	set := func(s *string, value string) {
		if *s == "" {
			*s = value
		}
	}
	set(&o.Root, ".")
	set(&o.Web, "web")
	set(&o.Wasm, "./wasm")
	set(&o.Lab, "./wasm/lab")
	set(&o.Out, "dist")
	set(&o.Release, "dev")
	return o
}

// builder holds one build: the sources it can ship and what it has shipped.
type builder struct {
	web     fs.FS
	lab     func() ([]byte, error) // compiles the lab, if anything refers to it
	release string
	made    map[string][]byte // files that the build makes rather than copies
	english map[string]string // the English catalogue
	langs   []string          // languages, sorted
	version string            // "" until all hashed files are known
	names   map[string]string // asset → its hashed name; "" while it is being made
	out     map[string][]byte // shipped name → content
	used    map[string]bool   // files of web/ that were taken in
}

func newBuilder(o Options) (*builder, error) {
	b := &builder{
		web:     os.DirFS(under(o.Root, o.Web)),
		lab:     func() ([]byte, error) { return CompileWasm(o.Root, o.Lab, o.Release) },
		release: o.Release,
		names:   map[string]string{},
		out:     map[string][]byte{},
		used:    map[string]bool{},
	}
	var err error
	if b.made, err = compile(o.Root, o.Wasm, o.Release); err != nil {
		return nil, err
	}
	if err := b.addText(); err != nil {
		return nil, err
	}
	return b, b.addStyle()
}

// assemble makes every file. The files that keep their names are made twice:
// once to reach all they refer to, and again when the version is known.
func (b *builder) assemble() (map[string][]byte, error) {
	hash := sha256.New()
	for _, name := range rooted {
		content, err := b.content(name)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(hash, "%s %d\n%s", name, len(content), content)
	}
	for _, name := range sortedKeys(b.out) {
		fmt.Fprintln(hash, name)
	}
	b.version = short(hash.Sum(nil))
	for _, name := range rooted {
		content, err := b.content(name)
		if err != nil {
			return nil, err
		}
		b.out[name] = content
	}
	return b.out, b.allPartsUsed()
}

// asset ships a file under its hashed name and returns that name.
func (b *builder) asset(name string) (string, error) {
	if hashed, ok := b.names[name]; ok {
		if hashed == "" {
			return "", fmt.Errorf("%s refers to itself through other files", name)
		}
		return hashed, nil
	}
	b.names[name] = ""
	content, err := b.content(name)
	if err != nil {
		return "", err
	}
	hashed := hashedName(name, content)
	b.names[name] = hashed
	b.out[hashed] = content
	return hashed, nil
}

// content returns what is shipped for a file: made by the build, or read from
// web/ with its parts and tokens filled in.
func (b *builder) content(name string) ([]byte, error) {
	switch name {
	case loader, program:
		return b.made[name], nil
	case labProgram:
		return b.lab()
	}
	raw, ok := b.made[name]
	if !ok {
		var err error
		if raw, err = b.read(name); err != nil {
			return nil, err
		}
	}
	if !hasTokens(name) {
		return raw, nil
	}
	text, err := b.join(name, string(raw), 0)
	if err != nil {
		return nil, err
	}
	return b.expand(name, text)
}

func (b *builder) read(name string) ([]byte, error) {
	raw, err := fs.ReadFile(b.web, name)
	if err != nil {
		return nil, fmt.Errorf("no such file in web/: %s", name)
	}
	b.used[name] = true
	return raw, nil
}

// unused lists the files of web/ that nothing took in.
func (b *builder) unused() []string {
	var unused []string
	_ = fs.WalkDir(b.web, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !b.used[name] {
			unused = append(unused, name)
		}
		return err
	})
	return unused
}

func (b *builder) allPartsUsed() error {
	var errs []error
	for _, name := range b.unused() {
		if path.Ext(name) == ".html" {
			errs = append(errs, fmt.Errorf("%s: no file takes this part in", name))
		}
	}
	return errors.Join(errs...)
}

const hashDigits = 10

func hashedName(name string, content []byte) string {
	sum := sha256.Sum256(content)
	ext := path.Ext(name)
	return name[:len(name)-len(ext)] + "." + short(sum[:]) + ext
}

func short(sum []byte) string { return hex.EncodeToString(sum)[:hashDigits] }

// under joins a folder and a path, unless the path is absolute.
func under(root, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(root, name)
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	sort.Strings(keys)
	return keys
}

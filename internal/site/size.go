package site

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"text/tabwriter"
)

// Bytes is the size of something in its three forms. What cannot be compressed
// counts in full in each.
type Bytes struct{ Raw, Gzip, Brotli int }

func (b *Bytes) add(c Bytes) {
	b.Raw += c.Raw
	b.Gzip += c.Gzip
	b.Brotli += c.Brotli
}

// FileSize is the size of one shipped file.
type FileSize struct {
	Name string
	Bytes
}

// Weight is the size of a built site beside the programs it is measured
// against. The floors are what the same toolchain makes of the smallest
// programs by itself, stripped; Lean is the second of them with this site's own
// ways of making a program smaller as well. All are compressed the same way.
type Weight struct {
	Files     []FileSize // every shipped file, by name
	FirstLoad Bytes      // all but the lab and the languages other than English
	All       Bytes      // every file
	Empty     Bytes      // an empty program, with its loader
	Store     Bytes      // the smallest program that keeps a record in IndexedDB, with its loader
	Lean      Bytes      // the same, built as this site builds its programs
}

// Floors are the packages of the programs that a site is measured against.
const (
	emptyFloor = "./internal/site/floor/empty"
	storeFloor = "./internal/site/floor/store"
)

// Weigh measures the built site in dir and builds the floors, in the module at
// root.
func Weigh(root, dir string) (*Weight, error) {
	w := &Weight{}
	if err := w.weighFiles(os.DirFS(under(root, dir))); err != nil {
		return nil, err
	}
	plain := func(pkg string) ([]byte, error) { return linkWasm(root, pkg, "-ldflags", "-s -w") }
	lean := func(pkg string) ([]byte, error) { return CompileWasm(root, pkg, "floor") }
	var err error
	if w.Empty, err = weighFloor(root, emptyFloor, plain); err != nil {
		return nil, err
	}
	if w.Store, err = weighFloor(root, storeFloor, plain); err != nil {
		return nil, err
	}
	w.Lean, err = weighFloor(root, storeFloor, lean)
	return w, err
}

func (w *Weight) weighFiles(dist fs.FS) error {
	return fs.WalkDir(dist, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !servable(name) {
			return err
		}
		size, err := weighFile(dist, name)
		if err != nil {
			return err
		}
		w.Files = append(w.Files, FileSize{name, size})
		w.All.add(size)
		if lang := languageOf(path.Base(name)); (lang == "" || lang == english) && !ofLab(name) {
			w.FirstLoad.add(size)
		}
		return nil
	})
}

func weighFile(dist fs.FS, name string) (Bytes, error) {
	length := func(name string) (int, error) {
		info, err := fs.Stat(dist, name)
		if err != nil {
			return 0, err
		}
		return int(info.Size()), nil
	}
	raw, err := length(name)
	if err != nil || !compressible(name) {
		return Bytes{raw, raw, raw}, err
	}
	gz, err := length(name + ".gz")
	if err != nil {
		return Bytes{}, err
	}
	br, err := length(name + ".br")
	return Bytes{raw, gz, br}, err
}

// weighFloor builds a program and weighs it with its loader.
func weighFloor(root, pkg string, build func(pkg string) ([]byte, error)) (Bytes, error) {
	wasm, err := build(pkg)
	if err != nil {
		return Bytes{}, err
	}
	js, err := readLoader(root)
	if err != nil {
		return Bytes{}, err
	}
	var sum Bytes
	for _, file := range [][]byte{wasm, js} {
		gz, err := Ship.Gzip(file)
		if err != nil {
			return Bytes{}, err
		}
		br, err := Ship.Brotli(file)
		if err != nil {
			return Bytes{}, err
		}
		sum.add(Bytes{len(file), len(gz), len(br)})
	}
	return sum, nil
}

// Ratios are the first load, and everything, as multiples of the smallest
// program that keeps a record, after Brotli.
func (w *Weight) Ratios() (firstLoad, all float64) {
	floor := float64(w.Store.Brotli)
	return float64(w.FirstLoad.Brotli) / floor, float64(w.All.Brotli) / floor
}

// Print writes the sizes as a table, and says what is counted on each side.
func (w *Weight) Print(out io.Writer) {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	row := func(name string, b Bytes) { fmt.Fprintf(table, "%d\t%d\t%d\t  %s\n", b.Raw, b.Gzip, b.Brotli, name) }
	fmt.Fprintln(table, "raw\tgzip 9\tbrotli 11\t  file")
	for _, f := range w.Files {
		row(f.Name, f.Bytes)
	}
	fmt.Fprintln(table, "\t\t\t")
	row("first load: every file above but the lab and the languages other than English", w.FirstLoad)
	row("all: every file above", w.All)
	row("floor: an empty Go program and its wasm_exec.js", w.Empty)
	row("floor: the smallest Go program that keeps a record through go-indexeddb, and its wasm_exec.js", w.Store)
	row("the same floor, made smaller as this site's programs are", w.Lean)
	_ = table.Flush()
	firstLoad, all := w.Ratios()
	fmt.Fprintf(out, "\nafter Brotli, as multiples of the program that keeps a record: first load %.3f, all %.3f\n", firstLoad, all)
	fmt.Fprintf(out, "as multiples of that program made smaller in the same ways: first load %.3f, all %.3f\n",
		float64(w.FirstLoad.Brotli)/float64(w.Lean.Brotli), float64(w.All.Brotli)/float64(w.Lean.Brotli))
}

package site

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/andybalholm/brotli"
)

// Compression says how hard a build compresses.
type Compression int

const (
	Ship Compression = iota // the smallest files, as shipped: Brotli 11 and gzip 9
	Fast                    // quickly made compressed files, for tests
)

// settings returns the Brotli and gzip levels. The window of 2^24 bytes holds
// the whole program.
func (c Compression) settings() (brotli.WriterOptions, int) {
	if c == Fast {
		return brotli.WriterOptions{Quality: 2, LGWin: 22}, gzip.BestSpeed
	}
	return brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24}, gzip.BestCompression
}

// Brotli returns content as Brotli compresses it at this setting.
func (c Compression) Brotli(content []byte) ([]byte, error) {
	options, _ := c.settings()
	var buf bytes.Buffer
	return finish(&buf, brotli.NewWriterOptions(&buf, options), content)
}

// Gzip returns content as gzip compresses it at this setting, without a name
// or a time in the header.
func (c Compression) Gzip(content []byte) ([]byte, error) {
	_, level := c.settings()
	var buf bytes.Buffer
	w, err := gzip.NewWriterLevel(&buf, level)
	if err != nil {
		return nil, err
	}
	return finish(&buf, w, content)
}

func finish(buf *bytes.Buffer, w io.WriteCloser, content []byte) ([]byte, error) {
	if _, err := w.Write(content); err != nil {
		return nil, err
	}
	err := w.Close()
	return buf.Bytes(), err
}

// compressible tells by the name whether compressing a file can gain anything.
func compressible(name string) bool {
	switch path.Ext(name) {
	case ".html", ".css", ".js", ".json", ".wasm", ".svg", ".webmanifest", ".txt":
		return true
	}
	return false
}

// write puts the files and their compressed twins into a fresh folder and
// then swaps it in for the old one, so that a failed build leaves the old site.
func write(out string, files map[string][]byte, c Compression) error {
	if err := replaceable(out); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(out), 0o755); err != nil {
		return err
	}
	fresh, err := os.MkdirTemp(filepath.Dir(out), ".site-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(fresh)
	if err := os.Chmod(fresh, 0o755); err != nil {
		return err
	}
	if err := writeAll(fresh, files, c); err != nil {
		return err
	}
	if err := os.RemoveAll(out); err != nil {
		return err
	}
	return os.Rename(fresh, out)
}

// replaceable refuses to delete a folder that holds anything but a built site.
func replaceable(out string) error {
	entries, err := os.ReadDir(out)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil
	}
	if err != nil {
		return err
	}
	for _, name := range rooted {
		if _, err := os.Stat(filepath.Join(out, name)); err != nil {
			return fmt.Errorf("%s is not empty and is no built site: it is not replaced", out)
		}
	}
	return nil
}

// writeAll writes the files side by side: compressing is most of a build.
func writeAll(dir string, files map[string][]byte, c Compression) error {
	names := sortedKeys(files)
	errs := make([]error, len(names))
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for i, name := range names {
		wg.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			errs[i] = writeFile(filepath.Join(dir, filepath.FromSlash(name)), files[name], c)
		})
	}
	wg.Wait()
	return errors.Join(errs...)
}

func writeFile(name string, content []byte, c Compression) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(name, content, 0o644); err != nil || !compressible(name) {
		return err
	}
	br, err := c.Brotli(content)
	if err != nil {
		return err
	}
	if err := os.WriteFile(name+".br", br, 0o644); err != nil {
		return err
	}
	gz, err := c.Gzip(content)
	if err != nil {
		return err
	}
	return os.WriteFile(name+".gz", gz, 0o644)
}

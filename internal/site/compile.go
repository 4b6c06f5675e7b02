package site

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

const (
	program = "app.wasm"     // the compiled program
	loader  = "wasm_exec.js" // the toolchain's own loader for it
)

// compile builds a program for the browser and reads the loader of the very
// toolchain that built it: the two have no promise to fit across versions.
func compile(root, pkg, release string) (map[string][]byte, error) {
	wasm, err := CompileWasm(root, pkg, release)
	if err != nil {
		return nil, err
	}
	js, err := readLoader(root)
	return map[string][]byte{program: wasm, loader: js}, err
}

func readLoader(root string) ([]byte, error) {
	goroot, err := goTool(root, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", loader))
}

// releaseName keeps a release one word on the linker's command line.
var releaseName = regexp.MustCompile(`^[A-Za-z0-9._+-]+$`)

// CompileWasm builds one package for the browser, with the flags that ship,
// and returns the program. The release is stamped into main.version. Paths and
// the state of the repository stay out, so that equal sources give equal bytes.
func CompileWasm(root, pkg, release string) ([]byte, error) {
	if !releaseName.MatchString(release) {
		return nil, fmt.Errorf("%q is no name of a release: letters, digits and . + - _ only", release)
	}
	// Without inlining the program is a twelfth smaller when it arrives.
	wasm, err := linkWasm(root, pkg, "-gcflags=all=-l", "-ldflags", "-s -w -X main.version="+release)
	if err != nil {
		return nil, err
	}
	return shrink(wasm)
}

// shrink takes out of a program what the page has no use for.
func shrink(wasm []byte) ([]byte, error) {
	return withData(wasm, func(segments []segment) []segment {
		segments = joined(segments, mergeGap)
		withoutLines(segments)
		return segments
	})
}

// linkWasm builds one package with some flags of the go command.
func linkWasm(root, pkg string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "tremblant-wasm-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, program)
	args := append([]string{"build", "-trimpath", "-buildvcs=false", "-o", out}, flags...)
	if _, err = goTool(root, append(args, pkg)...); err != nil {
		return nil, err
	}
	return os.ReadFile(out)
}

// goTool runs the go command for js/wasm in the module's folder.
func goTool(root string, args ...string) ([]byte, error) {
	var stdout, stderr bytes.Buffer
	cmd := exec.Command("go", args...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWASM=", "CGO_ENABLED=0")
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("go %s: %w\n%s", args[0], err, stderr.Bytes())
	}
	return stdout.Bytes(), nil
}

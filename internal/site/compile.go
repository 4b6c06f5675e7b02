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
	goroot, err := goTool(root, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	js, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", loader))
	if err != nil {
		return nil, err
	}
	return map[string][]byte{program: wasm, loader: js}, nil
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
	dir, err := os.MkdirTemp("", "tremblant-wasm-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, program)
	// Without inlining the program is an eighth smaller when it arrives.
	_, err = goTool(root, "build", "-trimpath", "-buildvcs=false", "-gcflags=all=-l",
		"-ldflags", "-s -w -X main.version="+release, "-o", out, pkg)
	if err != nil {
		return nil, err
	}
	wasm, err := os.ReadFile(out)
	if err != nil {
		return nil, err
	}
	return mergeSegments(wasm, mergeGap)
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

// Command layers prints the packages of one kind that exist, for the Makefile:
//
//	go run ./internal/archtest/cmd/layers core|shell|native
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"tremblant/internal/archtest"
)

func main() {
	kinds := map[string]archtest.Kind{"core": archtest.Core, "shell": archtest.Shell, "native": archtest.Native}
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "layers: say which: core, shell or native")
		os.Exit(1)
	}
	kind, ok := kinds[os.Args[1]]
	if !ok {
		fmt.Fprintln(os.Stderr, "layers: no such kind:", os.Args[1])
		os.Exit(1)
	}
	for _, p := range archtest.Packages {
		if files, _ := filepath.Glob(filepath.Join(p.Path, "*.go")); p.Kind == kind && len(files) > 0 {
			fmt.Println("./" + p.Path)
		}
	}
}

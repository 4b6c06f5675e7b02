// Command site builds, serves and weighs the static site:
//
//	go run ./internal/site/cmd/site build [-web web] [-wasm ./wasm] [-lab ./wasm/lab] [-out dist] [-release dev] [-fast]
//	go run ./internal/site/cmd/site serve [-dir dist] [-host localhost] [-port 8080]
//	go run ./internal/site/cmd/site size  [-dir dist] [-budget 1.5]
package main

import (
	"flag"
	"fmt"
	"net/http"
	"os"
	"time"

	"tremblant/internal/site"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "site:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	commands := map[string]func([]string) error{"build": build, "serve": serve, "size": size}
	if len(args) == 0 || commands[args[0]] == nil {
		return fmt.Errorf("say what to do: build, serve or size")
	}
	return commands[args[0]](args[1:])
}

func build(args []string) error {
	var o site.Options
	flags := flag.NewFlagSet("build", flag.ExitOnError)
	flags.StringVar(&o.Web, "web", "web", "folder of the page's sources")
	flags.StringVar(&o.Wasm, "wasm", "./wasm", "package of the program")
	flags.StringVar(&o.Lab, "lab", "./wasm/lab", "package of the lab")
	flags.StringVar(&o.Out, "out", "dist", "folder to write")
	flags.StringVar(&o.Release, "release", "dev", "name of the release, for people")
	fast := flags.Bool("fast", false, "compress quickly rather than well")
	_ = flags.Parse(args)
	if *fast {
		o.Compress = site.Fast
	}
	start := time.Now()
	built, err := site.Build(o)
	if err != nil {
		return err
	}
	for _, name := range built.Unused {
		fmt.Println("not shipped, nothing refers to it:", name)
	}
	fmt.Printf("built %s: version %s, %d files, %.1f s\n",
		o.Out, built.Version, len(built.Files), time.Since(start).Seconds())
	return nil
}

func serve(args []string) error {
	flags := flag.NewFlagSet("serve", flag.ExitOnError)
	dir := flags.String("dir", "dist", "folder of a built site")
	host := flags.String("host", "localhost", "name or address to listen on")
	port := flags.Int("port", 8080, "port to listen on; a free one is taken when it is in use")
	_ = flags.Parse(args)
	handler, err := site.Handler(*dir)
	if err != nil {
		return err
	}
	listener, err := site.Listen(*host, *port)
	if err != nil {
		return err
	}
	fmt.Printf("serving %s at http://%s/\n", *dir, listener.Addr())
	server := &http.Server{Handler: handler, ReadHeaderTimeout: 10 * time.Second}
	return server.Serve(listener)
}

func size(args []string) error {
	flags := flag.NewFlagSet("size", flag.ExitOnError)
	dir := flags.String("dir", "dist", "folder of a built site")
	budget := flags.Float64("budget", 1.5, "most that the first load may weigh, as a multiple of the "+
		"smallest program that keeps a record")
	_ = flags.Parse(args)
	weight, err := site.Weigh(".", *dir)
	if err != nil {
		return err
	}
	weight.Print(os.Stdout)
	if firstLoad, _ := weight.Ratios(); firstLoad > *budget {
		return fmt.Errorf("the first load is %.3f times the floor, above the budget of %g", firstLoad, *budget)
	}
	fmt.Printf("within the budget of %g for the first load\n", *budget)
	return nil
}

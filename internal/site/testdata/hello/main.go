// Command hello uses maps, interfaces, printing and its arguments, so that a
// program whose data were damaged would not get through it.
package main

import (
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
)

func main() {
	switch {
	case slices.Equal(os.Args[1:], []string{"collect"}):
		sum, caught := deep(999, collect), ""
		func() {
			defer func() { caught = fmt.Sprint(recover()) }()
			deep(3, func() { fmt.Println(1 / len(os.Args[2:])) })
		}()
		fmt.Printf("collected: %d, caught: %s\n", sum, caught)
		return
	case slices.Equal(os.Args[1:], []string{"panic"}):
		deep(3, func() { panic("asked to") })
	}
	words := slices.Clone(os.Args[1:])
	slices.Sort(words)
	fmt.Printf("sorted: %v of %v, %.2f\n", words, map[int]string{2: "two", 1: "one"}, math.Pi)
}

// deep sums up the numbers to n in calls of its own, and does some work in the
// deepest: what lives on the stack must be found there.
//
//go:noinline
func deep(n int, work func()) int {
	here := []int{n}
	if n == 0 {
		work()
		return 0
	}
	sum := deep(n-1, work)
	return sum + here[0]
}

func collect() {
	for range 3 {
		_ = make([]byte, 1<<20)
		runtime.GC()
	}
}

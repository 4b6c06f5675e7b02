// Command hello uses maps, interfaces, printing and its arguments, so that a
// program whose data were damaged would not get through it.
package main

import (
	"fmt"
	"math"
	"os"
	"slices"
)

func main() {
	words := slices.Clone(os.Args[1:])
	slices.Sort(words)
	fmt.Printf("sorted: %v of %v, %.2f\n", words, map[int]string{2: "two", 1: "one"}, math.Pi)
}

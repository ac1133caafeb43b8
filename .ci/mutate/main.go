// Mutate plants faults in the program, one at a time, and says which of them no test notices. The tree is never touched:
// each changed file is laid over the right one by the compiler's own overlay.
//
//	mutate [-sample N] [-seed S] [-only ID,ID]   faults of testdata/mutations.tsv
//	mutate -new N [-seed S] [-in FOLDER]         N faults made anew: signs, comparisons, factors, constants
//
// The tests of the fault's folder are run, and those of -last one after the other while it lives. New faults leave out what
// nobody could notice: which number stands for infinity, which below 0 for none (-1 becomes 0), room set aside by make, and limits of rounding under a millionth. Survivors of -new are printed as lines that can be
// added to the list.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
)

// fault is one change of one file.
type fault struct {
	id, folder, file string
	old, with        string // whole text that is replaced
	nth              int    // which occurrence of old, from 1
}

func (f fault) path() string { return f.folder + "/" + f.file }

func main() {
	list := flag.String("list", "testdata/mutations.tsv", "list of faults")
	sample := flag.Int("sample", 0, "take this many of the list, drawn by the seed")
	made := flag.Int("new", 0, "make this many new faults instead")
	in := flag.String("in", "analysis", "folder in which new faults are made")
	seed := flag.Uint64("seed", 1, "seed of the draw")
	only := flag.String("only", "", "ids of the list, by commas")
	last := flag.String("last", "./analysis/study ./cmd/command ./cmd/demo", "packages whose tests are run where a fault lives; empty: none")
	flag.Parse()
	draw := rand.New(rand.NewPCG(*seed, 0))
	var source func() (fault, bool)
	var err error
	if *made > 0 {
		source, err = newFaults(*in, draw)
	} else {
		source, err = listed(*list, *only, *sample, draw)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	os.Exit(run(source, *made, strings.Fields(*last)))
}

// listed returns the faults of a list, all or a sample, in the order of the list.
func listed(path, only string, sample int, draw *rand.Rand) (func() (fault, bool), error) {
	faults, err := readList(path)
	if err != nil {
		return nil, err
	}
	if only != "" {
		faults = keep(faults, strings.Split(only, ","))
	}
	for sample > 0 && len(faults) > sample {
		i := draw.IntN(len(faults))
		faults = append(faults[:i], faults[i+1:]...)
	}
	next := 0
	return func() (fault, bool) {
		if next == len(faults) {
			return fault{}, false
		}
		next++
		return faults[next-1], true
	}, nil
}

// run tries each fault, prints a line for each and the counts last, and returns the exit code: 1 where a listed fault lives
// or no longer fits its file. With made > 0 it stops after that many faults that built.
func run(source func() (fault, bool), made int, last []string) int {
	count := map[verdict]int{}
	for made == 0 || count[killed]+count[lives] < made {
		f, ok := source()
		if !ok {
			break
		}
		v, by := try(f, last)
		count[v]++
		switch {
		case made > 0 && v == lives:
			fmt.Printf("%s\t%s\t%s\t%s\t%s\t%d\n", f.id, f.folder, f.file, f.old, f.with, f.nth)
		case made == 0 || v == killed:
			fmt.Printf("%-9s %-22s %s %s\n", v, f.id, f.path(), by)
		}
	}
	fmt.Printf("%d faults: %d noticed, %d lived, %d did not build, %d no longer fit\n",
		count[killed]+count[lives]+count[unbuilt]+count[stale], count[killed], count[lives], count[unbuilt], count[stale])
	if made == 0 && count[lives]+count[unbuilt]+count[stale] > 0 {
		return 1
	}
	return 0
}

// Soak calls the properties of the fuzz tests with very many small inputs (package soak) and counts them: runs of each target, and failures with what
// repeats them. Seeds are those of the tests, what fuzzing has kept in the build cache, cuts of the demo roofs and the refused files of testdata.
//
//	soak [-runs N] [-seed S] [-rounds R]
//
// Targets take turns, so that a soak that is ended early has run a part of each.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// target is one soak test.
type target struct {
	folder, fuzz, test string
	share              int // of all runs, in thousandths
	ran                int
}

var targets = []*target{
	{"importer/points", "FuzzRead", "TestSoakRead", 240, 0},
	{"importer/points", "FuzzParseCodeList", "TestSoakCodeList", 80, 0},
	{"importer/geojson", "FuzzRead", "TestSoakRead", 290, 0},
	{"analysis/rainfall", "FuzzReadPattern", "TestSoakReadPattern", 100, 0},
	{"analysis/rainfall", "FuzzReadIDF", "TestSoakReadIDF", 60, 0},
	{"analysis/storm", "FuzzRoute", "TestSoakRoute", 10, 0},
	{"cmd/command", "FuzzOutletAnswers", "TestSoakOutletAnswers", 50, 0},
	{"analysis/quantity", "FuzzParseLength", "TestSoakParseLength", 60, 0},
	{"analysis/textfile", "FuzzMembers", "TestSoakMembers", 60, 0},
	{"export/staged", "FuzzParseJournal", "TestSoakParseJournal", 28, 0},
	{"analysis/mesh", "FuzzTriangulate", "TestSoakTriangulate", 20, 0},
	{"analysis/surface", "FuzzBuild", "TestSoakBuild", 2, 0},
}

func main() {
	runs := flag.Int("runs", 1_000_000, "of all targets together")
	seed := flag.Int("seed", 1, "of the inputs")
	rounds := flag.Int("rounds", 10, "turns that each target takes")
	flag.Parse()
	dir, err := os.MkdirTemp("", "soak-")
	if err == nil {
		err = soak(dir, *runs, *seed, *rounds)
		_ = os.RemoveAll(dir)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "soak:", err)
		os.Exit(1)
	}
}

// soak builds the tests, once, and runs them in turns. A target that fails ends the soak after that turn.
func soak(dir string, runs, seed, rounds int) error {
	cache, err := exec.Command("go", "env", "GOCACHE").Output()
	if err != nil {
		return err
	}
	kept := filepath.Join(strings.TrimSpace(string(cache)), "fuzz", "runnel")
	if err := build(dir); err != nil {
		return err
	}
	if err := cut(dir); err != nil {
		return err
	}
	failed := 0
	for round := range rounds {
		for _, t := range targets {
			n := runs * t.share / 1000 / rounds
			said, err := t.run(dir, kept, n, seed+1000*round)
			if err != nil {
				failed++
				fmt.Printf("%s %s: %v\n%s\n", t.folder, t.fuzz, err, said)
				continue
			}
			t.ran += n
		}
		report(round+1, failed)
		if failed > 0 {
			return fmt.Errorf("%d failures", failed)
		}
	}
	return nil
}

// build builds the tests of every folder.
func build(dir string) error {
	for _, t := range targets {
		c := exec.Command("go", "test", "-c", "-vet=off", "-o", t.program(dir), "./"+t.folder) //nolint:gosec // our own folders
		if said, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w\n%s", t.folder, err, said)
		}
	}
	return nil
}

func (t *target) program(dir string) string {
	return filepath.Join(dir, strings.ReplaceAll(t.folder, "/", "-")+".test")
}

// run makes n runs, and returns what the test said.
func (t *target) run(dir, kept string, n, seed int) (string, error) {
	c := exec.Command(t.program(dir), "-test.run=^"+t.test+"$", "-test.v", "-test.timeout=0") //nolint:gosec // built above
	c.Dir = t.folder
	corpora := []string{filepath.Join(kept, t.folder), filepath.Join(dir, "cuts", t.folder), filepath.Join("testdata", "fuzz")}
	c.Env = append(os.Environ(), "GOGC=400", fmt.Sprintf("RUNNEL_SOAK=%d", n), fmt.Sprintf("RUNNEL_SOAK_SEED=%d", seed),
		"RUNNEL_SOAK_CORPUS="+strings.Join(corpora, string(filepath.ListSeparator)))
	said, err := c.CombinedOutput()
	if err == nil && !strings.Contains(string(said), fmt.Sprintf("%d runs of %s", n, t.fuzz)) {
		err = fmt.Errorf("no runs were made")
	}
	if i := strings.Index(string(said), "runs of"); err == nil && i > 0 {
		line, _, _ := strings.Cut(string(said)[i:], "\n")
		fmt.Printf("  %s: %s\n", t.folder, line)
	}
	return string(said), err
}

// report prints the runs so far.
func report(round, failed int) {
	sum := 0
	for _, t := range targets {
		fmt.Printf("%12d  %s %s\n", t.ran, t.folder, t.fuzz)
		sum += t.ran
	}
	fmt.Printf("%12d  runs after round %d, %d failures\n", sum, round, failed)
}

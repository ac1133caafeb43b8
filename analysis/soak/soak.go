// Package soak calls a property with millions of small inputs, in one process and without measuring coverage: many times as fast as go test -fuzz, and
// good for going deep where that has already gone wide. Inputs are made from the target's own seeds and from those that fuzzing has kept, by small
// changes: bits and bytes, spans that are cut, doubled and moved, pieces of two inputs joined, numbers at their extremes, and words of the target's language.
//
// A Target is a fuzz target and a soak target of the same seeds and property. Its soak makes a few thousand runs as an ordinary test, and as many as
// RUNNEL_SOAK says otherwise (make soak). An input that fails is written to testdata/fuzz, where go test -run finds it, as it does those of go test -fuzz;
// RUNNEL_SOAK_KEEP=no writes none.
package soak

import (
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"sync/atomic"
	"testing"
	"time"
)

// usual is how many runs an ordinary test makes of a target.
const usual = 500

// Target is a property of all inputs of some kind, and examples of them.
type Target struct {
	Property any // func(*testing.T, ...), as testing.F.Fuzz takes it

	name  string
	seeds [][]any
	words []string
}

// New returns the target of a fuzz test by its name, such as FuzzRead. words are of the language of its texts, beside those that all have.
func New(name string, words ...string) *Target { return &Target{name: name, words: words} }

// Add adds a seed: the arguments of the property, each a string, []byte, uint8, uint32 or bool.
func (g *Target) Add(args ...any) { g.seeds = append(g.seeds, args) }

// Fuzz is the body of the fuzz test.
func (g *Target) Fuzz(f *testing.F) {
	for _, seed := range g.seeds {
		f.Add(seed...)
	}
	f.Fuzz(g.Property)
}

// Soak calls the property RUNNEL_SOAK times, or usual times where that is not set. RUNNEL_SOAK_SEED picks the inputs (1), RUNNEL_SOAK_CORPUS lists
// folders of further seeds, as go test -fuzz keeps them: each may have one by the target's name.
func (g *Target) Soak(t *testing.T) {
	t.Helper()
	runs, long := number("RUNNEL_SOAK", usual)
	seed, _ := number("RUNNEL_SOAK_SEED", 1)
	seeds := g.seeds
	for _, folder := range filepath.SplitList(os.Getenv("RUNNEL_SOAK_CORPUS")) {
		kept, err := readCorpus(filepath.Join(folder, g.name))
		if err != nil {
			t.Fatal(err)
		}
		seeds = append(seeds[:len(seeds):len(seeds)], kept...)
	}
	m := newMutator(rand.New(rand.NewPCG(seed, 1)), seeds, g.words)
	r := &runner{t: t, name: g.name, property: reflect.ValueOf(g.Property)}
	if long {
		defer r.watch()()
	}
	began := time.Now()
	for range runs {
		r.run(m.next())
	}
	if long {
		t.Logf("%d runs of %s from %d seeds, no failure, %.0f a second", runs, g.name, len(seeds), float64(runs)/time.Since(began).Seconds())
	}
}

// number reads a whole number from the environment, and whether it stands there.
func number(name string, otherwise uint64) (uint64, bool) {
	n, err := strconv.ParseUint(os.Getenv(name), 10, 64)
	if err != nil {
		return otherwise, false
	}
	return n, true
}

// runner calls one property.
type runner struct {
	t        *testing.T
	name     string
	property reflect.Value
	at       atomic.Pointer[[]any] // the input at hand
	done     atomic.Int64
}

// run calls the property once. Where it fails or panics, its input is written down before the test ends.
func (r *runner) run(input []any) {
	args := make([]reflect.Value, len(input)+1)
	args[0] = reflect.ValueOf(r.t)
	for i, v := range input {
		args[i+1] = reflect.ValueOf(v)
	}
	r.at.Store(&input)
	whole := false
	defer func() {
		if whole && !r.t.Failed() {
			return
		}
		v := recover()
		r.keep(input)
		if v != nil {
			r.t.Fatalf("panic: %v", v)
		}
		r.t.FailNow()
	}()
	r.property.Call(args)
	whole = true
	r.done.Add(1)
}

// keep writes an input where go test -run looks for those of the fuzz target.
func (r *runner) keep(input []any) {
	text := writeInput(input)
	dir := filepath.Join("testdata", "fuzz", r.name)
	path := filepath.Join(dir, fmt.Sprintf("soak-%08x", crc32.ChecksumIEEE(text)))
	if os.Getenv("RUNNEL_SOAK_KEEP") == "no" { // a fault that was planted failed
		r.t.Logf("run %d failed:\n%s", r.done.Load()+1, text)
		return
	}
	err := os.MkdirAll(dir, 0o750)
	if err == nil {
		err = os.WriteFile(path, text, 0o600)
	}
	if err != nil {
		r.t.Logf("the input is not kept: %v", err)
	}
	r.t.Logf("run %d failed; again with: go test -run '%s/%s'\n%s", r.done.Load()+1, r.name, filepath.Base(path), text)
}

// stuck is how long one run of a soak may take: thousands of times as long as any should.
const stuck = 5 * time.Minute

// watch writes down an input that never ends, and stops the process. The function that it returns ends the watch.
func (r *runner) watch() func() {
	end := make(chan struct{})
	go func() {
		last := int64(-1)
		for {
			select {
			case <-end:
				return
			case <-time.After(stuck):
			}
			now := r.done.Load()
			if now == last {
				panic(fmt.Sprintf("%s: run %d does not end:\n%s", r.name, now+1, writeInput(*r.at.Load())))
			}
			last = now
		}
	}()
	return func() { close(end) }
}

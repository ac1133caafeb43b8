package shape_test

import (
	"reflect"
	"testing"

	"runnel/analysis/geometry/shape"
)

func TestRandomIsRepeatable(t *testing.T) {
	for seed := range uint64(40) {
		a, b := shape.Random(seed, 200), shape.Random(seed, 200)
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("seed %d gives two different roofs", seed)
		}
		if n := len(a.Spots); n < 60 || n > 600 {
			t.Errorf("seed %d: %d spots asked for 200", seed, n)
		}
	}
}

// Every feature the property tests count on must occur.
func TestRandomCoversTheFeatures(t *testing.T) {
	var curbs, folds, outlets, edges, elevated int
	for seed := range uint64(60) {
		r := shape.Random(seed, 150)
		curbs += len(r.Curbs)
		folds += len(r.Breaklines)
		outlets += len(r.Outlets)
		edges += len(r.Edges)
		if r.Outline.Rings[0][0].HasZ {
			elevated++
		}
	}
	for name, n := range map[string]int{"curbs": curbs, "breaklines": folds, "outlets": outlets, "edges": edges, "outlines with elevations": elevated} {
		if n < 10 {
			t.Errorf("only %d %s in 60 roofs", n, name)
		}
	}
}

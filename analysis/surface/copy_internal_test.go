package surface

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// Two copies of one TIN, and then two of the first, are cut by turns. None changes what another has, or what was copied, although the first shares lists with it.
func TestCopiesDoNotDisturbEachOther(t *testing.T) {
	tin := sheet(t, rand.New(rand.NewPCG(9, 9)), 40)
	x, dx := slices.Clone(tin.X), slices.Clone(tin.DX)
	cut := func(c *cutter, seed uint64) func() {
		rnd := rand.New(rand.NewPCG(seed, 1))
		return func() { c.place(rnd.Int32N(int32(len(c.V))), rnd.Float64()) }
	}
	alone := newCopy(sheet(t, rand.New(rand.NewPCG(9, 9)), 40))
	step := cut(alone, 1)
	for range 300 {
		step()
	}
	first, second := newCopy(tin), newCopy(tin)
	if &first.X[0] != &tin.X[0] || &second.X[0] == &tin.X[0] {
		t.Error("the first copy does not share its lists, or the second does")
	}
	turns := func(steps ...func()) {
		for range 300 {
			for _, step := range steps {
				step()
			}
		}
	}
	turns(cut(first, 1), cut(second, 2))
	turns(cut(newCopy(first.TIN), 3), cut(newCopy(first.TIN), 4))
	if !slices.Equal(tin.X, x) || !slices.Equal(tin.DX, dx) {
		t.Error("what was copied has changed")
	}
	for name, pair := range map[string][2]any{
		"X": {first.X, alone.X}, "GY": {first.GY, alone.GY}, "Z": {first.Z, alone.Z}, "DX": {first.DX, alone.DX}, "V": {first.V, alone.V}, "Spot": {first.Spot, alone.Spot},
	} {
		if !reflect.DeepEqual(pair[0], pair[1]) {
			t.Errorf("%s is not that of a copy cut alone", name)
		}
	}
}

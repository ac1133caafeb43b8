package mesh

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
)

// Along the Hilbert curve each cell is next to the one before, and each square of 256 by 256 cells, wherever its grid of such squares has it, is gone through from end to end without leaving it.
func TestHilbert(t *testing.T) {
	const side = 256
	for _, block := range [][2]uint32{{0, 0}, {1, 0}, {0, 1}, {7, 200}, {255, 255}, {128, 127}} {
		x0, y0 := block[0]*side, block[1]*side
		first := hilbert(x0, y0) &^ (side*side - 1)
		var at [side * side][2]uint32
		seen := [side * side]bool{}
		for x := x0; x < x0+side; x++ {
			for y := y0; y < y0+side; y++ {
				d := hilbert(x, y)
				if d < first || d-first >= side*side || seen[d-first] {
					t.Fatalf("square %v: cell (%d, %d) is number %d after %d, or the second of that number", block, x, y, d, first)
				}
				seen[d-first], at[d-first] = true, [2]uint32{x, y}
			}
		}
		for k := 1; k < len(at); k++ {
			a, b := at[k-1], at[k]
			dx, dy := int64(a[0])-int64(b[0]), int64(a[1])-int64(b[1])
			if dx*dx+dy*dy != 1 {
				t.Fatalf("square %v: after cell %v comes %v", block, a, b)
			}
		}
	}
}

// The curve covers the box of the points in cells of a power of two, 65,535 or fewer to a side, whichever side is longer.
func TestCellsOfTheCurve(t *testing.T) {
	for _, c := range []struct {
		x, y   []int32
		x0, y0 int64
		shift  int
	}{
		{nil, nil, 0, 0, 0},
		{[]int32{5}, []int32{-7}, 5, -7, 0},
		{[]int32{5, 65540}, []int32{-7, 0}, 5, -7, 0},
		{[]int32{5, 65541}, []int32{-7, 0}, 5, -7, 1},
		{[]int32{0, 3}, []int32{-100000, 200000}, 0, -100000, 3}, // 300,000 is 37,500 by eights
		{[]int32{-2147483648, 2147483647}, []int32{0, 0}, -2147483648, 0, 16},
	} {
		x0, y0, shift := box(c.x, c.y)
		if x0 != c.x0 || y0 != c.y0 || int(shift) != c.shift {
			t.Errorf("%v, %v: %d, %d by %d", c.x, c.y, x0, y0, shift)
		}
	}
}

// Keys that stand over the low 32 bits of their numbers are brought in order by the keys, as sorting by comparing has them.
func TestRadixSort(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for n := range 200 {
		keys := make([]uint64, n)
		for i := range keys {
			keys[i] = uint64(r.Uint32()>>r.IntN(32))<<32 | uint64(i)
		}
		want := slices.Clone(keys)
		slices.SortStableFunc(want, func(a, b uint64) int { return cmp.Compare(a>>32, b>>32) })
		if got := radixSort(keys); !slices.Equal(got, want) {
			t.Fatalf("%d keys are not in order", n)
		}
	}
}

package layout

import (
	"slices"
	"testing"

	"runnel/export/page"
)

// TestWhatIsReadAfterStandsAfter packs a block and one that is read after it among others of many heights: whatever takes fewest pages, the second stands on a later page, in a later column or below the first.
func TestWhatIsReadAfterStandsAfter(t *testing.T) {
	for _, highs := range [][]float64{{60, 10, 20, 150, 40}, {20, 20, 150, 90, 30}, {120, 30, 60, 100}, {10, 10, 40, 40, 150, 60}, {30, 150, 20, 170}} {
		for first := range len(highs) - 1 {
			f := page.New("test", 297, 210)
			at := make([][3]float64, len(highs)) // page, column and height of each
			var blocks []block
			for i, high := range highs {
				blocks = append(blocks, block{after: i == first+1, set: func(on *page.Flow) {
					if on == f {
						at[i] = [3]float64{float64(len(f.Pages)), f.X(), f.Y()}
					}
					on.Skip(high)
				}})
			}
			pack(f, blocks)
			if a, b := at[first], at[first+1]; slices.Compare(b[:], a[:]) <= 0 {
				t.Errorf("%v: block %d at %v, what is read after it at %v", highs, first, a, b)
			}
		}
	}
}

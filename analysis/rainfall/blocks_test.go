package rainfall_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/rainfall"
)

// What a table of depths by duration cannot give is said with its minutes: of blocks of 5 min, 12 min, 20,005 min, a depth that falls, a storm beyond the table and one
// without rain.
func TestBlocksThatCannotBe(t *testing.T) {
	table := &rainfall.IDF{Duration: []float64{300, 600, 1200, 1200600}, Depth: []float64{0.01, 0.015, 0.02, 0.2}}
	falling := &rainfall.IDF{Duration: []float64{300, 600, 900}, Depth: []float64{0.01, 0.015, 0.012}}
	for _, c := range []struct {
		f       *rainfall.IDF
		minutes float64
		says    string
	}{
		{table, 12, "a storm of 12 min is no whole number of blocks of 5 min"},
		{table, 10005, "a storm of 10005 min has too many blocks of 5 min"},
		{falling, 15, "the depth falls between 10 and 15 min"},
		{&rainfall.IDF{Duration: []float64{300, 600}, Depth: []float64{0, 0}}, 10, "no rain falls in 10 min"},
		{&rainfall.IDF{}, 10, "no whole number of blocks"},
	} {
		if _, err := c.f.Blocks(c.minutes * 60); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%g min: %v, want %q", c.minutes, err, c.says)
		}
	}
	if _, err := table.Blocks(10000 * 60); err != nil {
		t.Errorf("2000 blocks: %v", err)
	}
}

// By hand, 20 min in blocks of 5: the depths 10, 15, 17.5 and 20 mm grow by 10, 5, 2.5 and 2.5, and the greatest is the last of the first half: 2.5, 10, 5, 2.5.
func TestFourBlocks(t *testing.T) {
	p, err := (&rainfall.IDF{Duration: []float64{300, 600, 1200}, Depth: []float64{0.01, 0.015, 0.02}}).Blocks(1200)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 2.5, 12.5, 17.5, 20} {
		if got := p.Fraction[i] * p.Depth; !(math.Abs(got-want/1000) <= 1e-9) {
			t.Errorf("after %d blocks %g mm, want %g", i, 1000*got, want)
		}
		if !(math.Abs(p.Time[i]-float64(i)/4) <= 1e-12) {
			t.Errorf("block %d ends at %g", i, p.Time[i])
		}
	}
}

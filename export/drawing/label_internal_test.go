package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// By hand: along a line of 0.4, 0 and 0.8 mm, and no farther than its end.
func TestPointAlong(t *testing.T) {
	line := []scene.Point{{X: 0, Y: 0}, {X: 0.4, Y: 0}, {X: 0.4, Y: 0}, {X: 0.4, Y: 0.8}}
	for far, want := range map[float64]scene.Point{0.1: {X: 0.1}, 0.4: {X: 0.4}, 0.6: {X: 0.4, Y: 0.2}, 1.2: {X: 0.4, Y: 0.8}, 5: {X: 0.4, Y: 0.8}} {
		if got := pointAlong(line, far); !(scene.Distance(got, want) <= 1e-9) {
			t.Errorf("%v mm along: %v, want %v", far, got, want)
		}
	}
	for i, part := range alongParts { // tenths, from the middle outwards on both sides
		if want := 0.5 + 0.1*float64((i+1)/2)*float64(1-i%2*2); !(math.Abs(part-want) <= 1e-9) {
			t.Errorf("place %d on a line is at %v, want %v", i, part, want)
		}
	}
	if got := pointAlong([]scene.Point{{X: 3, Y: 2}, {X: 3, Y: 2}}, 0); got != (scene.Point{X: 3, Y: 2}) || math.IsNaN(got.X) {
		t.Errorf("along a line that is a point: %v", got)
	}
}

// By hand: 0.1 % are 0.012 in per ft, 1/6 % are 0.02, 1/48 is a quarter inch per foot.
func TestRatesInInches(t *testing.T) {
	p := &plan{u: record.US}
	for slope, want := range map[float64]string{0.001: `0.012"/ft`, 0.0017: `0.02"/ft`, 1. / 48: `0.25"/ft`} {
		if got := p.rate(slope); got != want {
			t.Errorf("%v is written %s, want %s", slope, got, want)
		}
	}
}

// The labels that found no room stand on the first sheet where all have room under their heading, else all on the next: none runs out of the panel.
func TestLeftLabelsStandWhole(t *testing.T) {
	seen := map[bool]bool{}
	for n := 1; n < 60; n++ {
		p := canvas(t).p
		p.textEm, p.s.Findings, p.left = 3, nil, nil
		for i := range n {
			p.left = append(p.left, fmt.Sprint("label ", i))
		}
		c := column{p: p, room: scene.Rect{X: 10, Y: 10, W: 90, H: 180}, y: 10}
		came := p.upper(&c)
		stand, lowest := 0, 0.0
		for _, text := range p.layer("texts").Texts {
			lowest = max(lowest, text.At.Y)
			if strings.Contains(text.String, "  label ") {
				stand++
			}
		}
		if stand != came.label || stand != 0 && stand != n || lowest > 190 {
			t.Fatalf("of %d labels %d stand, %d are said to, the last at %v", n, stand, came.label, lowest)
		}
		seen[stand > 0] = true
	}
	if len(seen) != 2 {
		t.Error("either all or none of the lists had room")
	}
}

// The place of a finding that is too long for the panel ends in an ellipsis, and never in the middle of a distance.
func TestLongPlaceIsMarked(t *testing.T) {
	p := canvas(t).p
	p.textEm = 3
	p.s.Findings[0].Where = finding.Say(strings.Repeat("10 m from the long north wall in the north-west, ", 3) + "5 m east of SC-1")
	for width, cut := range map[float64]bool{150: false, 60: true} {
		head, _ := p.entry(0, width, mostWords)
		if last := head[len(head)-1]; strings.HasSuffix(last, "…") != cut || strings.HasSuffix(last, "SC-1") == cut || len(head) > mostPlace {
			t.Errorf("%g mm wide: %q", width, head)
		}
	}
}

// Beside the plan a finding is listed only where it has room whole; on a sheet of lists the first is listed in any case, since every sheet must come on.
func TestFindingsWithoutRoom(t *testing.T) {
	for _, c := range []struct {
		high        float64
		whole       bool
		least, most int
	}{{3, false, 0, 0}, {3, true, 1, 1}, {1000, false, 2, 99}, {1000, true, 2, 99}} {
		p := canvas(t).p
		p.textEm = 3
		col := column{p: p, room: scene.Rect{X: 10, Y: 10, W: 90, H: c.high}, y: 10}
		if got := p.findings(&col, 0, c.whole); got < c.least || got > c.most {
			t.Errorf("%v mm, whole %v: %d of %d findings", c.high, c.whole, got, len(p.s.Findings))
		}
	}
}

// By hand: at 1:20 a quarter of 80 mm is 0.4 m, so that the parts are 0.2 m; at 1:40 in feet it is 2.6, and they are 2.
func TestScaleBarOfASmallRoof(t *testing.T) {
	for _, c := range []struct {
		u     record.Units
		scale float64
		want  string
	}{{record.SI, 20, "0|0.2|0.4|0.8 m"}, {record.US, 40, "0|2|4|8 ft"}, {record.US, 6, "0|0.2|0.4|0.8 ft"}} {
		p := &plan{u: c.u, em: pictureEm, field: scene.Rect{W: 300, H: 200}, scene: &scene.Scene{}, v: &view{k: 1000 / c.scale}}
		p.scaleBar(10, 20)
		if got := strings.Join(textsOf(p.layer("frame")), "|"); got != c.want {
			t.Errorf("at 1:%v the bar says %s, want %s", c.scale, got, c.want)
		}
	}
}

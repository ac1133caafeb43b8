package points_test

import (
	"strings"
	"testing"

	"runnel/importer/draft"
	"runnel/importer/points"
)

// Whatever stands at exactly 0 among others that do not was not measured there: spots, sills and heights are left out and named, all else loses its elevation and stays.
func TestZerosOfEachKind(t *testing.T) {
	for name, c := range map[string]struct {
		rows string // lines 3 and on, behind a spot of 100 in line 2
		n    string // how many zeros are said, with what is left out
		ok   func(d *draft.Draft) bool
	}{
		"a spot":            {"2,2,0,\n", "1; spots left out: line 3 (L3)", func(d *draft.Draft) bool { return len(d.Spots) == 1 }},
		"two spots":         {"2,2,0,\n3,3,101,\n4,4,-0,SPOT\n", "2; spots left out: line 3 (L3), line 5 (L5)", func(d *draft.Draft) bool { return len(d.Spots) == 2 }},
		"a sill":            {"2,2,0,SILL\n3,3,101,SILL\n", "1; sills left out: line 3 (L3)", func(d *draft.Draft) bool { return len(d.Sills) == 1 && d.Sills[0].Plan[0] == 3 }},
		"a spot and a sill": {"2,2,0,SILL\n3,3,0,\n", "2; spots left out: line 4 (L4); sills left out: line 3 (L3)", func(d *draft.Draft) bool { return len(d.Sills) == 0 && len(d.Spots) == 1 }},
		"a height":          {"2,2,0,LOW 1\n3,3,99,LIP 1\n", "1; heights left out: line 3 (L3)", func(d *draft.Draft) bool { return len(d.Tape.Probes) == 1 && d.Tape.Probes[0].Plan[0] == 3 }},
		"a mark of water": {"2,2,0,WATERLINE 1\n4,2,99,WATERLINE 1\n4,4,,WATERLINE 1\n", "1", func(d *draft.Draft) bool {
			e := d.Tape.Waters[0].Edge
			return len(e) == 3 && !e[0].HasZ && e[1].HasZ && !e[2].HasZ
		}},
		"a core": {"2,2,0,CORE\n3,3,99,CORE\n", "1", func(d *draft.Draft) bool { return len(d.Cores) == 2 && !d.Cores[0].HasZ && d.Cores[1].HasZ }},
		"a drain": {"2,2,0,DRAIN\n3,3,99,DRAIN\n", "1", func(d *draft.Draft) bool {
			return len(d.Outlets) == 2 && !d.Outlets[0].HasInvert && d.Outlets[1].HasInvert
		}},
		"a ridge": {"2,2,0,RIDGE 1\n3,3,99,RIDGE 1\n", "1", func(d *draft.Draft) bool { l := d.Breaklines[0].Line; return !l[0].HasZ && l[1].HasZ }},
		"a wall":  {"2,2,0,WALL 1\n3,3,99,WALL 1\n", "1", func(d *draft.Draft) bool { l := d.Edges[0].Line; return !l[0].HasZ && l[1].HasZ }},
		"a curb":  {"2,2,0,CURB 1\n4,2,99,CURB 1\n4,4,99,CURB 1\n", "1", func(d *draft.Draft) bool { r := d.Curbs[0].Ring; return !r[0].HasZ && r[1].HasZ && !r[3].HasZ }},
		"a corner": {"0,0,0,OUTLINE\n9,0,99,OUTLINE\n9,9,99,OUTLINE\n", "1", func(d *draft.Draft) bool {
			r := d.Outlines[0].Rings[0]
			return !r[0].HasZ && r[1].HasZ && r[2].HasZ && !r[3].HasZ
		}},
		"all corners": {"0,0,0,OUTLINE\n9,0,0,OUTLINE\n9,9,0,OUTLINE\n", "3", func(d *draft.Draft) bool {
			for _, p := range d.Outlines[0].Rings[0] {
				if p.HasZ {
					return false
				}
			}
			return true
		}},
		"none": {"2,2,0.001,\n", "", func(d *draft.Draft) bool { return len(d.Spots) == 2 }},
	} {
		text := "x,y,z,code\n1,1,100,\n" + c.rows
		d := mustRead(t, text, points.Options{})
		want := "a.csv: elevations of exactly 0 among others that are not were not used: " + c.n + ". Say --keep-zero if they were measured."
		if c.n == "" {
			want = ""
		}
		if got := strings.Join(d.Warnings, "\n"); got != want || !c.ok(d) {
			t.Errorf("%s: %q, want %q: %+v", name, got, want, d)
		}
		kept := mustRead(t, text, points.Options{KeepZero: true})
		if c.n != "" && (c.ok(kept) || len(kept.Warnings) > 0) {
			t.Errorf("%s, kept: %q, %+v", name, kept.Warnings, kept)
		}
		// Where nothing else has an elevation, 0 is the datum.
		alone := mustRead(t, "x,y,z,code\n1,1,0,\n"+strings.NewReplacer(",99,", ",0,", ",101,", ",0,").Replace(c.rows), points.Options{})
		if c.n != "" && len(alone.Warnings) > 0 {
			t.Errorf("%s alone: %q", name, alone.Warnings)
		}
	}
}

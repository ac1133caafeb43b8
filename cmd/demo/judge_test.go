package demo_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/demo"
	"runnel/importer"
)

// reach is how near a finding must lie to the place where a fault was planted [m].
const reach = 1.0

// check surveys a roof into files, reads them as a user would who says how good the heights are, and runs the whole analysis.
func check(t *testing.T, r *demo.Roof) *study.Study {
	t.Helper()
	s, err := study.Run(read(t, r), study.Options{})
	if err != nil {
		t.Fatalf("%s: %v", r.Stem(), err)
	}
	return s
}

// read surveys a roof into files and reads them.
func read(t *testing.T, r *demo.Roof) *roof.Roof {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for _, f := range r.Inputs() {
		path := filepath.Join(dir, f.Name)
		if err := os.WriteFile(path, f.Bytes, 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	measured, err := importer.Read(paths, importer.Options{Sigma: map[string]quantity.Length{"": quantity.Length(r.Sigma())}})
	if err != nil {
		t.Fatalf("%s: %v", r.Stem(), err)
	}
	return measured
}

// verdict is how a roof's findings compare with its planted faults.
type verdict struct {
	missed []string // per planted fault: "" when found, else what was said there instead
	named  []bool   // per planted fault: found, or among the other causes of a finding there
	false  []string // findings at repair or above that no fault explains
}

// judge compares. A fault is found when a finding at repair or above of its kind lies within reach of its
// place. A finding at repair or above is false unless it lies there and is the one finding of a planted
// pond, or lies in the fault's area and is of its kind or of a kind that it brings.
func judge(r *demo.Roof, s *study.Study) verdict {
	var v verdict
	faults := r.Faults()
	explained := make([]bool, len(s.Findings))
	for _, f := range faults {
		place := s.Roof.Frame.ToLocal(f.Place)
		area := make(orb.Ring, len(f.Area))
		for i, p := range f.Area {
			area[i] = s.Roof.Frame.ToLocal(p)
		}
		var there []string
		found, also := false, false
		for i, g := range s.Findings {
			if g.Severity < finding.Repair || g.Geometry == nil {
				continue
			}
			at := apart(g.Geometry, place) <= reach || f.Kind == finding.NoOverflow && g.Kind == f.Kind // which concerns the whole roof
			inside := planar.RingContains(area, middle(g.Geometry)) || at
			same := g.Kind == f.Kind
			at = at || f.Kind == finding.LevelArea && same && inside // water stands on a level roof where chance has it
			for _, k := range f.Brings {
				same = same || g.Kind == k
			}
			if inside && same || at && g.Pond >= 0 && f.Depth > 0 {
				explained[i] = true
			}
			if !at {
				continue
			}
			there = append(there, string(g.Kind))
			found = found || g.Kind == f.Kind
			for _, k := range g.Also {
				also = also || k == f.Kind
			}
		}
		said := ""
		if !found {
			said = "nothing"
			if len(there) > 0 {
				said = strings.Join(there, "+")
			}
		}
		v.missed = append(v.missed, said)
		v.named = append(v.named, found || also)
	}
	for i, g := range s.Findings {
		if g.Severity >= finding.Repair && !explained[i] {
			m := middle(g.Geometry)
			p := s.Roof.Frame.ToFile(m)
			v.false = append(v.false, fmt.Sprintf("%s at (%.6g, %.6g)", g.Kind, p[0], p[1]))
		}
	}
	return v
}

// apart is the distance of p from a geometry, 0 inside.
func apart(g orb.Geometry, p orb.Point) float64 {
	switch g := g.(type) {
	case orb.Polygon:
		if planar.PolygonContains(g, p) {
			return 0
		}
	case orb.MultiPolygon:
		if planar.MultiPolygonContains(g, p) {
			return 0
		}
	case nil:
		return math.Inf(1)
	}
	return planar.DistanceFrom(g, p)
}

// middle is a geometry's centre of area, length or count.
func middle(g orb.Geometry) orb.Point {
	if g == nil {
		return orb.Point{math.Inf(1), math.Inf(1)}
	}
	if c, a := planar.CentroidArea(g); a > 0 {
		return c
	}
	return g.Bound().Center()
}

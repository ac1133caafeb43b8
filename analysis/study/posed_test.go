package study_test

import (
	"fmt"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// allSaid is what must not hang on how a roof lies: kinds, severities and sureness of findings, ponds with evidence, bounds and cause, heights that do not
// fit, catchments and their bounds, and what the next spots would tell. Heights whose two coordinates may have changed places are left out: what the numbers
// of a place look like is what tells of them.
func allSaid(s *study.Study) []studytest.Said {
	var out []studytest.Said
	say := func(what string, numbers ...float64) { out = append(out, studytest.Said{What: what, Numbers: numbers}) }
	for _, f := range s.Findings {
		if f.Kind != finding.SpotOdd {
			say(fmt.Sprintf("finding %s %s %s", f.Kind, f.Severity, f.Confidence))
		}
	}
	for i, l := range s.Listed {
		p, b := &s.Ponds.Ponds[l.Pond], &s.Bounds.Ponds[i]
		say(fmt.Sprintf("pond %s, %s", l.Place, s.Causes[i].Causes[0].Kind), p.Depth, p.Area, p.Volume, s.Evidence.Ponds[l.Pond].Evidence)
		say("bounds of a pond", b.Depth.Low, b.Depth.High, b.Area.Low, b.Area.High)
	}
	for _, o := range s.Odd {
		if o.Vertex >= 0 && o.Spot >= 0 {
			say("odd "+s.Roof.Spots[o.Spot].ID, o.Off(), o.Score)
		}
	}
	for _, c := range s.Catchments.Full {
		say("catchment", c.Area)
	}
	for _, b := range s.Bounds.Catchments {
		say("bounds of a catchment", b.Low, b.High)
	}
	for _, n := range s.NextSpots {
		say(fmt.Sprintf("next %d", n.Kind), n.Weight)
	}
	return out
}

// Wherever a roof stands on its grid, however it is turned and in whatever order its spots come, it gets one answer. 40 made-up roofs, most on grids whose diagonals could
// run either way, with equal elevations, level areas and curbs. Mirrored ones go round their facets the other way, and one in ten differs where two planes
// or causes are as good.
func TestRoofHoweverItLies(t *testing.T) {
	o := study.Options{
		Criteria: standard.Overrides{"rain_primary": 100 * float64(quantity.MillimetrePerHour), "rain_overflow": 200 * float64(quantity.MillimetrePerHour)}, NextSpots: 6,
	}
	run := func(seed uint64, w studytest.Lain) []studytest.Said {
		s, err := study.Run(w.Random(seed, 150), o)
		if err != nil {
			t.Fatalf("%d %s: %v", seed, w.Name, err)
		}
		return allSaid(s)
	}
	mirrored, things := 0, 0
	for seed := range uint64(40) {
		here := run(seed, studytest.AsIs)
		things += len(here)
		for _, w := range studytest.WaysToLie() {
			there := run(seed, w)
			less, more := studytest.Lacking(here, there, 1e-5, 1e-6), studytest.Lacking(there, here, 1e-5, 1e-6)
			switch {
			case len(less)+len(more) == 0:
			case w.Mirrored:
				mirrored++
				t.Logf("%d %s: lacks %v, has %v", seed, w.Name, less, more)
			default:
				t.Errorf("%d %s: lacks %v, has %v", seed, w.Name, less, more)
			}
		}
	}
	if mirrored > 4 {
		t.Errorf("%d of 40 differ when mirrored", mirrored)
	}
	if things < 400 {
		t.Errorf("only %d things were said", things)
	}
}

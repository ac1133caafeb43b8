package demo_test

import (
	"math"
	"os"
	"strconv"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/study"
	"runnel/cmd/demo"
)

// firstPlainSeed starts a range of seeds that was never looked at while folds were worked on.
const firstPlainSeed = 8_000_000

// TestPlainGridFaults checks invented roofs in feet and metres that somebody shot on a plain grid and coded nothing of, no two of one layout: 60 of each of
// sixteen pitches and errors, with RUNNEL_LONG=1 a hundred. Of the planted faults that such a survey can show 95 % are to be found within a metre with the right
// kind, missing overflows, which no height shows, left out; what is found must not be so few that this cannot be, by two standard errors of the count. There must be
// less than one false finding at repair or above in fifty roofs.
func TestPlainGridFaults(t *testing.T) {
	n, pitches, sigmas := 60, []float64{1, 1.5, 2, 3}, []float64{0.003, 0.005, 0.01, 0.02}
	if os.Getenv("RUNNEL_LONG") == "1" {
		n = 100
	}
	first := uint64(firstPlainSeed)
	if v, err := strconv.ParseUint(os.Getenv("RUNNEL_SEED"), 10, 64); err == nil {
		first = v
	}
	all := newScore()
	for _, pitch := range pitches {
		for _, sigma := range sigmas {
			s := newScore()
			for range n {
				s.addPlain(t, first, pitch, sigma)
				first++
			}
			t.Logf("every %g m, errors of %g mm: %d of %d found, %d where other causes count; %d false on %d roofs",
				pitch, 1000*sigma, s.found, s.planted, s.named, s.wrong, s.roofs)
			all.join(s)
		}
	}
	all.table(t)
	over := all.row(finding.NoOverflow)
	planted, found := all.planted-over[0], all.found-over[1]
	t.Logf("without missing overflows: %d of %d found (%.1f %%)", found, planted, percent(found, planted))
	if few := 0.95*float64(planted) - 2*math.Sqrt(0.95*0.05*float64(planted)); float64(found) < few {
		t.Errorf("%d of %d faults found that heights show, at least %.1f wanted", found, planted, few)
	}
	if over[1] < over[0] {
		t.Errorf("%d of %d missing overflows found", over[1], over[0])
	}
	if all.wrong*50 > all.roofs {
		t.Errorf("%.3f false findings a roof, want 0.02", float64(all.wrong)/float64(all.roofs))
	}
}

// TestPlainGridUnstated checks the same kind of roofs where nobody says how good the heights are: what they scatter by about planes and neighbours tells it, and what is
// found must still be true. By the neighbours alone, relief reads as error and hides a good part
// of them.
func TestPlainGridUnstated(t *testing.T) {
	const first, n = 52_300_000, 25
	all, seed := newScore(), uint64(first)
	for _, pitch := range []float64{1, 1.5, 2, 3} {
		for _, sigma := range []float64{0.003, 0.005, 0.01} {
			for range n {
				all.addPlainBy(t, seed, pitch, sigma, false)
				seed++
			}
		}
	}
	all.table(t)
	over := all.row(finding.NoOverflow)
	planted, found := all.planted-over[0], all.found-over[1]
	t.Logf("without missing overflows: %d of %d found (%.1f %%)", found, planted, percent(found, planted))
	if found*100 < planted*68 {
		t.Errorf("%d of %d faults found that heights show, want 68 of 100", found, planted)
	}
	if all.wrong*50 > all.roofs {
		t.Errorf("%.3f false findings a roof, want 0.02", float64(all.wrong)/float64(all.roofs))
	}
}

// TestFoldsStopBeforeAnotherPartOfTheRoof: on two roofs of several bays planes of one bay touch those of the next along the walls. A fold laid there made ponds of
// 55 and 59 mm; no planted fault holds more than 35 mm of water.
func TestFoldsStopBeforeAnotherPartOfTheRoof(t *testing.T) {
	for _, c := range []struct {
		seed         uint64
		pitch, sigma float64
	}{{18_000_507, 1.5, 0.005}, {18_000_589, 1.5, 0.005}} {
		for _, p := range check(t, demo.Plain(c.seed, c.pitch, c.sigma, false)).Ponds.Ponds {
			if p.Depth > 0.045 {
				t.Errorf("%d: a pond of %.0f mm", c.seed, 1000*p.Depth)
			}
		}
	}
}

// TestPlainGridCauses holds what was once told wrongly of roofs on plain grids, each fault as it was planted: valleys that fall back on a stretch so short that no
// plane or valley is told there, or so near their outlet, and that were called dishes, or whose doubt hid them; arched spans whose crest had no foot at the wall, or whose trough was called
// a flat valley; and low places pressed down behind curbs whose foot was drawn over them, or that one spot alone shows.
func TestPlainGridCauses(t *testing.T) {
	for _, c := range []struct {
		seed         uint64
		pitch, sigma float64
		kind         finding.Kind
	}{
		{18_000_483, 1.5, 0.003, finding.ValleyFlat},
		{19_000_872, 2, 0.003, finding.ValleyFlat},
		{20_000_402, 1.5, 0.003, finding.ValleyFlat},
		{43_000_814, 2, 0.003, finding.ValleyFlat},
		{43_001_261, 3, 0.003, finding.ValleyFlat},
		{50_000_489, 1.5, 0.003, finding.ValleyFlat},
		{51_000_098, 1, 0.003, finding.ValleyFlat},
		{61_001_266, 3, 0.003, finding.ValleyFlat},
		{61_001_287, 3, 0.003, finding.ValleyFlat},
		{46_000_862, 2, 0.003, finding.ValleyFlat},
		{45_000_103, 1, 0.005, finding.ValleyFlat},
		{60_000_450, 1.5, 0.003, finding.ValleyFlat},
		{60_000_561, 1.5, 0.005, finding.ValleyFlat},
		{18_000_020, 1, 0.003, finding.Camber},
		{18_000_843, 2, 0.003, finding.Camber},
		{18_000_045, 1, 0.003, finding.Camber},
		{60_001_246, 3, 0.003, finding.Camber},
		{60_000_876, 2, 0.003, finding.Camber},
		{61_000_878, 2, 0.003, finding.CricketMissing},
		{62_001_373, 3, 0.005, finding.CricketMissing},
		{18_000_854, 2, 0.003, finding.CricketMissing},
		{20_000_833, 2, 0.003, finding.CricketMissing},
		{20_000_888, 2, 0.003, finding.CricketMissing},
	} {
		r := demo.Plain(c.seed, c.pitch, c.sigma, false)
		v, planted := judge(r, check(t, r)), false
		for i, f := range r.Faults() {
			if f.Kind != c.kind {
				continue
			}
			if planted = true; v.missed[i] != "" {
				t.Errorf("%d: planted %s, found %s", c.seed, f.Kind, v.missed[i])
			}
		}
		if !planted {
			t.Errorf("%d: no %s planted", c.seed, c.kind)
		}
	}
}

// addPlain counts one roof: faults that its survey cannot show, by canShow, are left out.
func (s *score) addPlain(t *testing.T, seed uint64, pitch, sigma float64) {
	t.Helper()
	s.addPlainBy(t, seed, pitch, sigma, true)
}

// addPlainBy counts one roof whose survey states its error, or does not.
func (s *score) addPlainBy(t *testing.T, seed uint64, pitch, sigma float64, states bool) {
	t.Helper()
	exact := demo.Plain(seed, pitch, sigma, true)
	can := canShow(read(t, exact), exact.Faults(), pitch, sigma)
	r := demo.Plain(seed, pitch, sigma, false)
	measured := read(t, r)
	if !states {
		measured.Sigma = 0
		for i := range measured.Spots {
			measured.Spots[i].Sigma = 0
		}
	}
	done, err := study.Run(measured, study.Options{})
	if err != nil {
		t.Fatalf("%d: %v", seed, err)
	}
	v := judge(r, done)
	s.roofs++
	for i, f := range r.Faults() {
		if !can[i] {
			continue
		}
		row := s.row(f.Kind)
		s.planted++
		row[0]++
		if v.missed[i] == "" {
			s.found++
			row[1]++
		} else {
			s.confused[string(f.Kind)+" -> "+v.missed[i]]++
			t.Logf("%d every %g m, %g mm: planted %s (%.0f mm), found %s", seed, pitch, 1000*sigma, f.Kind, 1000*f.Depth, v.missed[i])
		}
		if v.named[i] {
			s.named++
			row[2]++
		}
	}
	for _, f := range v.false {
		s.wrong++
		s.confused["false "+f[:min(len(f), 14)]]++
		t.Logf("%d every %g m, %g mm: false %s", seed, pitch, 1000*sigma, f)
	}
}

func (s *score) row(k finding.Kind) *[3]int {
	if s.byKind[k] == nil {
		s.byKind[k] = &[3]int{}
	}
	return s.byKind[k]
}

// join adds what another score counted.
func (s *score) join(o *score) {
	s.roofs, s.planted, s.found, s.named, s.wrong = s.roofs+o.roofs, s.planted+o.planted, s.found+o.found, s.named+o.named, s.wrong+o.wrong
	for k, row := range o.byKind {
		for i, n := range row {
			s.row(k)[i] += n
		}
	}
	for k, n := range o.confused {
		s.confused[k] += n
	}
}

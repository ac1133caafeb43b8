package assembly_test

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// TestRandomLayouts: whatever the number of cores, where they were cut, how steep the roof and whether one reached a flute unsaid, what is told is
// right. Layouts were not looked at while the rules were written.
func TestRandomLayouts(t *testing.T) {
	told, wrong := 0, 0
	for seed := range uint64(300) {
		rnd := rand.New(rand.NewPCG(seed, 99))
		n := 3 + rnd.IntN(6)
		p := planted{flute: -1, step: 2}
		for range n {
			p.cores = append(p.cores, orb.Point{1 + 22*rnd.Float64(), 1 + 10*rnd.Float64()})
		}
		s := 0.01 + 0.02*rnd.Float64()
		var want assembly.Verdict
		switch rnd.IntN(4) {
		case 0:
			p.deck, p.thickness, want = rising(s), even, assembly.StructureSlopes
		case 1:
			p.deck, p.thickness, want = rising(0), taper(s), assembly.InsulationTapers
		case 2:
			p.deck, p.thickness, want = rising(s/2), taper(s/2), assembly.BothSlope
		default:
			p.deck, p.thickness, want = rising(1.5*s), taper(-s/2), assembly.TaperFights
		}
		if rnd.IntN(2) == 0 {
			p.deckType = "steel"
			p.flute = rnd.IntN(2*n) - n // half of them: none
		}
		switch v := overall(assembly.Of(study(t, p.measure(seed), false))); {
		case v == want:
			told++
		case v != assembly.NotResolved:
			wrong++
			t.Errorf("seed %d, %d cores: %s, want %s", seed, n, v, want)
		}
	}
	t.Logf("told in %d of 300, wrong in %d", told, wrong)
	if told < 100 {
		t.Errorf("told in %d of 300", told)
	}
}

// taper is an assembly that grows thicker to the north by s.
func taper(s float64) func(x, y float64) float64 {
	return func(_, y float64) float64 { return 0.2 + s*y }
}

// TestRandomPonds: the same for what is low under a pond, over any mix of sloped deck and taper.
func TestRandomPonds(t *testing.T) {
	told, wrong := 0, 0
	for seed := range uint64(100) {
		rnd := rand.New(rand.NewPCG(seed, 77))
		p := planted{flute: -1, step: 1}
		for n := 2 + rnd.IntN(6); len(p.cores) < n; {
			if c := (orb.Point{1 + 22*rnd.Float64(), 1 + 10*rnd.Float64()}); (c[0]-12)*(c[0]-12)+(c[1]-6)*(c[1]-6) > 16 {
				p.cores = append(p.cores, c)
			}
		}
		for range 1 + rnd.IntN(3) {
			p.cores = append(p.cores, orb.Point{11.2 + 1.6*rnd.Float64(), 5.2 + 1.6*rnd.Float64()})
		}
		s, part := 0.008+0.008*rnd.Float64(), rnd.Float64()
		hollow := bowl(1.5+2.5*rnd.Float64(), 0.04+0.06*rnd.Float64())
		deck, thick := rising(s*(1-part)), taper(s*part)
		want := assembly.InsulationThin
		p.deck, p.thickness = deck, func(x, y float64) float64 { return thick(x, y) - hollow(x, y) }
		if rnd.IntN(2) == 0 {
			want = assembly.DeckLow
			p.deck, p.thickness = func(x, y float64) float64 { return deck(x, y) - hollow(x, y) }, thick
		}
		for _, pond := range assembly.Of(study(t, p.measure(seed), false)).Ponds {
			switch {
			case pond.Cause == want:
				told++
			case pond.Cause != assembly.PondNotResolved:
				wrong++
				t.Errorf("seed %d: %s, want %s", seed, pond.Cause, want)
			}
		}
	}
	t.Logf("told in %d of 100, wrong in %d", told, wrong)
	if told < 50 {
		t.Errorf("told in %d of 100", told)
	}
}

// fourWay is a roof of 20 by 16 m that falls four ways to a drain in its middle at 2 %, with five cores: fewer than three on each of its planes.
func fourWay(thickness func(rise float64) float64, rnd *rand.Rand) *roof.Roof {
	r := shape.Pyramid(20, 16, 0.02, 0.3)
	for i, c := range []orb.Point{{9, 1}, {-3, 2}, {1, 7}, {-9, -3}, {2.5, -2}} {
		rise := 0.02 * max(abs(c[0]), abs(c[1]))
		t := thickness(rise)
		if rnd != nil {
			t += tubeNoise * rnd.NormFloat64()
		}
		r.Cores = append(r.Cores, core("K"+string(rune('1'+i)), c, t, "concrete"))
	}
	return r
}

func abs(x float64) float64 { return max(x, -x) }

// TestFourWay: cores on different planes of one catchment are taken together by the elevation of the surface.
func TestFourWay(t *testing.T) {
	for _, c := range []struct {
		name      string
		thickness func(rise float64) float64
		want      assembly.Verdict
		share     float64
	}{
		{"structure", func(float64) float64 { return 0.1 }, assembly.StructureSlopes, 0},
		{"taper", func(rise float64) float64 { return 0.05 + rise }, assembly.InsulationTapers, 1},
		{"half of each", func(rise float64) float64 { return 0.05 + rise/2 }, assembly.BothSlope, 0.5},
		{"against", func(rise float64) float64 { return 0.25 - rise }, assembly.TaperFights, -1},
	} {
		r := assembly.Of(study(t, fourWay(c.thickness, nil), true))
		if len(r.Regions) != 1 || r.Regions[0].Kind != assembly.OnCatchment || r.Regions[0].Verdict != c.want || abs(r.Regions[0].Share-c.share) > 1e-3 {
			t.Errorf("%s: %d regions, %+v", c.name, len(r.Regions), r.Regions[0])
		}
		// by hand: at (9, 0) the surface has risen 0.18 m
		want := 0.18 - c.thickness(0.18)
		if z, _, ok := r.Deck(orb.Point{9, 0.5}); !ok || abs(z-want) > 1e-3 {
			t.Errorf("%s: deck at 9 m %.4f, want %.4f (%v)", c.name, z, want, ok)
		}
		wrong := 0
		for seed := range uint64(50) {
			v := overall(assembly.Of(study(t, fourWay(c.thickness, rand.New(rand.NewPCG(seed, 8))), true)))
			if v != c.want && v != assembly.NotResolved {
				wrong++
			}
		}
		if wrong > 0 {
			t.Errorf("%s: wrong in %d of 50", c.name, wrong)
		}
	}
}

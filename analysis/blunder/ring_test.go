package blunder_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// ringSurvey is a survey as many people take it: spots along the foot of the walls, inset by so much, a few feet or metres apart, the drains and what
// stands beside them, and nothing in mid-roof. The roof falls to its drains from four sides, by 1 to 3 %, to a valley between two sides, or both ways at once.
func ringSurvey(seed uint64) *roof.Roof {
	d := rand.New(rand.NewPCG(seed, 5))
	l, w := math.Round(12+30*d.Float64()), math.Round(9+12*d.Float64())
	step, inset := 2.5+3*d.Float64(), []float64{0, 0.1, 0.15, 0.3, 0.5}[d.IntN(5)]
	fall, kind := 0.01+0.02*d.Float64(), d.IntN(3)
	drains := []orb.Point{{l / 2, w / 2}}
	if l > 24 {
		drains = []orb.Point{{l / 4, w / 2}, {3 * l / 4, w / 2}}
	}
	z := func(x, y float64) float64 {
		least := math.Inf(1)
		for _, p := range drains {
			dx, dy := math.Abs(x-p[0]), math.Abs(y-p[1])
			switch kind {
			case 0: // four ways
				least = math.Min(least, fall*math.Max(dx, dy))
			case 1: // a valley that falls a quarter as much
				least = math.Min(least, fall*dy+fall/4*dx)
			default: // both ways
				least = math.Min(least, fall*(dx+dy)/1.5)
			}
		}
		return 10 + least
	}
	feet, sigma := d.IntN(2) == 0, 0.003
	r := shape.New("ring", shape.Bare(0, 0), shape.Bare(l, 0), shape.Bare(l, w), shape.Bare(0, w))
	shot := func(x, y, down float64) {
		h := z(x, y) - down + sigma*d.NormFloat64()
		if feet {
			h = math.Round(h/foot*100) / 100 * foot
		}
		shape.Spot(r, x, y, h)
	}
	along := func(a, b orb.Point) {
		n := math.Max(1, math.Round(math.Hypot(b[0]-a[0], b[1]-a[1])/step))
		for i := range int(n) {
			k := float64(i) / n
			shot(a[0]+k*(b[0]-a[0]), a[1]+k*(b[1]-a[1]), 0)
		}
	}
	c := []orb.Point{{inset, inset}, {l - inset, inset}, {l - inset, w - inset}, {inset, w - inset}}
	for i := range c {
		along(c[i], c[(i+1)%4])
	}
	beside := d.IntN(2) == 0
	for _, p := range drains {
		o := shape.Drain(r, p[0], p[1], 0.15)
		o.Invert, o.HasInvert = z(p[0], p[1])-0.01, true
		shot(p[0], p[1], 0.01)
		for _, q := range [][2]float64{{0.5, 0}, {-0.5, 0}, {0, 0.5}, {0, -0.5}} {
			if beside {
				shot(p[0]+q[0], p[1]+q[1], 0)
			}
		}
	}
	if feet {
		r.Units = quantity.Feet
	}
	return r
}

// TestRingSurveys: where all spots of a survey stand round the edge and at the drains, planes meet where no other spot shows them. Of 300 sound surveys at most
// 1 in 100 may have a spot called odd; a reading off by a foot stands out all the same on two in three; it does not at a drain that it puts into a deeper sump.
func TestRingSurveys(t *testing.T) {
	accused, found := 0, 0
	odd := func(r *roof.Roof) []blunder.Odd {
		s, err := surface.Build(r, surface.Options{})
		if err != nil {
			t.Fatal(err)
		}
		list, _ := blunder.Find(r, s, evidence.ErrorsOf(s, r).Typical)
		return list
	}
	for seed := range uint64(300) {
		r := ringSurvey(seed + 5000)
		for _, o := range odd(r) {
			t.Logf("seed %d: %.2f, %.2f off %.0f mm, error %.1f, score %.1f", seed, o.Plan[0], o.Plan[1], o.Off()*1000, o.Error*1000, o.Score)
			accused++
		}
		d := rand.New(rand.NewPCG(seed, 6))
		i := d.IntN(len(r.Spots))
		r.Spots[i].Z += foot * float64(2*d.IntN(2)-1)
		list := odd(r)
		for _, o := range list[:min(3, len(list))] {
			if o.Spot == int32(i) {
				found++
			}
		}
	}
	t.Logf("%d spots of sound surveys called odd, %d of 300 blunders found", accused, found)
	if accused > 3 || found < 200 {
		t.Errorf("%d spots of 300 sound surveys are called odd, %d of 300 blunders are among the worst three", accused, found)
	}
}

// The top of a cricket at its wall stands 40 mm over the plane that runs on beside it, and the coded ridge falls those 40 mm over 0.8 m, 5 % as crickets
// do: it is no slip. 300 mm over it, it is one, since no cricket falls 42 %. By hand: the wall stands 12 m from the gutter of a plane of 2 %, and spots 2 m apart.
func TestTopOfACricketAtItsWall(t *testing.T) {
	for up, want := range map[float64]int{0.04: 0, 0.34: 1} {
		r := shed()
		top := shape.At(10, 12, 0.24+up)
		shape.Breakline(r, roof.Ridge, top, shape.At(10, 11.2, 0.224+0.004))
		shape.Breakline(r, roof.Cricket, shape.At(8, 11.9, 0.238), shape.At(9.95, 11.15, 0.223))
		shape.Breakline(r, roof.Cricket, shape.At(12, 11.9, 0.238), shape.At(10.05, 11.15, 0.223))
		for i := range r.Spots {
			if p := r.Spots[i].Plan; p == top.Plan {
				r.Spots[i].Z = top.Z
			}
		}
		if _, odd := find(t, r); len(odd) != want {
			t.Errorf("%.2f m up: %+v", up, odd)
		}
	}
}

// The only spot in a corner of walls, shot 100 mm off both, may lie on planes of its own: 60 mm over the plane of the rest, whose nearest spot stands 2.1 m off, it
// is no slip, as far from the corner it is one.
func TestSpotInACorner(t *testing.T) {
	for at, want := range map[float64]int{0.1: 0, 2.1: 1} {
		r := shape.New("corner", shape.Bare(0, 0), shape.Bare(16, 0), shape.Bare(16, 12), shape.Bare(0, 12))
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(16, 0))
		for y := 1.0; y < 12; y += 2 {
			for x := 1.0; x < 16; x += 2 {
				shape.Spot(r, x, y, 0.02*y)
			}
		}
		for x := 1.0; x < 16; x += 2 {
			shape.Spot(r, x, 11.9, 0.238)
		}
		shape.Spot(r, at, 12-at, 0.02*(12-at)+0.06)
		if _, odd := find(t, r); len(odd) != want {
			t.Errorf("%.1f m off the walls: %+v", at, odd)
		}
	}
}

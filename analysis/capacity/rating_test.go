package capacity_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
)

const (
	in  = float64(quantity.Inch)
	gpm = float64(quantity.GallonPerMinute)
	lps = float64(quantity.LitrePerSecond)
)

// of returns the rating of a fitting that must have one.
func of(t *testing.T, f capacity.Fitting) *capacity.Rating {
	t.Helper()
	r, err := capacity.Of(f)
	if err != nil {
		t.Fatalf("%+v: %v", f, err)
	}
	return r
}

// fittings returns an outlet of every kind and method, sizes at random.
func fittings(random *rand.Rand) []capacity.Fitting {
	size := func(low, high float64) quantity.Length {
		return quantity.Length(low+(high-low)*random.Float64()) * quantity.Inch
	}
	var all []capacity.Fitting
	for _, kind := range []capacity.Kind{capacity.Scupper, capacity.Drain, capacity.Standpipe, capacity.Edge} {
		for _, method := range capacity.Methods(kind) {
			f := capacity.Fitting{Kind: kind, Method: method, Width: size(4, 40), Diameter: size(2, 12)}
			open, dam, behind := f, f, f
			open.OpeningHeight = size(2, 8)
			open.CrestBreadth = size(4, 24)
			if method == capacity.Table {
				open.OpeningHeight = 4 * quantity.Inch
			}
			dam.DamDiameter, dam.DamHeight = size(8, 14), size(1, 4)
			behind.Leader = capacity.Section{Width: size(2, 6)}
			behind.HeadDepth = size(2, 10)
			behind.Pipe, behind.PipeSlope = size(2, 8), quantity.InchPerFoot/4
			all = append(all, f, open, dam, behind)
		}
	}
	return all
}

// Every law starts at nothing, never falls, has no jump, and Head is its inverse.
func TestLawsAreMonotoneAndWithoutJumps(t *testing.T) {
	const seed = 4
	random := rand.New(rand.NewPCG(seed, 1))
	for range 5 {
		for _, f := range fittings(random) {
			r := of(t, f)
			for _, each := range []*capacity.Rating{r, r.Lower, r.Clogged} {
				if each == nil {
					continue
				}
				if q := each.Flow(0); q != 0 {
					t.Errorf("%+v: %v at no head", f, q)
				}
				const step = 1e-4 // m
				before := 0.0
				for i := 1; i <= 10000; i++ {
					q := each.Flow(float64(i) * step)
					if q < before*(1-1e-13) || math.IsNaN(q) {
						t.Fatalf("%+v, %s: falls from %v to %v at %v m", f, each.Method, before, q, float64(i)*step)
					}
					// No law here, the steepest table included, rises faster than as the sixth power of the head.
					if ratio := float64(i) / float64(i-1); i > 1 && q > before*math.Pow(ratio, 6)*(1+1e-9) {
						t.Fatalf("%+v, %s: jumps from %v to %v at %v m", f, each.Method, before, q, float64(i)*step)
					}
					before = q
				}
				inverse(t, f, each, 0.9*each.Flow(0.2))
			}
		}
	}
}

// inverse holds Head against Flow.
func inverse(t *testing.T, f capacity.Fitting, r *capacity.Rating, flow float64) {
	t.Helper()
	head, err := r.Head(flow)
	if err != nil {
		t.Fatalf("%+v: %v", f, err)
	}
	if q := r.Flow(head); q < flow || q > flow*(1+1e-9) {
		t.Errorf("%+v: %v m3/s is taken at %v m, where the flow is %v", f, flow, head, q)
	}
}

func TestAFlowThatIsNeverTakenNamesTheLink(t *testing.T) {
	r := of(t, capacity.Fitting{
		Kind: capacity.Drain, Diameter: 6 * quantity.Inch,
		Leader: capacity.Section{Width: 3 * quantity.Inch}, Pipe: 4 * quantity.Inch, PipeSlope: quantity.InchPerFoot / 4,
	})
	// International Plumbing Code, Table 1106.2 (read): 87 gpm, 3 in vertical.
	if q := r.Flow(1) / gpm; !(math.Abs(q-87) <= 1e-3) {
		t.Errorf("a 3 in leader takes %v gpm, want 87", q)
	}
	var full *capacity.FullError
	if _, err := r.Head(90 * gpm); !errors.As(err, &full) || full.Link != "leader" {
		t.Errorf("%v", err)
	}
}

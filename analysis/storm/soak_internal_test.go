package storm

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/soak"
)

// routing is a storm of raw bytes on one of sixteen small roofs: which roof, which outlets are blocked and whether ponds stand at the start; then
// steps of rain, four bytes each. Water adds up, no outlet gives water back, and none stands below the ground or above the envelope.
func routing(tb testing.TB) *soak.Target {
	tb.Helper()
	var models [16]*Model
	for i := range models {
		s := shape.Build(tb, shape.Random(uint64(i), 20))
		m, err := New(s, someLaws(s, uint64(i)))
		if err != nil {
			tb.Fatal(err)
		}
		models[i] = m
	}
	g := soak.New("FuzzRoute")
	for i := range models {
		g.Add(uint8(i), uint32(i/2), []byte{10, 9, 40, 200, 20, 13, 1, 0, 30, 0, 90, 1})
	}
	g.Property = func(t *testing.T, which uint8, blocked uint32, rain []byte) {
		t.Helper()
		m := models[which%16]
		c := Case{Blocked: make([]bool, len(m.s.Outlets)), Wet: blocked>>31 > 0, Moments: []float64{0, 300, 1000, 4000}}
		for i := range c.Blocked {
			c.Blocked[i] = blocked>>(i%31)&1 > 0 && m.s.Outlets[i].Type != roof.EdgeOutlet
		}
		storm := Storm{Rain: Steps{Time: []float64{0}}, Evaporation: float64(blocked>>24&3) * 2e-8, After: 7200}
		end := 0.0
		for i := 0; i+3 < len(rain) && i < 80; i += 4 {
			// Steps of a thousandth of a second to 18 hours, rates of 0 to 1 m/h and, in one of sixteen, as thin as 1e-12 m/s.
			end += 1e-3 + float64(rain[i])*float64(rain[i])
			rate := float64(rain[i+1]) * float64(rain[i+2]) * 4e-9
			if rain[i+3]%16 == 0 {
				rate = 1e-12 * float64(rain[i+1])
			}
			storm.Rain.Time, storm.Rain.Rate = append(storm.Rain.Time, end), append(storm.Rain.Rate, rate)
		}
		r, err := m.route(storm, c)
		if len(storm.Rain.Rate) == 0 {
			return // refused or not, nothing fell
		}
		if err != nil {
			t.Fatal(err)
		}
		fallen := 0.0
		for i, rate := range storm.Rain.Rate {
			fallen += m.s.Area * rate * (storm.Rain.Time[i+1] - storm.Rain.Time[i])
		}
		if !(math.Abs(r.Fallen-fallen) <= 1e-9*fallen) || !(r.MassError <= 1e-9) || !(r.Left >= 0) || !(r.Evaporated >= 0) {
			t.Fatalf("%g m3 fell, %g wanted; error %g, left %g, evaporated %g", r.Fallen, fallen, r.MassError, r.Left, r.Evaporated)
		}
		// Flows are whole quanta of 1e-17 m3/s, so that over some days up to a billionth of a litre may be rounded away at ten places.
		rounded := 1e-12 + 1e-16*(end+storm.After)
		if in, out := r.Fallen+r.Before, r.Out+r.Evaporated+r.Left; !(math.Abs(in-out) <= 1e-9*in+rounded) {
			t.Fatalf("%v m3 came, %v went or stand there", in, out)
		}
		for i, o := range r.Outlets {
			if !(o.Volume >= 0 && o.PeakFlow >= 0) || o.Blocked && o.Volume+o.PeakFlow > 0 {
				t.Fatalf("outlet %d: %+v", i, o)
			}
		}
		for j, levels := range r.Levels {
			for v, level := range levels {
				if !(level >= m.z[v] && level <= r.Envelope[v]+1e-12) {
					t.Fatalf("vertex %d stands at %v at %v s, ground %v, envelope %v", v, level, c.Moments[j], m.z[v], r.Envelope[v])
				}
			}
		}
	}
	return g
}

func FuzzRoute(f *testing.F) { routing(f).Fuzz(f) }

func TestSoakRoute(t *testing.T) { routing(t).Soak(t) }

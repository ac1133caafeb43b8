package mend

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// TestChannelsOfAPond: of three channels the first is the change's line, the others come after it; the longest and the flattest are told. One is told as one.
func TestChannelsOfAPond(t *testing.T) {
	d := flat(t, mendtest.Lies[0], mendtest.Level)
	cuts := []channelCut{{orb.LineString{{0, 0}, {3, 4}}, 0.02}, {orb.LineString{{1, 0}, {1, 7}}, 0.01}, {orb.LineString{{2, 0}, {2, 1}}, 0.03}}
	p := &Pond{ID: "P1", Outlet: 0}
	c := d.channelled(p, cuts)
	if !slices.Equal(c.Line, cuts[0].line) || c.At != (orb.Point{}) || len(c.More) != 2 || !slices.Equal(c.More[0], cuts[1].line) || !slices.Equal(c.More[1], cuts[2].line) {
		t.Errorf("%+v", c)
	}
	for i, want := range []float64{3, 7, 0.01, channelSide} {
		mendtest.About(t, "said of three", c.What.Args[i].Value, want)
	}
	c = d.channelled(p, cuts[:1])
	if len(c.More) != 0 {
		t.Errorf("%+v", c)
	}
	for i, want := range []float64{5, 0.02, channelSide} {
		mendtest.About(t, "said of one", c.What.Args[i].Value, want)
	}
}

// TestChannelsToALoweredDrain, by hand: a low place 2 m from a drain falls to it by 1.1 times the least of valleys: the drain goes down to 22.9 mm under that place, to a tenth of a millimetre, in a sump of 4 ft, and the channel runs from the place to where it enters that, 0.6096 m before the drain. It counts for more than any sump alone. No more than 2 in are taken off: what would go deeper is not cut. Two places have a channel each.
func TestChannelsToALoweredDrain(t *testing.T) {
	d := flat(t, mendtest.Lies[0], mendtest.Level)
	o := &d.Surface.Outlets[0] // at (6, 1.5)
	least := fillRates[0] * d.Study.Criteria.MinValleySlope
	for _, c := range []struct {
		name string
		pits []orb.Point
		lows []float64
		cuts int
	}{
		{"one", []orb.Point{{6, 3.5}}, []float64{2.99}, 1},
		{"two", []orb.Point{{6, 3.5}, {8, 1.5}}, []float64{2.99, 2.991}, 2},
		{"nearly 2 in", []orb.Point{{6, 3.5}}, []float64{3 - 0.0507 + 2*least}, 1},
		{"more than 2 in", []orb.Point{{6, 3.5}}, []float64{3 - 0.0509 + 2*least}, 0},
		{"within the sump", []orb.Point{{6, 2}}, []float64{2.99}, 0},
	} {
		p := &Pond{ID: "P1", Outlet: 0, Pit: c.pits[0], low: c.lows[0], pits: c.pits, lows: c.lows, level: 3}
		m, ok := d.reached(p)
		if ok != (c.cuts > 0) {
			t.Errorf("%s: %t", c.name, ok)
		}
		if !ok {
			continue
		}
		z := math.Floor((c.lows[0]-2*least)*1e4) / 1e4
		for _, got := range m.Inverts {
			mendtest.About(t, "inlet", got, z)
		}
		mendtest.About(t, "sump", m.Sump, standard.SumpWidth)
		mendtest.About(t, "counts for", m.Area, standard.SumpWidest*standard.SumpWidest+1)
		mendtest.SamePlace(t, "begins", m.Change.Line[0], c.pits[0])
		mendtest.SamePlace(t, "enters", m.Change.Line[1], orb.Point{6, 1.5 + standard.SumpWidth/2})
		if len(m.Change.More) != c.cuts-1 {
			t.Errorf("%s: %d channels more", c.name, len(m.Change.More))
		}
		told := map[string]float64{}
		for _, q := range m.Change.What.Args {
			told[q.Name] = q.Value
		}
		mendtest.About(t, "long", told["length"], 2-standard.SumpWidth/2)
		mendtest.About(t, "falls", told["fall"], (c.lows[0]-z)/2)
		a := taper.Alter(d.Domain, d.Base)
		m.Apply(a)
		design := a.Design()
		for _, y := range []float64{1.6, 1.5 + 0.9, 3, 3.4} { // in the ring, on the sump's side and in the channel
			h, ok := design.Height(orb.Point{6, y})
			if want := math.Min(3, z+(c.lows[0]-z)*(y-1.5)/2); !ok || y > 1.9 && !(math.Abs(h-want) <= 2e-4) || y < 1.7 && !(math.Abs(h-z) <= 1e-6) {
				t.Errorf("%s: at y = %g it stands at %g, want %g", c.name, y, h, want)
			}
		}
	}
	p := &Pond{ID: "P1", Outlet: 0, Pit: orb.Point{6, 3.5}, low: 2.99, pits: []orb.Point{{6, 3.5}}, lows: []float64{2.99}, level: 3}
	o.Type = roof.Scupper
	if _, ok := d.reached(p); ok {
		t.Error("a scupper")
	}
	o.Type, p.Outlet = roof.Drain, -1
	if _, ok := d.reached(p); ok {
		t.Error("no outlet")
	}
}

// TestOntoTheRoof: from a place on an edge the direction amid all that lead onto the roof leads there, 0.3 and 0.6 m on, within 15 degrees of square to a straight edge and of the middle of a corner; where none does it is east.
func TestOntoTheRoof(t *testing.T) {
	for k, to := range mendtest.Lies {
		d := flat(t, to, mendtest.Level)
		for _, q := range []orb.Point{{0, 5}, {12, 5}, {6, 0}, {6, 10}, {0, 0}, {12, 10}} {
			p := to(q[0], q[1])
			u := d.inward(p)
			n, c := to((6-q[0])/math.Max(1, math.Abs(6-q[0])), (5-q[1])/math.Max(1, math.Abs(5-q[1]))), to(0, 0)
			if n = vector.Unit(vector.Minus(n, c)); !(vector.Dot(n, u) >= math.Cos(15.1*math.Pi/180)) {
				t.Errorf("laid %d: %v is askew from %v", k, u, q)
			}
			for _, off := range []float64{0.3, 0.6} {
				if _, ok := d.Locate.HeightAt(p[0]+off*u[0], p[1]+off*u[1]); !ok {
					t.Errorf("laid %d: %v leads off the roof from %v", k, u, q)
				}
			}
		}
		if u := d.inward(to(-90, -90)); u != (orb.Point{1, 0}) {
			t.Errorf("laid %d: %v off the roof", k, u)
		}
	}
}

// TestRiseBeforeAnEdge: on a roof that falls 2 % to an edge the spots 1 and 2 m before it between x = 4 and 7 stand 30 mm over that plane, and one at x = 9 by 1.5 mm: the first come down onto the plane over 3 m of the edge, by 30 mm; that of 1.5 mm stays, and so does what stands 3 m before the edge. Where nothing stands over the plane nothing is lowered.
func TestRiseBeforeAnEdge(t *testing.T) {
	for k, to := range mendtest.Lies {
		raised := func(x, y float64) bool { return x >= 4 && x <= 7 && y <= 3 && (y == 1 || y == 2 || y == 3) }
		d := bumps(t, to, func(x, y float64) float64 {
			switch {
			case raised(x, y):
				return 0.02*y + 0.03
			case x == 9 && y == 1:
				return 0.02*y + 0.0015
			}
			return 0.02 * y
		})
		o, n := to(0, 0), to(0, 1)
		u := orb.Point{n[0] - o[0], n[1] - o[1]}
		plane := &slope.Plane{Gradient: [2]float64{0.02 * u[0], 0.02 * u[1]}, Offset: 3 - 0.02*(u[0]*o[0]+u[1]*o[1])}
		edge := orb.LineString{to(0, 0), to(12, 0)}
		set, long, high := d.trimmed(&Pond{Pit: to(5, 4)}, edge, plane)
		if len(set) != 7 { // four at 2 m, three at 1 m: at (6, 1) there is no spot
			t.Errorf("laid %d: %d spots come down", k, len(set))
		}
		for v, z := range set {
			if h := plane.At(orb.Point{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]}); !(math.Abs(z-h) <= 1e-5) || !(math.Abs(d.Surface.TIN.Z[v]-z-0.03) <= 2e-5) {
				t.Errorf("laid %d: a spot at %g comes down to %g, the plane is at %g", k, d.Surface.TIN.Z[v], z, h)
			}
		}
		if !(math.Abs(long-3) <= 1e-4) || !(math.Abs(high-0.03) <= 1e-4) {
			t.Errorf("laid %d: over %g m, by %g m", k, long, high)
		}
		plane.Offset += 0.04
		if set, long, high := d.trimmed(&Pond{Pit: to(5, 4)}, edge, plane); set != nil || long != 0 || high != 0 {
			t.Errorf("laid %d: under the plane: %v, %g, %g", k, set, long, high)
		}
	}
}

// TestRowsOverACrest: beyond water that stands uphill of its lip the roof is read every 0.25 m across, the first row half of that in; from four rows on the line over which it spills is told. On a level roof it is even and in line.
func TestRowsOverACrest(t *testing.T) {
	for k, to := range mendtest.Lies {
		d := flat(t, to, mendtest.Level)
		o, n := to(0, 0), to(0, 1)
		up := orb.Point{n[0] - o[0], n[1] - o[1]}
		for wide, want := range map[float64]bool{0.8: false, 0.86: false, 0.89: true, 1.2: true, 4: true} {
			p := &Pond{lip: to(4, 4), Place: orb.MultiPolygon{{{to(4, 4), to(4+wide, 4), to(4+wide, 6), to(4, 6), to(4, 4)}}}}
			if ring := p.Place[0][0]; ring.Orientation() != orb.CCW {
				slices.Reverse(ring)
			}
			c, ok := d.crestOf(p, up)
			if ok != want {
				t.Errorf("laid %d, %g m wide: %t", k, wide, ok)
			}
			if ok && (c.rough > 1e-6 || !(math.Abs(c.z-3) <= 1e-5) || !(math.Abs(c.deep-2) <= 0.06)) {
				t.Errorf("laid %d, %g m wide: %+v", k, wide, c)
			}
		}
	}
}

// TestSumpOfWholeBoards, by hand: a drain with a ring of 0.15 + 0.1524 m, whose roof lies level at 3 m. Set down by as much as a place beside it lies lower, over 2 ft and an edge strip of 1 ft its sides may rise by 1 in per ft: (0.9144 - 0.3024)/12 = 51 mm; over 4 ft and 1 ft it is 101.8 mm; deeper there is no sump. The sides are no flatter than 1/2 in per ft.
func TestSumpOfWholeBoards(t *testing.T) {
	d := flat(t, mendtest.Lies[0], mendtest.Level)
	drain := d.Surface.Outlets[0].Plan
	for drop, want := range map[float64]float64{0.02: standard.SumpWidth, 0.05: standard.SumpWidth, 0.052: standard.SumpWidest, 0.1: standard.SumpWidest, 0.103: 0} {
		p := &Pond{ID: "P1", Outlet: 0, low: 3 - drop, level: 3, Pit: orb.Point{drain[0] + 0.2, drain[1]}}
		p.pits, p.lows = []orb.Point{p.Pit}, []float64{p.low}
		m, ok := d.sump(p)
		if ok != (want > 0) || ok && m.Sump != want {
			t.Errorf("down by %g m: %t, %g m wide, want %g", drop, ok, m.Sump, want)
			continue
		}
		if !ok {
			continue
		}
		mendtest.About(t, "area", m.Area, want*want)
		for _, z := range m.Inverts {
			mendtest.About(t, "inlet", z, math.Floor((3-drop)*1e4)/1e4)
		}
		a := taper.Alter(d.Domain, d.Base)
		m.Apply(a)
		design := a.Design()
		reach, ring := want/2+standard.SumpEdge, 0.15+standard.SumpRing
		side := math.Max(1.0/24, drop/(reach-ring))
		for _, off := range []float64{0, 0.2, ring, ring + 0.1, 0.7, reach - 0.01, reach + 0.05} {
			h, ok := design.Height(orb.Point{drain[0], drain[1] + off})
			if z := math.Min(3, 3-drop+side*math.Max(0, off-ring)); !ok || !(math.Abs(h-z) <= 2e-4) {
				t.Errorf("down by %g m, %g m off: %g, want %g", drop, off, h, z)
			}
		}
	}
}

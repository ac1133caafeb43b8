package inspection

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// A place without spots is told where the circle that holds none is so many times wider than the spots stand apart, and so wide [m]. On a regular grid it is 1.4 times as
// wide. Own choices. Of so many triangles, the largest, the circle is looked at.
const (
	gapWide  = 3.5
	gapLeast = 4.0
	gapTried = 64
)

// gap returns a note on the largest part of the roof that has no spot in it, away from its edges.
func (in *inspector) gap() []finding.Finding {
	wide, at := in.widest()
	if wide == 0 {
		return nil
	}
	f := blank(finding.SurveyThin, finding.Note)
	f.Size = wide
	f.What = finding.Say("No spot stands in a part of the roof {0} across. A low place there would not show.", finding.Metres("across", wide))
	f.Where = in.Places.Of(at)
	f.Measured = []finding.Quantity{finding.Metres("across", wide), finding.Metres("spacing", in.Surface.Spacing)}
	f.Why = finding.Say("Between the spots round it the surface is taken to run straight.")
	f.Do = finding.Say("Shoot spots there, as close as elsewhere.")
	f.Confidence = finding.NotResolved
	f.Geometry = at
	return []finding.Finding{f}
}

// widest returns the largest part of the roof that has no spot in it, looked for once; 0 where there is none that counts.
func (in *inspector) widest() (wide float64, at orb.Point) {
	if in.gapFound == nil {
		wide, at := widestGap(in.Surface, in.locate)
		if wide < math.Max(gapLeast, float64(gapWide*in.Surface.Spacing)) {
			wide = 0
		}
		in.gapFound = &hole{wide, at}
	}
	return in.gapFound.wide, in.gapFound.at
}

// hole is a circle that holds no spot.
type hole struct {
	wide float64 // [m]
	at   orb.Point
}

// mostHollow is the share of a plane that a circle without spots may take up: beyond it the spots stand along its border alone. Own choice.
const mostHollow = 0.25

// hollow reports whether nobody shot the inside of plane i: what its spots, which stand round it, say of it is where walls and edges lie.
func (in *inspector) hollow(i int) bool {
	wide, at := in.widest()
	if wide == 0 || math.Pi/4*float64(wide*wide) < mostHollow*in.Slopes.Planes[i].Area {
		return false
	}
	f, ok := in.locate.Locate(at[0], at[1])
	return ok && in.Slopes.Plane[f] == int32(i)
}

// widestGap returns the diameter and the middle of the widest circle round a triangle of the surface that holds no measured point, lies in the roof with its middle
// and reaches no edge with half of itself; 0 where there is none. on locates places on its TIN.
func widestGap(s *surface.Surface, on *surface.Locator) (wide float64, at orb.Point) {
	t := s.TIN
	type circle struct {
		x, y, r float64
	}
	var all []circle
	for f := range int32(t.Facets()) {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		bx, by, cx, cy := t.X[b]-t.X[a], t.Y[b]-t.Y[a], t.X[c]-t.X[a], t.Y[c]-t.Y[a]
		twice := 2 * (float64(bx*cy) - float64(by*cx))
		bb, cc := float64(bx*bx)+float64(by*by), float64(cx*cx)+float64(cy*cy)
		x, y := (float64(cy*bb)-float64(by*cc))/twice, (float64(bx*cc)-float64(cx*bb))/twice
		if r := vector.Norm(x, y); r > gapLeast/2 && r > gapWide/2*s.Spacing {
			all = append(all, circle{t.X[a] + x, t.Y[a] + y, r})
		}
	}
	slices.SortFunc(all, func(a, b circle) int {
		return cmp.Or(cmp.Compare(b.r, a.r), cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y))
	})
	tried := 0
	for _, c := range all {
		if 2*c.r <= wide || tried == gapTried {
			break
		}
		if _, ok := on.Locate(c.x, c.y); !ok { // of a sliver along an edge
			continue
		}
		tried++
		if r := emptyRound(t, c.x, c.y); 2*r > wide {
			wide, at = 2*r, orb.Point{c.x, c.y}
		}
	}
	return wide, at
}

// emptyRound returns the radius of the widest circle round a place that holds no measured point; 0 where an edge runs within half of it.
func emptyRound(t *surface.TIN, x, y float64) float64 {
	least, p := math.Inf(1), orb.Point{x, y}
	for v := range t.X {
		if !t.Assumed[v] && !t.Found[v] {
			least = math.Min(least, vector.Norm(t.X[v]-x, t.Y[v]-y))
		}
	}
	for e, o := range t.Twin {
		if o >= 0 {
			continue
		}
		a, b := t.V[e], t.End(int32(e))
		if vector.Distance(vector.Nearest([]orb.Point{{t.X[a], t.Y[a]}, {t.X[b], t.Y[b]}}, p), p) < least/2 {
			return 0
		}
	}
	return least
}

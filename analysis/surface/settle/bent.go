package settle

import (
	"math"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// When the foot of an edge whose corners alone have elevations is not taken to run straight between them: own choices. A wall across a ridge, or beside
// crickets, rises and falls between its corners, and the spots before it show that; a straight foot would make a steep strip along it.
const (
	leastBend  = 0.02 // by how much what the spots say departs from a straight line (root mean square) [m]
	bendSigmas = 4    // and in standard errors of the spots
	leastFeet  = 4    // spots before the edge that say it
	leastShare = 0.5  // of the edge that they stand along
)

// stretch is a part of the outline between two points with measured elevations, and what the spots before it say of its foot.
type stretch struct {
	n                int
	x, z, xx, zz, xz float64 // sums of where they say it, as a share of the stretch, and how high [m] above what the first says
	first            float64
	from, to         float64 // share of the stretch along which they stand
	sigma            float64 // sum of their standard errors [m]
}

// add counts a spot that tells the height of the foot [m] at a share of the stretch.
func (s *stretch) add(at, height, sigma float64) {
	if s.n == 0 {
		s.from, s.to, s.first = at, at, height
	}
	height -= s.first
	s.n++
	s.from, s.to = math.Min(s.from, at), math.Max(s.to, at)
	s.x += at
	s.z += height
	s.xx += float64(at * at)
	s.zz += float64(height * height)
	s.xz += float64(at * height)
	s.sigma += sigma
}

// bends reports whether what the spots say is no straight line.
func (s *stretch) bends() bool {
	if s.n < leastFeet || s.to-s.from < leastShare {
		return false
	}
	n := float64(s.n)
	xx, xz, zz := s.xx-float64(s.x*s.x)/n, s.xz-float64(s.x*s.z)/n, s.zz-float64(s.z*s.z)/n
	rest := math.Sqrt(math.Max(0, zz-float64(xz*xz)/xx) / n)
	return rest >= leastBend && rest >= bendSigmas*s.sigma/n
}

// bentPieces returns the pieces of the outline that lie on stretches whose foot bends, by spots within reach [m]; points between their ends lose what they had from the
// straight line. An outline that was designed runs as it is drawn.
func (d *draft) bentPieces(p *planes, reach float64) []span {
	if d.r.Outline.Elevations != roof.Measured {
		return nil
	}
	var pieces []span
	var of []int              // per piece: its stretch
	var start, long []float64 // per piece: how far along the stretch it begins; per stretch: how long it is
	for _, s := range d.spans(0, d.outline) {
		if d.how[s.a] == assumed || d.how[s.b] == assumed {
			continue
		}
		if d.how[s.a] == given || len(of) == 0 || pieces[len(pieces)-1].b != s.a {
			long = append(long, 0)
		}
		k := len(long) - 1
		pieces, of, start = append(pieces, s), append(of, k), append(start, long[k])
		long[k] += vector.Norm(float64(d.x[s.b]-d.x[s.a]), float64(d.y[s.b]-d.y[s.a]))
	}
	if len(pieces) == 0 {
		return nil
	}
	stretches := make([]stretch, len(long))
	for _, f := range d.findFeet(pieces, reach) {
		s, k := pieces[f.seg], of[f.seg]
		part := vector.Norm(f.x-float64(d.x[s.a]), f.y-float64(d.y[s.a]))
		told := p.opposite(int32(math.Round(f.x)), int32(math.Round(f.y)), f.spot)
		stretches[k].add((start[f.seg]+part)/long[k], float64(told)/geometry.PerMetre, d.sigma[f.spot])
	}
	var bent []span
	for i, s := range pieces {
		if !stretches[of[i]].bends() {
			continue
		}
		bent = append(bent, s)
		if d.how[s.a] == drawn {
			d.z[s.a], d.how[s.a] = p.at(d.x[s.a], d.y[s.a]), assumed
		}
	}
	return bent
}

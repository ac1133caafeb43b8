package place

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
)

// offWalls says how far p lies square from two walls; from one and along it where no second can be reached; empty where none can.
func (f *Finder) offWalls(p orb.Point) finding.Text {
	a := f.nearest(p, nil)
	if a == nil {
		return finding.Text{}
	}
	first := a.from(p)
	if b := f.nearest(p, a); b != nil {
		first.Format += ","
		return first.And(b.from(p))
	}
	end, along := a.From, a.along(p)
	if a.Length-along < along {
		end, along = a.To, a.Length-along
	}
	middle := a.middle()
	first.Format += ","
	return first.And(finding.Say("{0} along it from its "+vector.Compass(end[0]-middle[0], end[1]-middle[1])+" end", finding.Tape("distance", along)))
}

// from says how far p lies from the wall.
func (w *base) from(p orb.Point) finding.Text {
	away := w.Square(p)
	if away < atHand {
		return finding.Say("at").And(w.called)
	}
	return finding.Say("{0} from", finding.Tape("distance", away)).And(w.called)
}

// nearest returns the wall nearest to p that can be reached square, other than along other's line; nil where there is none.
func (f *Finder) nearest(p orb.Point, other *base) *base {
	var best *base
	least := math.Inf(1)
	for i := range f.bases {
		w := &f.bases[i]
		if other != nil && math.Abs(other.Turn(&w.Wall)) < askew {
			continue
		}
		away, along := w.Square(p), w.along(p)
		if away < -near || away >= least-1e-6 || along < -near || along > w.Length+near || f.blocked(p, &w.Wall, along) {
			continue
		}
		best, least = w, away
	}
	return best
}

// blocked reports whether the square way from p to the foot of it on w, along from its beginning, crosses another stretch of the outline.
func (f *Finder) blocked(p orb.Point, w *Wall, along float64) bool {
	k := along / w.Length
	foot := orb.Point{w.From[0] + float64(k*(w.To[0]-w.From[0])), w.From[1] + float64(k*(w.To[1]-w.From[1]))}
	for i := range f.outer {
		v := &f.outer[i]
		if v.From == w.From && v.To == w.To {
			continue
		}
		if a, b := v.Square(p), v.Square(foot); a > near && b < -near || a < -near && b > near {
			if c, d := side(p, foot, v.From), side(p, foot, v.To); c > 0 && d < 0 || c < 0 && d > 0 {
				return true
			}
		}
	}
	return false
}

// side is positive where q lies to the left of the way from a to b.
func side(a, b, q orb.Point) float64 {
	return float64((b[0]-a[0])*(q[1]-a[1])) - float64((b[1]-a[1])*(q[0]-a[0]))
}

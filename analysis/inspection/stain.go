package inspection

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
)

// Water that was seen and computed water are held to agree when most of the stain is under computed water
// and the depths differ by no more than this [m].
const (
	stainShare = 0.5
	stainDepth = 0.01
)

// stains compares standing water as seen with the computed ponds, and notes where they disagree.
func (in *inspector) stains() []finding.Finding {
	if len(in.Roof.Stains) == 0 {
		return nil
	}
	outlines := make([]orb.MultiPolygon, len(in.Ponds.Ponds))
	for p := range outlines {
		outlines[p] = in.Ponds.Outline(int32(p))
	}
	seen := make([]bool, len(outlines))
	var out []finding.Finding
	for i := range in.Roof.Stains {
		if f, ok := in.stain(&in.Roof.Stains[i], outlines, seen); ok {
			out = append(out, f)
		}
	}
	for _, i := range in.TooCoarse {
		out = append(out, in.tooCoarse(&in.Roof.Stains[i]))
	}
	for i := range in.Listed {
		if l := &in.Listed[i]; !seen[l.Pond] {
			out = append(out, in.notSeen(l))
		}
	}
	return out
}

// stain compares one stain; it marks the ponds that it touches as seen.
func (in *inspector) stain(s *roof.Stain, outlines []orb.MultiPolygon, seen []bool) (finding.Finding, bool) {
	ring := roof.PlanOf(s.Ring)
	share, pond := in.overlap(ring, outlines, seen)
	f := blank(finding.StainDiffers, finding.Note)
	middle, area := planar.CentroidArea(ring)
	f.Size = math.Abs(area)
	f.Where = in.Places.Of(middle)
	f.Geometry = orb.Polygon{ring}
	f.Confidence = finding.NotResolved
	f.Measured = []finding.Quantity{finding.Plan("area seen", math.Abs(area)), finding.Part("of it computed as under water", share)}
	switch {
	case share < stainShare:
		f.What = finding.Say("Water was seen standing where the survey shows little or none.")
		f.Why = finding.Say("Of the {0} seen, {1} is under water in this survey.", f.Measured[0], f.Measured[1])
		f.Do = finding.Say("Check whether an outlet was blocked, and shoot more spots here. A roof that sags under load is lower wet than dry.")
	case pond >= 0 && s.Depth > 0 && math.Abs(float64(s.Depth)-in.Ponds.Ponds[pond].Depth) > stainDepth:
		f.Pond = -1
		depths := []finding.Quantity{finding.MM("depth seen", float64(s.Depth)), finding.MM("depth computed", in.Ponds.Ponds[pond].Depth)}
		f.Measured = append(f.Measured, depths...)
		f.What = finding.Say("Water was seen {0} deep; the survey shows {1} when full.", depths...)
		f.Why = finding.Say("Some of it may have dried, or the roof was lower under load, or an outlet was blocked.")
		f.Do = finding.Say("Take the level of the water's edge after the next rain, and of the deepest place under it.")
	default:
		return f, false
	}
	return f, true
}

// tooCoarse notes water that was seen and whose chalked edge and depths show the pond, where the spots alone do not.
func (in *inspector) tooCoarse(s *roof.Stain) finding.Finding {
	ring := roof.PlanOf(s.Ring)
	middle, area := planar.CentroidArea(ring)
	f := blank(finding.StainDiffers, finding.Note)
	f.Size = math.Abs(area)
	f.Where, f.Geometry = in.Places.Of(middle), orb.Polygon{ring}
	f.Measured = []finding.Quantity{finding.Plan("area seen", f.Size), finding.Metres("between spots", in.Surface.Spacing)}
	f.What = finding.Say("The spots alone do not show the water that was chalked as {0}.", finding.Called(s.ID))
	f.Why = finding.Say("The spots stand too far apart here to show a pond of {0}. Elsewhere they may miss others.", f.Measured[0])
	f.Do = finding.Say("Shoot more spots here, and wherever else water was seen.")
	return f
}

// ShownBy reports whether most of a stain is under the water of ponds.
func ShownBy(s *roof.Stain, ponds *ponding.Ponds) bool {
	in := &inspector{Results: &Results{Ponds: ponds}}
	outlines := make([]orb.MultiPolygon, len(ponds.Ponds))
	for p := range outlines {
		outlines[p] = ponds.Outline(int32(p))
	}
	share, _ := in.overlap(roof.PlanOf(s.Ring), outlines, make([]bool, len(outlines)))
	return share >= stainShare
}

// overlap returns the share of a ring's area under computed water, from a grid of some four hundred places,
// and the pond that takes most of it.
func (in *inspector) overlap(ring orb.Ring, outlines []orb.MultiPolygon, seen []bool) (float64, int) {
	const steps = 20
	b := ring.Bound()
	count := make([]int, len(outlines))
	inside, wet := 0, 0
	for i := range steps {
		for j := range steps {
			p := orb.Point{
				b.Min[0] + float64((b.Max[0]-b.Min[0])*(float64(i)+0.5)/steps),
				b.Min[1] + float64((b.Max[1]-b.Min[1])*(float64(j)+0.5)/steps),
			}
			if !planar.RingContains(ring, p) {
				continue
			}
			inside++
			for k, o := range outlines {
				if o.Bound().Contains(p) && planar.MultiPolygonContains(o, p) {
					count[k]++
					wet++
					break
				}
			}
		}
	}
	best := -1
	for k, n := range count {
		if n > 0 {
			seen[k] = true
			if best < 0 || n > count[best] {
				best = k
			}
		}
	}
	return float64(wet) / float64(max(inside, 1)), best
}

// notSeen notes a computed pond where nobody saw water, on a roof on which water was recorded.
func (in *inspector) notSeen(l *Listed) finding.Finding {
	p := &in.Ponds.Ponds[l.Pond]
	f := blank(finding.StainDiffers, finding.Note)
	f.Size = p.Area
	f.What = finding.Say("The survey shows pond {0}, but no standing water was recorded there.", finding.Called(l.ID))
	f.Where = in.Places.Of(in.deepest(p))
	f.Measured = []finding.Quantity{finding.MM("depth", p.Depth), finding.Plan("area", p.Area)}
	f.Why = finding.Say("It may have dried when the roof was seen, or the spots there are in error.")
	f.Do = finding.Say("Look there after the next rain.")
	f.Confidence = finding.NotResolved
	f.Geometry = in.deepest(p)
	return f
}

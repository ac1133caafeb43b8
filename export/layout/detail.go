package layout

import (
	"math"

	"github.com/paulmach/orb"
)

const (
	mostDetails = 6
	smallPart   = 0.45 // of the roof's extent: a change that is no larger gets a detail
	apartFrom   = 2.0  // how near changes lie that share a detail [m]
	around      = 0.35 // what is shown round a change [m]

	beyondBoards = 0.1 // what is shown round the boards that are opened [m]

	widestDetail = 6.2 // so that it fits at 1:96 [m]
)

// smallShare is the share of the roof that is changed up to which the sheets show the changes, not the whole roof.
const smallShare = 0.2

// places returns the bounds of what is changed, those that lie near each other in one.
func (h *sheets) places() []orb.Bound {
	var parts []orb.Bound
	for i := range h.TakeOff.Fields {
		if on := h.design.Facets[h.TakeOff.Fields[i].Facet].Polygon; len(on) > 0 {
			parts = append(parts, on.Bound().Pad(apartFrom/2))
		}
	}
	return merged(parts)
}

// details returns the windows of small places that are changed, those that a detail shows at a scale that can be read.
func (h *sheets) details() []orb.Bound {
	if h.design == nil {
		return nil
	}
	whole := h.ring().Bound()
	extent := math.Max(whole.Max[0]-whole.Min[0], whole.Max[1]-whole.Min[1])
	var out []orb.Bound
	for _, b := range h.places() {
		w := b.Pad(around - apartFrom/2)
		for _, line := range h.option.Boards {
			if line.Bound().Intersects(w) {
				w = w.Union(line.Bound().Pad(beyondBoards))
			}
		}
		size := math.Max(w.Max[0]-w.Min[0], w.Max[1]-w.Min[1])
		if size <= smallPart*extent && size <= widestDetail && len(out) < mostDetails {
			out = append(out, w)
		}
	}
	return out
}

// merged joins bounds that overlap until none do.
func merged(parts []orb.Bound) []orb.Bound {
	for again := true; again; {
		again = false
		var out []orb.Bound
	next:
		for _, b := range parts {
			for i := range out {
				if out[i].Intersects(b) {
					out[i] = out[i].Union(b)
					again = true
					continue next
				}
			}
			out = append(out, b)
		}
		parts = out
	}
	return parts
}

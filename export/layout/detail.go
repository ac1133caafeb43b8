package layout

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/export/drawing"
	"runnel/export/drawing/scene"
)

const (
	mostDetails = 4
	smallPart   = 0.45 // of the roof's extent: a change that is no larger gets a sheet of its own
	apartFrom   = 2.0  // how near changes lie that share a sheet [m]
	around      = 1.0  // what is shown round a change [m]
)

// details returns the windows of small places that are changed.
func (h *sheets) details() []orb.Bound {
	if h.design == nil {
		return nil
	}
	var parts []orb.Bound
	for i := range h.TakeOff.Fields {
		parts = append(parts, h.design.Facets[h.TakeOff.Fields[i].Facet].Polygon.Bound().Pad(apartFrom/2))
	}
	parts = merged(parts)
	whole := h.ring().Bound()
	extent := math.Max(whole.Max[0]-whole.Min[0], whole.Max[1]-whole.Min[1])
	var out []orb.Bound
	for _, b := range parts {
		if math.Max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) <= smallPart*extent && len(out) < mostDetails {
			out = append(out, b.Pad(around-apartFrom/2))
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

// detail draws a part of the roof larger, as sheet so many of so many.
func (h *sheets) detail(window orb.Bound, number, sheet, of int) (*scene.Scene, error) {
	title := fmt.Sprintf("%s, detail %d", h.title(), number)
	options := h.Plan
	options.Scale = 0
	c, err := drawing.NewDetail(h.Book, options, title, window.ToRing(), layers...)
	if err != nil {
		return nil, err
	}
	h.draw(c)
	c.Panel(title, "Part of the layout, larger.", fmt.Sprintf("detail of the correction, %d of %d", sheet, of), h.cornersIn(c))
	return c.Scene(), nil
}

// cornersIn lists the corners in view with their new heights.
func (h *sheets) cornersIn(c *drawing.Canvas) []drawing.Section {
	s := drawing.Section{Title: "New surface at the corners, from the bench mark"}
	for i := range h.corners {
		if q := &h.corners[i]; c.InView(q.plan) {
			s.Texts = append(s.Texts, fmt.Sprintf("%d:  %s, thickness %s", i+1, h.relative(q.z), h.thickness(q.thickness)))
		}
	}
	if len(s.Texts) == 0 {
		return nil
	}
	return []drawing.Section{s, {Title: "Bench mark", Texts: []string{h.walls.Mark.What}}}
}

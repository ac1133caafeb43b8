package importer

import (
	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/surveyfile"
)

// oneSetUp refuses rods in two files whose lines of sight nobody stated: they need not be at one elevation.
func oneSetUp(sources []*source, problems *roof.Refusal) {
	first := ""
	for _, s := range sources {
		if s.draft == nil || s.draft.Tape == nil || !s.draft.Tape.Sighted {
			continue
		}
		if first == "" {
			first = s.path
			continue
		}
		surveyfile.Refuse(problems, s.path, "the rods of this file and those of "+first+" may be of different set-ups, and nobody says their lines of sight",
			"put rods of one set-up into one file, or work out elevations with runnel reduce; --hi says the line of sight of all")
	}
}

// knownBefore returns the outline and the named things of the files on a site grid that were read before s, in the unit of s.
func knownBefore(sources []*source, s *source) draft.Known {
	var k draft.Known
	for _, other := range sources {
		if other == s || other.draft == nil || other.set.Geographic {
			continue
		}
		scale := other.set.Unit.Metres() / s.set.Unit.Metres()
		scaled := func(p orb.Point) orb.Point { return orb.Point{p[0] * scale, p[1] * scale} }
		d := other.draft
		if len(d.Outlines) > 0 && k.Ring == nil {
			for _, p := range roof.PlanOf(d.Outlines[0].Rings[0]) {
				k.Ring = append(k.Ring, scaled(p))
			}
			k.Clockwise = d.Tape != nil && d.Tape.Clockwise
		}
		for i := range d.Outlets {
			k.Names = append(k.Names, draft.Name{Text: d.Outlets[i].Label, At: scaled(d.Outlets[i].Plan)})
		}
		for i := range d.Curbs {
			k.Names = append(k.Names, draft.Name{Text: d.Curbs[i].Label, At: scaled(d.Curbs[i].Ring[0].Plan)})
		}
		if d.Tape != nil {
			for i := range d.Tape.Waters {
				w := &d.Tape.Waters[i]
				k.Names = append(k.Names, draft.Name{Text: w.ID, At: scaled(w.Deepest())})
			}
		}
	}
	return k
}

// roofsBefore returns the outlines of the files in the same kind of frame that were read before s, in the unit of s: their holes and the
// curbs on them are holes.
func roofsBefore(sources []*source, s *source) []orb.Polygon {
	var roofs []orb.Polygon
	for _, other := range sources {
		if other == s || other.draft == nil || other.set.Geographic != s.set.Geographic {
			continue
		}
		scale := 1.0
		if !s.set.Geographic {
			scale = other.set.Unit.Metres() / s.set.Unit.Metres()
		}
		scaled := func(ring []roof.Position) orb.Ring {
			out := make(orb.Ring, len(ring))
			for i := range ring {
				out[i] = orb.Point{ring[i].Plan[0] * scale, ring[i].Plan[1] * scale}
			}
			return out
		}
		for i := range other.draft.Outlines {
			var p orb.Polygon
			for _, ring := range other.draft.Outlines[i].Rings {
				p = append(p, scaled(ring))
			}
			bound := p.Bound()
			for k := range other.draft.Curbs {
				if curb := scaled(other.draft.Curbs[k].Ring); bound.Intersects(curb.Bound()) {
					p = append(p, curb)
				}
			}
			roofs = append(roofs, p)
		}
	}
	return roofs
}

// degree is about a degree of latitude [m].
const degree = 111000.0

// metres returns how long the unit of a file's plan coordinates is; a degree is one of latitude.
func (s *source) metres() float64 {
	if s.set.Geographic {
		return degree
	}
	return s.set.Unit.Metres()
}

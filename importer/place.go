package importer

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/surveyfile"
)

// Widest and narrowest roofs that are believed [m]. Beyond lie site grids read as degrees, degrees read as a site grid (the widest roof is a fiftieth of a
// degree wide), and wrong units.
const (
	maxGeographic = 2000.0
	maxLocal      = 5000.0
	minLocal      = 0.1
)

// placer brings plan coordinates of every file into the metric frame of the roof.
type placer struct {
	frame    roof.Frame
	home     *source       // of the outline
	tie      *tie          // site grid to map, nil where no control points tie them
	site     quantity.Unit // of the site grid, for control points
	warnings []string
}

// newPlacer makes the frame about the outline. It returns nil where the frames of the files cannot be brought
// together; problems says why.
func newPlacer(sources []*source, outline *draft.Outline, home *source, problems *roof.Refusal) *placer {
	centre := roof.PlanOf(outline.Rings[0]).Bound().Center()
	p := &placer{home: home, site: siteUnit(sources, home)}
	if home.set.Geographic {
		const digits = 1e5 // about a metre
		p.frame = roof.NewGeographic(orb.Point{math.Round(centre[0]*digits) / digits, math.Round(centre[1]*digits) / digits})
	} else {
		p.frame = roof.NewLocal(orb.Point{math.Floor(centre[0]), math.Floor(centre[1])}, home.set.Unit)
	}
	if !p.believed(outline, problems) {
		return nil
	}
	controls := []roof.Control{}
	for _, s := range sources {
		controls = append(controls, s.draft.Controls...)
	}
	p.tie, p.warnings = fitTie(controls, p.site, problems)
	for _, s := range sources {
		if s.set.Geographic != home.set.Geographic && p.tie == nil && len(problems.Problems) == 0 && !s.onlyControls() {
			surveyfile.Refuse(problems, s.path, fmt.Sprintf("the file is in frame %s, the outline in frame %s", s.frameName(), home.frameName()),
				"add at least two control points that are known in both, or bring the files into one frame")
		}
	}
	return p
}

// onlyControls reports whether a file holds control points and nothing that must be placed by them.
func (s *source) onlyControls() bool {
	d := s.draft
	return len(d.Controls) > 0 &&
		len(d.Outlines)+len(d.Edges)+len(d.Spots)+len(d.Breaklines)+len(d.Curbs)+len(d.Outlets)+len(d.Cores)+len(d.Stains)+len(d.Sills)+len(d.Answers) == 0
}

// siteUnit returns the unit of the site grid: that of the outline's file, or of the first file that is on a site
// grid, or of the outline's file for want of one.
func siteUnit(sources []*source, home *source) quantity.Unit {
	if home.set.Geographic {
		for _, s := range sources {
			if !s.set.Geographic {
				return s.set.Unit
			}
		}
	}
	return home.set.Unit
}

// believed refuses an outline that is wider or narrower than any roof.
func (p *placer) believed(outline *draft.Outline, problems *roof.Refusal) bool {
	bound := orb.MultiPoint{}
	for _, q := range outline.Rings[0] {
		bound = append(bound, p.frame.ToLocal(q.Plan))
	}
	size := bound.Bound()
	width := math.Max(size.Right()-size.Left(), size.Top()-size.Bottom())
	if width < minLocal && !p.home.set.Geographic {
		problems.Add(roof.Problem{
			Origin: outline.Origin, Rule: fmt.Sprintf("the outline is %.3g mm wide", width*1000),
			Mend: "if these are longitudes and latitudes, say --frame wgs84, or name the columns lon and lat; else state the unit of the file: it was read in " + p.home.set.Unit.String(),
		})
		return false
	}
	limit, mend := maxLocal, "state the unit of the file: it was read in "+p.home.set.Unit.String()
	if p.home.set.Geographic {
		limit, mend = maxGeographic, "if these are site coordinates and no degrees, say --frame local"
	}
	if width <= limit {
		return true
	}
	problems.Add(roof.Problem{
		Origin: outline.Origin,
		Rule:   fmt.Sprintf("the outline is %.4g km wide as longitude and latitude", width/1000), Mend: mend,
	})
	if !p.home.set.Geographic {
		problems.Problems[len(problems.Problems)-1].Rule = fmt.Sprintf("the outline is %.4g km wide", width/1000)
	}
	return false
}

// place returns the place in the roof's frame of a place in the coordinates of s.
func (p *placer) place(s *source, at orb.Point) orb.Point {
	switch {
	case s.set.Geographic && p.home.set.Geographic:
		return p.frame.ToLocal(at)
	case s.set.Geographic:
		return p.fromSite(p.tie.toSite(at))
	case p.home.set.Geographic:
		return p.frame.ToLocal(p.tie.frame.ToFile(p.tie.forward(metres(at, s.set.Unit))))
	case s.set.Unit == p.home.set.Unit:
		return p.frame.ToLocal(at)
	}
	return p.fromSite(metres(at, s.set.Unit))
}

// fromSite returns the place in the roof's frame of a place in metres of the site grid.
func (p *placer) fromSite(at orb.Point) orb.Point {
	origin := metres(p.frame.Origin, p.home.set.Unit)
	return orb.Point{at[0] - origin[0], at[1] - origin[1]}
}

// control returns the place in the roof's frame of a control point.
func (p *placer) control(c *roof.Control) orb.Point {
	if p.home.set.Geographic {
		return p.frame.ToLocal(orb.Point{c.Lon, c.Lat})
	}
	return p.fromSite(metres(c.Plan, p.site))
}

// metres returns a place of a site grid in metres.
func metres(at orb.Point, unit quantity.Unit) orb.Point {
	return orb.Point{float64(at[0] * unit.Metres()), float64(at[1] * unit.Metres())}
}

// onRing reports whether p lies inside of ring, or within reach of it.
func onRing(ring orb.Ring, p orb.Point, reach float64) bool {
	if !ring.Bound().Pad(reach).Contains(p) {
		return false
	}
	return planar.RingContains(ring, p) || planar.DistanceFrom(orb.LineString(ring), p) <= reach
}

// Package summary writes what a check found as one JSON object: the numbers a script or a table needs,
// under the same names as in the GeoJSON.
package summary

import (
	"io"

	"runnel/export/caution"
	"runnel/export/model"
	"runnel/export/record"
)

// Schema names the layout of the summary; it changes when a name or a meaning does.
const Schema = "runnel-summary-1"

// Write writes the summary of m, indented, to w.
func Write(w io.Writer, m *model.Model) error { return Build(m).WriteJSON(w) }

// Build returns the summary of m.
func Build(m *model.Model) *record.Object {
	b, s := m.Book, m.Book.Study
	o := &record.Object{}
	o.Text("schema", Schema)
	raw(o, "roof", roof(b))
	inputs(o, b)
	o.Text("practice", b.Study.Criteria.Practice.String())
	raw(o, "options", options(b))
	if b.Run.Command != "" {
		raw(o, "run", b.Run.Object())
	}
	if b.Proposed {
		o.Text("status", caution.Design)
	}
	o.Text("units", b.Units.String())
	keepOff(o, b)
	b.Units.Area(o, "area", b.Area)
	b.Units.Area(o, "undrained", b.Undrained)
	b.Units.Area(o, "indeterminate", s.Flow.Indeterminate)
	o.Int("facets", s.Surface.TIN.Facets())
	o.Share("below_min_share", s.Slopes.BelowMinShare)
	o.Share("assumed_share", s.Surface.AssumedShare)
	raw(o, "survey", survey(b))
	o.List("outlets", len(s.Surface.Outlets), func(p *record.Object, i int) {
		p.Text("id", b.Names.Outlets[i])
		b.Outlet(p, i)
	})
	o.List("ponds", len(s.Listed), func(p *record.Object, i int) {
		p.Text("id", b.Names.Ponds[s.Listed[i].Pond])
		b.Pond(p, i)
	})
	raw(o, "ponds_unresolved", unresolved(b))
	lowPlaces(o, b)
	o.List("shares", len(s.Catchments.Shares), b.Share)
	raw(o, "shallow_ponds", shallow(b))
	if s.RainLoad != nil && s.RainLoad.Deepest >= 0 {
		raw(o, "rain_load", built(b.RainLoad))
	}
	if len(s.Sills) > 0 {
		o.List("sills", len(s.Sills), b.Sill)
	}
	if s.Storm != nil {
		raw(o, "storm", built(b.Storm))
	}
	if len(s.Roof.Cores) > 0 {
		raw(o, "assembly", built(b.Assembly))
	}
	if len(b.NextSpots) > 0 {
		o.List("next_spots", len(b.NextSpots), func(p *record.Object, i int) {
			p.Text("id", b.Names.NextSpot(i))
			b.NextSpot(p, i)
		})
	}
	o.List("findings", len(s.Findings), func(p *record.Object, i int) {
		p.Text("id", b.Names.Finding(i))
		b.Finding(p, i)
	})
	texts(o, "cautions", m.Cautions)
	texts(o, "warnings", m.Warnings)
	return o
}

// keepOff says whether people are to keep off the roof, and why, the worst thing known of it, and what to do first.
func keepOff(o *record.Object, b *record.Book) {
	off := b.Off()
	o.Bool("keep_off", off.Is())
	o.List("keep_off_reasons", len(off.Reasons), func(p *record.Object, i int) {
		p.Text("hazard", string(off.Reasons[i].Hazard))
		p.Text("what", b.Units.SayText(off.Reasons[i].What))
	})
	if all := b.Study.Findings; len(all) > 0 {
		worst := &record.Object{}
		worst.Text("finding", b.Names.Finding(0))
		worst.Text("severity", all[0].Severity.String())
		worst.Int("rank", b.Study.Rank)
		raw(o, "worst", worst)
	}
	o.Text("headline", b.Lead().Text)
	if steps := b.Steps(); len(steps) > 0 {
		o.Text("first_step", steps[0].Say())
	}
}

// built returns the object that add fills.
func built(add func(o *record.Object)) *record.Object {
	var o record.Object
	add(&o)
	return &o
}

func roof(b *record.Book) *record.Object {
	var o record.Object
	o.Text("id", b.Names.Roof)
	o.Text("name", b.Study.Roof.Name)
	o.Text("building", b.Study.Roof.Building)
	o.Text("surveyed", b.Study.Roof.Surveyed)
	record.Visit(&o, &b.Study.Roof.Visit)
	return &o
}

func inputs(o *record.Object, b *record.Book) {
	in := b.Study.Roof.Inputs
	o.List("inputs", len(in), func(p *record.Object, i int) {
		p.Text("path", in[i].Path)
		p.Text("format", in[i].Format)
		p.Text("units", in[i].Units)
		p.Text("frame", in[i].Frame)
		for _, role := range []string{
			"outline", "edge", "spot", "breakline", "curb", "outlet", "core", "stain", "sill", "control", "answer",
		} {
			if n := in[i].Counts[role]; n > 0 {
				p.Int(role+"_count", n)
			}
		}
	})
}

// options are the criteria in force.
func options(b *record.Book) *record.Object {
	var o record.Object
	c, u := b.Study.Criteria, b.Units
	u.Slope(&o, "min_slope", c.MinSlope)
	u.Slope(&o, "min_slope_new", c.MinSlopeNew)
	u.Slope(&o, "min_valley_slope", c.MinValleySlope)
	u.Depth(&o, "pond_depth", c.PondDepth)
	u.Depth(&o, "pond_depth_wide", c.PondDepthWide)
	u.Area(&o, "pond_wide", c.WideArea)
	u.Length(&o, "near_outlet", c.NearOutlet)
	u.Length(&o, "max_travel", record.Positive(c.MaxTravel))
	u.Depth(&o, "contour", c.Contour)
	u.Rain(&o, "rain_primary", record.Positive(c.RainPrimary))
	u.Rain(&o, "rain_overflow", record.Positive(c.RainOverflow))
	u.Depth(&o, "overflow_height", record.Positive(c.OverflowStated))
	return &o
}

func survey(b *record.Book) *record.Object {
	var o record.Object
	s := &b.Study.Survey
	o.Int("spots", s.Spots)
	if m := b.Study.Means; m != nil {
		o.Int("points", m.Points)
		b.Units.Length(&o, "cell", m.Size)
	}
	b.Units.Length(&o, "spacing", s.Spacing)
	if s.Sigma > 0 {
		b.Units.Depth(&o, "sigma", s.Sigma)
		o.Bool("sigma_stated", s.SigmaStated)
		o.Flag("sigma_usual", s.SigmaUsual)
		b.Units.Depth(&o, "file_offset", record.Positive(s.Offset))
	}
	o.Int("ties", s.Ties)
	return &o
}

// unresolved sums up the ponds that the error of the survey alone can make.
func unresolved(b *record.Book) *record.Object {
	var o record.Object
	q := &b.Study.Unresolved
	o.Int("count", q.Count)
	b.Units.Depth(&o, "deepest", q.Depth)
	b.Units.Area(&o, "area", q.Area)
	if q.AtLevel > 0 {
		o.Int("shown_at_level", q.AtLevel)
	}
	return &o
}

// lowPlaces adds what the shape alone tells where nobody surveyed the outlets.
func lowPlaces(o *record.Object, b *record.Book) {
	low := b.Study.LowPlaces
	if low == nil {
		return
	}
	var p record.Object
	p.Int("count", low.Count)
	b.Units.Depth(&p, "deepest", low.Depth)
	b.Units.Area(&p, "area", low.Area)
	b.Units.Volume(&p, "volume", low.Volume)
	raw(o, "low_places", &p)
}

func shallow(b *record.Book) *record.Object {
	var o record.Object
	s := &b.Study.Shallow
	o.Int("count", s.Count)
	b.Units.Area(&o, "area", s.Area)
	b.Units.Volume(&o, "volume", s.Volume)
	b.Units.Depth(&o, "depth", s.Depth)
	return &o
}

func raw(o *record.Object, name string, value *record.Object) { o.Raw(name, value.Append(nil)) }

// texts adds an array of texts, empty where there are none.
func texts(o *record.Object, name string, values []string) {
	if len(values) == 0 {
		o.Raw(name, []byte("[]"))
		return
	}
	o.Texts(name, values)
}

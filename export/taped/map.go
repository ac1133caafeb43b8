package taped

import (
	"io"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/tape"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/palette"
	"runnel/export/record"
)

// decimals of lengths in a file's unit.
const decimals = 6

// atlas draws the map.
type atlas struct {
	*Book
	*layer.Pen
	props *record.Object // of the feature that is open
}

// WriteMap writes what was measured and seen as GeoJSON, in the frame and unit of the outline. Measured things carry their role, so that the file
// can be read back.
func WriteMap(w io.Writer, b *Book) error {
	r := b.Survey.Roof
	return geojson.Draw(w, r.Name, r.Frame, r.Units, func(p *layer.Pen) {
		a := &atlas{Book: b, Pen: p}
		a.outline()
		a.ponds()
		a.curbs()
		a.edges()
		a.outlets()
		a.heights()
		a.cores()
		a.next()
		a.findings()
	})
}

// open begins a feature; a measured thing has a role.
func (a *atlas) open(layer, id, title, role string) {
	a.props = a.Open(layer, id, title)
	a.props.Text("role", role)
}

// own adds a length that a role defines, in the file's unit.
func (a *atlas) own(name string, metres float64) {
	a.props.Number(name, metres/a.Survey.Roof.Units.Metres(), decimals)
}

func (a *atlas) outline() {
	r := a.Survey.Roof
	a.open("outline", "outline", r.Name, "outline")
	rings := make([]orb.Ring, len(r.Outline.Rings))
	for i := range rings {
		rings[i] = roof.PlanOf(r.Outline.Rings[i])
	}
	a.Polygon(rings...)
	a.props.Text("name", r.Name)
	a.props.Text("building", r.Building)
	a.props.Text("surveyed", r.Surveyed)
	record.Visit(a.props, &r.Visit)
	if !r.Outline.EdgeAssumed {
		a.props.Text("edge", r.Outline.Edge.String())
	}
	a.props.Text("tier", a.Survey.Tier.String())
	a.Units.Area(a.props, "area", a.Survey.Area)
	a.Close(layer.Style{Stroke: palette.Ink, Width: 2})
}

// ponds writes every pond that was seen twice: what was worked out as a pond, and what was seen as a stain, which can be read back.
func (a *atlas) ponds() {
	for i := range a.Survey.Ponds {
		p := &a.Survey.Ponds[i]
		if p.Water == nil {
			continue
		}
		a.open("pond", p.ID, a.pond(p), "")
		a.Polygon(p.Bowl.Ring)
		a.pondObject(a.props, p)
		a.Close(layer.Style{Stroke: palette.Water, Width: 1, Fill: palette.Water, Opacity: 0.4})
		a.open("stain", "stain-"+p.ID, p.ID+" as seen", "stain")
		a.Polygon(p.Bowl.Ring)
		if p.Depth > 0 {
			a.own("depth", p.Depth)
		}
		a.props.Number("hours_since_rain", record.Where(p.Water.HoursSinceRain >= 0, p.Water.HoursSinceRain), 2)
		if p.Water.Outlets != roof.OutletsUnknown {
			a.props.Bool("outlets_clear", p.Water.Outlets == roof.OutletsClear)
		}
		a.props.Text("note", p.Water.Note)
		a.Close(layer.Style{})
		for k, d := range p.Bowl.Soundings {
			a.open("sounding", p.ID+"-D"+strconv.Itoa(k+1), "depth "+a.Units.SayDepth(d.Depth), "")
			a.Point(d.Plan)
			a.props.Text("pond", p.ID)
			a.Units.Depth(a.props, "depth", d.Depth)
			a.Close(layer.Style{})
		}
	}
}

func (a *atlas) curbs() {
	for i := range a.Survey.Roof.Curbs {
		c := &a.Survey.Roof.Curbs[i]
		a.open("curb", c.ID, "curb "+c.Label, "curb")
		a.Polygon(roof.PlanOf(c.Ring))
		a.props.Text("label", c.Label)
		if c.Height > 0 {
			a.own("height", float64(c.Height))
		}
		a.Close(layer.Style{Stroke: palette.Ink, Width: 1})
	}
}

func (a *atlas) edges() {
	for i := range a.Survey.Roof.Edges {
		e := &a.Survey.Roof.Edges[i]
		a.open("edge", e.ID, e.Type.String()+" edge "+e.Label, "edge")
		a.Line(roof.PlanOf(e.Line))
		a.props.Text("type", e.Type.String())
		a.props.Text("label", e.Label)
		if e.Height > 0 {
			a.own("height", float64(e.Height))
		}
		a.Close(layer.Style{Stroke: palette.Ink, Width: 3})
	}
}

func (a *atlas) outlets() {
	for i := range a.Survey.Exits {
		e := &a.Survey.Exits[i]
		if e.Outlet < 0 {
			continue
		}
		o := &a.Survey.Roof.Outlets[e.Outlet]
		a.open("outlet", o.ID, e.Name, "outlet")
		a.Point(o.Plan)
		a.exitObject(a.props, i)
		if o.HasInvert {
			a.own("invert", o.Invert)
		}
		for _, k := range []struct {
			name   string
			metres float64
		}{
			{"diameter", float64(o.Diameter)},
			{"bowl", float64(o.Bowl)},
			{"dam_height", float64(o.DamHeight)},
			{"width", float64(o.Width)},
			{"opening_height", float64(o.OpeningHeight)},
		} {
			if k.metres > 0 {
				a.own(k.name, k.metres)
			}
		}
		a.Close(layer.Style{Marker: map[roof.Duty]string{roof.Primary: palette.Primary, roof.Overflow: palette.Overflow}[e.Duty]})
	}
}

// heights writes what was read for ponds and every spot as spots.
func (a *atlas) heights() {
	spot := func(id, title string, p roof.Position) {
		a.open("spot", id, title, "spot")
		a.Point(p.Plan)
		a.own("elevation", p.Z)
		a.Close(layer.Style{})
	}
	for i := range a.Survey.Roof.Spots {
		s := &a.Survey.Roof.Spots[i]
		spot(s.ID, "spot "+s.ID, s.Position)
	}
	for i := range a.Survey.Roof.Tape.Probes {
		q := &a.Survey.Roof.Tape.Probes[i]
		if name := tape.ProbeName(q); name != "" {
			spot("R"+strconv.Itoa(i+1), name, q.Position)
		}
	}
}

// cores writes each core as it was read, with what it says.
func (a *atlas) cores() {
	for i := range a.Survey.Roof.Cores {
		c := &a.Survey.Roof.Cores[i]
		a.open("core", c.ID, "core "+c.ID, "core")
		a.Point(c.Plan)
		if len(c.Layers) > 0 {
			a.props.Raw("layers", layer.CoreLayers(c.Layers, a.Survey.Roof.Units.Metres()))
		}
		a.props.Text("deck", c.Deck)
		a.props.Text("cutter", c.Cutter)
		a.props.Text("reached", c.Reached)
		a.coreObject(a.props, i)
		a.Close(layer.Style{Marker: palette.Part})
	}
}

func (a *atlas) next() {
	for i := range a.Survey.Next {
		n := &a.Survey.Next[i]
		a.open("next-spot", "X"+strconv.Itoa(i+1), a.Units.SayText(n.For), "")
		a.Point(n.Plan)
		a.props.Text("code", n.Code)
		a.props.Text("place", a.Place(n))
		a.Close(layer.Style{})
	}
}

func (a *atlas) findings() {
	for i := range a.Survey.Findings {
		f := &a.Survey.Findings[i]
		at, ok := f.Geometry.(orb.Point)
		if !ok {
			at = roof.PlanOf(a.Survey.Roof.Outline.Rings[0]).Bound().Center()
		}
		a.open("finding", FindingID(i), a.Units.SayText(f.What), "")
		a.Point(at)
		a.findingObject(a.props, f)
		a.Close(layer.Style{Marker: palette.OfSeverity(f.Severity)})
	}
}

package taped

import (
	"io"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/palette"
	"runnel/export/record"
)

// decimals of coordinates in a file's unit.
const decimals = 6

// atlas writes one FeatureCollection in the frame and unit of the outline.
type atlas struct {
	*Book
	buf   []byte
	any   bool
	props record.Object
}

// WriteMap writes what was measured and seen as GeoJSON. Measured things carry their role, so that the file can be read back.
func WriteMap(w io.Writer, b *Book) error {
	a := &atlas{Book: b}
	a.text(`{"type":"FeatureCollection","name":`)
	a.buf = record.AppendString(a.buf, b.Survey.Roof.Name)
	a.text(`,"frame":"local","units":"` + b.Survey.Roof.Units.String() + `","features":[`)
	a.outline()
	a.ponds()
	a.curbs()
	a.edges()
	a.outlets()
	a.heights()
	a.next()
	a.findings()
	a.text("\n]}\n")
	_, err := w.Write(a.buf)
	return err
}

func (a *atlas) text(s string) { a.buf = append(a.buf, s...) }

// open begins a feature; its properties begin with layer, id and title, and with the role of a measured thing.
func (a *atlas) open(layer, id, title, role string) {
	if a.any {
		a.text(",")
	}
	a.any = true
	a.text("\n" + `{"type":"Feature","id":`)
	a.buf = record.AppendString(a.buf, id)
	a.text(`,"geometry":`)
	a.props.Reset()
	a.props.Text("layer", layer)
	a.props.Text("id", id)
	a.props.Text("title", title)
	a.props.Text("role", role)
}

func (a *atlas) close() {
	a.text(`,"properties":`)
	a.buf = a.props.Append(a.buf)
	a.text("}")
}

func (a *atlas) position(p orb.Point) {
	q := a.Survey.Roof.Frame.ToFile(p)
	a.text("[")
	a.buf = record.AppendNumber(a.buf, q[0], decimals)
	a.text(",")
	a.buf = record.AppendNumber(a.buf, q[1], decimals)
	a.text("]")
}

func (a *atlas) point(p orb.Point) {
	a.text(`{"type":"Point","coordinates":`)
	a.position(p)
	a.text("}")
}

func (a *atlas) line(l []orb.Point) {
	a.text(`{"type":"LineString","coordinates":`)
	a.positions(l)
	a.text("}")
}

func (a *atlas) positions(l []orb.Point) {
	a.text("[")
	for i, p := range l {
		if i > 0 {
			a.text(",")
		}
		a.position(p)
	}
	a.text("]")
}

func (a *atlas) polygon(rings ...orb.Ring) {
	a.text(`{"type":"Polygon","coordinates":[`)
	for i, r := range rings {
		if i > 0 {
			a.text(",")
		}
		a.positions(r)
	}
	a.text("]}")
}

// own adds a length that a role defines, in the file's unit.
func (a *atlas) own(name string, metres float64) {
	a.props.Number(name, metres/a.Survey.Roof.Units.Metres(), decimals)
}

func (a *atlas) stroke(colour string, width float64) {
	a.props.Text("stroke", colour)
	a.props.Number("stroke-width", width, 1)
}

func (a *atlas) outline() {
	r := a.Survey.Roof
	a.open("outline", "outline", r.Name, "outline")
	rings := make([]orb.Ring, len(r.Outline.Rings))
	for i := range rings {
		rings[i] = roof.PlanOf(r.Outline.Rings[i])
	}
	a.polygon(rings...)
	a.props.Text("name", r.Name)
	a.props.Text("building", r.Building)
	a.props.Text("surveyed", r.Surveyed)
	record.Visit(&a.props, &r.Visit)
	if !r.Outline.EdgeAssumed {
		a.props.Text("edge", r.Outline.Edge.String())
	}
	a.props.Text("tier", a.Survey.Tier.String())
	a.Units.Area(&a.props, "area", a.Survey.Area)
	a.stroke(palette.Ink, 2)
	a.close()
}

// ponds writes every pond that was seen twice: what was worked out as a pond, and what was seen as a stain, which can be read back.
func (a *atlas) ponds() {
	for i := range a.Survey.Ponds {
		p := &a.Survey.Ponds[i]
		if p.Water == nil {
			continue
		}
		a.open("pond", p.ID, a.pond(p), "")
		a.polygon(p.Bowl.Ring)
		a.pondObject(&a.props, p)
		a.stroke(palette.Water, 1)
		a.props.Text("fill", palette.Water)
		a.props.Number("fill-opacity", 0.4, 1)
		a.close()
		a.open("stain", "stain-"+p.ID, p.ID+" as seen", "stain")
		a.polygon(p.Bowl.Ring)
		if p.Depth > 0 {
			a.own("depth", p.Depth)
		}
		if p.Water.HoursSinceRain >= 0 {
			a.props.Number("hours_since_rain", p.Water.HoursSinceRain, 2)
		}
		if p.Water.Outlets != roof.OutletsUnknown {
			a.props.Bool("outlets_clear", p.Water.Outlets == roof.OutletsClear)
		}
		a.props.Text("note", p.Water.Note)
		a.close()
		for k, d := range p.Bowl.Soundings {
			a.open("sounding", p.ID+"-D"+strconv.Itoa(k+1), "depth "+a.Units.SayDepth(d.Depth), "")
			a.point(d.Plan)
			a.props.Text("pond", p.ID)
			a.Units.Depth(&a.props, "depth", d.Depth)
			a.close()
		}
	}
}

func (a *atlas) curbs() {
	for i := range a.Survey.Roof.Curbs {
		c := &a.Survey.Roof.Curbs[i]
		a.open("curb", c.ID, "curb "+c.Label, "curb")
		a.polygon(roof.PlanOf(c.Ring))
		a.props.Text("label", c.Label)
		if c.Height > 0 {
			a.own("height", float64(c.Height))
		}
		a.stroke(palette.Ink, 1)
		a.close()
	}
}

func (a *atlas) edges() {
	for i := range a.Survey.Roof.Edges {
		e := &a.Survey.Roof.Edges[i]
		a.open("edge", e.ID, e.Type.String()+" edge "+e.Label, "edge")
		a.line(roof.PlanOf(e.Line))
		a.props.Text("type", e.Type.String())
		a.props.Text("label", e.Label)
		if e.Height > 0 {
			a.own("height", float64(e.Height))
		}
		a.stroke(palette.Ink, 3)
		a.close()
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
		a.point(o.Plan)
		a.exitObject(&a.props, i)
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
		a.props.Text("marker-color", map[roof.Duty]string{roof.Primary: palette.Primary, roof.Overflow: palette.Overflow}[e.Duty])
		a.close()
	}
}

// heights writes what was read for ponds and every spot as spots.
func (a *atlas) heights() {
	spot := func(id, title string, p roof.Position) {
		a.open("spot", id, title, "spot")
		a.point(p.Plan)
		a.own("elevation", p.Z)
		a.close()
	}
	for i := range a.Survey.Roof.Spots {
		s := &a.Survey.Roof.Spots[i]
		spot(s.ID, "spot "+s.ID, s.Position)
	}
	for i := range a.Survey.Roof.Tape.Probes {
		q := &a.Survey.Roof.Tape.Probes[i]
		if q.Kind != roof.InletProbe {
			spot("R"+strconv.Itoa(i+1), map[roof.ProbeKind]string{roof.LowProbe: "lowest place of P" + q.Of, roof.LipProbe: "lip of P" + q.Of, roof.BeforeProbe: "before " + q.Of}[q.Kind], q.Position)
		}
	}
}

func (a *atlas) next() {
	for i := range a.Survey.Next {
		n := &a.Survey.Next[i]
		a.open("next-spot", "X"+strconv.Itoa(i+1), a.Units.SayText(n.For), "")
		a.point(n.Plan)
		a.props.Text("code", n.Code)
		a.props.Text("place", a.Place(n))
		a.close()
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
		a.point(at)
		a.findingObject(&a.props, f)
		a.props.Text("marker-color", map[finding.Severity]string{finding.Urgent: palette.Urgent, finding.Repair: palette.Repair, finding.Note: palette.Note}[f.Severity])
		a.close()
	}
}

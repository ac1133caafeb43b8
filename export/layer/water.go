package layer

import (
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/export/palette"
	"runnel/export/record"
)

func countCatchments(b *record.Book) int {
	c := b.Study.Catchments
	return len(c.Dry) + len(c.Full)
}

// catchments writes both views. Area with no way out is no catchment: its finding draws it.
func (w *builder) catchments() {
	c := w.book.Study.Catchments
	h := w.heights()
	for i := range c.Dry {
		d := &c.Dry[i]
		w.catchment(d, w.book.Names.End(d.Outlet, d.Pond), ".dry", "dry", w.book.Dry[i], i, h)
	}
	for i := range c.Full {
		f := &c.Full[i]
		w.catchment(f, w.book.Names.End(f.Outlet, f.Pond), ".full", "full", w.book.Full[i], i, h)
	}
}

func (w *builder) catchment(c *catchment.Catchment, end, suffix, when string, area float64, turn int, h height) {
	title := "Drains to " + end
	if when == "full" {
		title += " with ponds full"
	}
	if end == "" {
		end, title = w.book.Names.Roof, "Drains nowhere"
	}
	u := w.book.Units
	w.open("catchment", end+suffix, title+", "+u.SayArea(c.Area))
	w.polygons(c.Outline, h)
	w.props.Text("outlet", w.book.Names.End(c.Outlet, c.Pond))
	w.props.Text("when", when)
	u.Area(&w.props, "area", area)
	if c.Indeterminate > 0 {
		u.Area(&w.props, "indeterminate", c.Indeterminate)
	}
	s := Style{Name: "ponds full", Stroke: palette.Areas[2], Width: 1, Fill: palette.Areas[turn%len(palette.Areas)], Opacity: 0.3}
	if when == "dry" {
		s.Name, s.Class, s.Fill, s.Opacity = "dry", 1, s.Stroke, 0
	}
	w.close(s)
}

func (w *builder) flowpaths() {
	u := w.book.Units
	for i := range w.book.Study.Catchments.Longest {
		p := &w.book.Study.Catchments.Longest[i]
		when := choose.If(p.Full, "full", "dry")
		end := w.book.Names.End(p.Outlet, -1)
		w.open("flowpath", fmt.Sprintf("%s.W%02d", w.book.Names.Roof, i+1), "Longest way to "+end+", "+u.SayLength(p.Travel))
		w.line(p.Line, func(k int) (float64, bool) { return p.Elevations[k], true })
		w.props.Text("outlet", end)
		w.props.Text("when", when)
		u.Length(&w.props, "travel", p.Travel)
		u.Depth(&w.props, "drop", p.Drop)
		if p.Travel > 0 {
			u.Slope(&w.props, "slope", p.Drop/p.Travel)
		}
		w.close(pathStyle)
	}
}

func (w *builder) ponds() {
	s := w.book.Study
	for i := range s.Listed {
		p := &s.Ponds.Ponds[s.Listed[i].Pond]
		title := fmt.Sprintf("Pond %s: %s deep, %s, %s", s.Listed[i].ID, w.book.SayPondDepth(i), w.book.SayPondArea(i), w.book.SayPondWeight(i))
		w.open("pond", w.book.Names.Ponds[s.Listed[i].Pond], title)
		w.polygons(s.Ponds.Outline(s.Listed[i].Pond), at(p.Level))
		w.book.Pond(&w.props, i)
		w.close(pondStyle(p.Depth, w.book.Units))
	}
}

func countLips(b *record.Book) int {
	n := 0
	for _, l := range b.Study.Listed {
		if b.Study.Ponds.Ponds[l.Pond].Lip >= 0 {
			n++
		}
	}
	return n
}

func (w *builder) lips() {
	s := w.book.Study
	u := w.book.Units
	for _, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		if p.Lip < 0 {
			continue
		}
		w.open("lip", w.book.Names.Lip(int(l.Pond)), fmt.Sprintf("Lip of %s, %s above its lowest point", l.ID, u.SayDepth(p.Depth)))
		w.point(orb.Point{s.Surface.Cut.X[p.Lip], s.Surface.Cut.Y[p.Lip]}, at(p.Level))
		w.props.Text("pond", w.book.Names.Ponds[l.Pond])
		u.Length(&w.props, "level", p.Level)
		u.Depth(&w.props, "rise", p.Depth)
		w.close(lipStyle)
	}
}

func (w *builder) outlets() {
	s := w.book.Study
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		title := fmt.Sprintf("%s (%s, %s) takes %s", o.Label, record.OutletType(o), o.Duty.String(), w.book.SayCatchment(i))
		w.open("outlet", w.book.Names.Outlets[i], title)
		if len(o.Line) > 1 {
			h := w.vertexHeights(o.Vertices)
			w.line(o.Line, func(k int) (float64, bool) { return h(o.Line[k]) })
		} else {
			w.point(o.Plan, at(w.book.Invert(o)))
		}
		w.book.Outlet(&w.props, i)
		st := outletStyle
		st.Name = o.Duty.String()
		if o.Duty == roof.Overflow {
			st.Marker = palette.Overflow
		}
		if len(o.Line) > 1 {
			st = Style{Name: st.Name, Stroke: st.Marker, Width: 5}
		}
		if o.Source < 0 {
			w.close(st)
			continue
		}
		w.outletInput(&s.Roof.Outlets[o.Source], o.InvertAssumed)
		w.closeInput(&s.Roof.Outlets[o.Source].Feature, st,
			"diameter", "bowl", "dam_height", "width", "opening_height", "dam_diameter", "crest_breadth", "leader", "pipe", "conductor_head", "invert", "elevation")
	}
}

// outletInput adds what was measured of a drain or scupper, in the file's unit.
func (w *builder) outletInput(o *roof.Outlet, assumed bool) {
	w.props.Text("role", "outlet")
	if o.HasInvert && !assumed {
		w.props.Number("invert", o.Invert/w.grid.rise, 6)
	}
	w.length("diameter", o.Diameter)
	w.length("dam_height", o.DamHeight)
	w.length("dam_diameter", o.DamDiameter)
	w.length("opening_height", o.OpeningHeight)
	if o.Type == roof.Scupper {
		w.length("width", o.Width)
		w.props.Flag("width_assumed", o.WidthAssumed)
		w.props.Text("crest", o.Crest.String())
		w.length("crest_breadth", o.CrestBreadth)
	} else {
		w.length("bowl", o.Bowl)
	}
	w.length("conductor_head", o.ConductorHead)
	w.leader(o.Leader)
	w.length("pipe", o.Pipe)
	if o.PipeSlope > 0 {
		w.props.Text("pipe_slope", string(record.AppendNumber(nil, float64(o.PipeSlope)*100, 6))+" %")
	}
	w.props.Text("discharges_to", o.DischargesTo)
}

// leader adds the size of a vertical pipe, in the file's unit: one number, or width and depth as a text.
func (w *builder) leader(p roof.Pipe) {
	w.length("leader", p.Diameter)
	if p.Width > 0 && p.Depth > 0 {
		text := record.AppendNumber(nil, float64(p.Width)/w.grid.rise, 6)
		text = append(text, " x "...)
		w.props.Text("leader", string(record.AppendNumber(text, float64(p.Depth)/w.grid.rise, 6)))
	}
}

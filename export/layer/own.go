package layer

import (
	"encoding/json"
	"iter"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/gjson"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// Measured things go out with their role, what the roof knows of them, and their own properties as
// they were read. Lengths among them are written in the unit that the file states.

// openInput begins a measured feature.
func (w *builder) openInput(role, title string, f *roof.Feature) {
	w.open(role, w.book.Names.Input(role, f.ID), title)
	w.props.Text("role", role)
}

// closeInput adds the feature's own properties that are not yet there, and ends it. Names in except
// are lengths, which are written by length alone: their own text may be in another file's unit.
func (w *builder) closeInput(f *roof.Feature, s Style, except ...string) {
	w.own(f.Properties, except)
	w.close(s)
}

// styleKeys are written by style alone.
var styleKeys = []string{"stroke", "stroke-width", "stroke-opacity", "fill", "fill-opacity", "marker-color", "marker-size"}

func (w *builder) own(properties json.RawMessage, except []string) {
	if len(properties) == 0 {
		return
	}
	gjson.ParseBytes(properties).ForEach(func(key, value gjson.Result) bool {
		name := key.String()
		if value.Type == gjson.Null || w.props.Has(name) || slices.Contains(except, name) || slices.Contains(styleKeys, name) {
			return true
		}
		w.props.Raw(name, json.RawMessage(value.Raw))
		return true
	})
}

// length adds a length that a role defines, in the file's unit; zero means not given.
func (w *builder) length(name string, l quantity.Length) {
	if l != 0 {
		w.props.Number(name, float64(l)/w.grid.rise, 6)
	}
}

// elevation adds the elevation of a point feature: by itself where the coordinates carry none, and in
// the reader's unit.
func (w *builder) elevation(z float64, known bool) {
	if !known {
		return
	}
	if w.grid.Geographic {
		w.props.Number("elevation", z/w.grid.rise, 6)
	}
	w.book.Units.Length(&w.props, "elevation", z)
}

// elevations adds the elevations of a line's positions where their coordinates carry none, in the unit of "elevation": "31.42; -; 31.5", a dash
// where there is none. It is one text because properties are flat.
func (w *builder) elevations(line []roof.Position) {
	if !w.grid.Geographic || !slices.ContainsFunc(line, func(p roof.Position) bool { return p.HasZ }) {
		return
	}
	var text []byte
	for i, p := range line {
		if i > 0 {
			text = append(text, "; "...)
		}
		if p.HasZ {
			text = record.AppendNumber(text, p.Z/w.grid.rise, 6)
		} else {
			text = append(text, '-')
		}
	}
	w.props.Text("elevations", string(text))
}

// positions sets a line or ring of measured positions.
func (w *builder) positions(ps []roof.Position) {
	for i := range ps {
		w.position(ps[i].Plan, measured(&ps[i]))
	}
}

func measured(p *roof.Position) height { return func(orb.Point) (float64, bool) { return p.Z, p.HasZ } }

func (w *builder) measuredPolygon(rings ...[]roof.Position) {
	for _, r := range rings {
		w.positions(r)
		w.shape.Rings = append(w.shape.Rings, len(w.shape.Positions))
	}
	w.endPolygon()
}

func (w *builder) measuredLine(line []roof.Position) {
	w.shape.Kind = Line
	w.positions(line)
}

func (w *builder) outline() {
	s := w.book.Study
	o := &s.Roof.Outline
	w.open("outline", w.book.Names.Roof, "Roof "+s.Roof.Name+", "+w.book.Units.SayArea(s.Surface.Area))
	w.measuredPolygon(o.Rings...)
	w.props.Text("role", "outline")
	w.props.Text("name", s.Roof.Name)
	w.props.Text("building", s.Roof.Building)
	w.props.Text("surveyed", s.Roof.Surveyed)
	if !o.EdgeAssumed {
		w.props.Text("edge", o.Edge.String())
	}
	w.props.Flag("edge_assumed", o.EdgeAssumed)
	if o.NoOutlets {
		w.props.Text("outlets", "none")
	}
	w.props.Text("elevations", o.Elevations.String())
	w.book.Units.Area(&w.props, "area", w.book.Area)
	w.props.Share("assumed_share", s.Surface.AssumedShare)
	if q := &s.Unresolved; q.Count > 0 {
		w.props.Int("ponds_unresolved", q.Count)
		w.book.Units.Depth(&w.props, "unresolved_deepest", q.Depth)
		w.book.Units.Area(&w.props, "unresolved_area", q.Area)
	}
	w.length("sigma", s.Roof.Sigma)
	w.framing(&s.Roof.Structure)
	w.props.Text("wall_runoff", s.Roof.WallRunoff)
	record.Visit(&w.props, &s.Roof.Visit)
	w.closeInput(&o.Feature, outlineStyle, "sigma", "member_span", "member_spacing", "load_limit")
}

// framing adds what was stated of the structure, as it is read back.
func (w *builder) framing(s *roof.Structure) {
	w.props.Number("member_direction", record.Where(s.HasDirection, s.MemberDirection), 6)
	w.length("member_span", s.MemberSpan)
	w.length("member_spacing", s.MemberSpacing)
	if s.LoadLimit > 0 {
		w.props.Text("load_limit", string(record.AppendNumber(nil, s.LoadLimit, 6))+" Pa")
	}
	w.props.Text("load_limit_by", s.LoadLimitBy)
}

func (w *builder) spots() {
	spots := w.book.Study.Roof.Spots
	for i := w.from; i < w.to; i++ {
		s := &spots[i]
		w.openInput("spot", "Spot "+s.ID+", "+w.book.Units.SayElevation(s.Z), &s.Feature)
		w.point(s.Plan, measured(&s.Position))
		w.elevation(s.Z, s.HasZ)
		w.length("sigma", s.Sigma)
		if s.Assumed {
			w.props.Flag("assumed", true)
		}
		w.closeInput(&s.Feature, spotStyle, "sigma", "elevation")
	}
}

func (w *builder) curbs() {
	for c := range each(w.book.Study.Roof.Curbs) {
		w.openInput("curb", titled("Curb", c.Label, c.ID), &c.Feature)
		w.measuredPolygon(c.Ring)
		w.props.Text("label", c.Label)
		w.length("height", c.Height)
		w.closeInput(&c.Feature, curbStyle, "height")
	}
}

func (w *builder) breaklines() {
	for l := range each(w.book.Study.Roof.Breaklines) {
		kind := l.Type.String()
		w.openInput("breakline", titled("Breakline", kind, l.ID), &l.Feature)
		w.measuredLine(l.Line)
		w.props.Text("type", kind)
		w.elevations(l.Line)
		w.closeInput(&l.Feature, breaklineStyle, "elevations")
	}
}

func (w *builder) edges() {
	for e := range each(w.book.Study.Roof.Edges) {
		kind := e.Type.String()
		w.openInput("edge", titled("Edge, "+kind, e.Label, e.ID), &e.Feature)
		w.measuredLine(e.Line)
		w.props.Text("type", kind)
		w.props.Text("label", e.Label)
		if e.Type != roof.Wall {
			w.props.Text("duty", e.Duty.String())
		}
		w.length("height", e.Height)
		w.length("adjoining_height", e.AdjoiningHeight)
		w.closeInput(&e.Feature, edgeStyle, "height", "adjoining_height")
	}
}

func (w *builder) cores() {
	cores := w.book.Study.Roof.Cores
	for i := range cores {
		c := &cores[i]
		w.openInput("core", w.coreTitle(i), &c.Feature)
		w.point(c.Plan, measured(&c.Position))
		w.elevation(c.Z, c.HasZ)
		if len(c.Layers) > 0 {
			w.props.Raw("layers", CoreLayers(c.Layers, w.grid.rise))
		}
		w.props.Text("deck", c.Deck)
		w.props.Text("cutter", c.Cutter)
		w.props.Text("reached", c.Reached)
		w.book.Core(&w.props, i)
		w.closeInput(&c.Feature, coreStyle, "elevation", "layers")
	}
}

// CoreLayers writes a core's layers, top first, in a unit of so many metres.
func CoreLayers(layers []roof.Layer, unit float64) json.RawMessage {
	text := []byte{'['}
	for i := range layers {
		if i > 0 {
			text = append(text, ',')
		}
		var o record.Object
		o.Text("material", layers[i].Material)
		o.Number("thickness", float64(layers[i].Thickness)/unit, 9) // so that inches written in feet read back the same
		o.Text("condition", layers[i].Condition)
		text = o.Append(text)
	}
	return append(text, ']')
}

func (w *builder) stains() {
	for s := range each(w.book.Study.Roof.Stains) {
		w.openInput("stain", stainTitle(s), &s.Feature)
		w.measuredPolygon(s.Ring)
		w.length("depth", s.Depth)
		w.props.Number("hours_since_rain", record.Where(s.HoursSinceRain >= 0, s.HoursSinceRain), 2)
		if s.Outlets != roof.OutletsUnknown {
			w.props.Bool("outlets_clear", s.Outlets == roof.OutletsClear)
		}
		w.props.Text("note", s.Note)
		w.props.Text("photo", s.Photo)
		w.closeInput(&s.Feature, stainStyle, "depth")
	}
}

func (w *builder) sills() {
	for s := range each(w.book.Study.Roof.Sills) {
		kind := s.Kind.String()
		what := choose.If(kind != "", "Sill, "+kind, "Sill")
		w.openInput("sill", titled(what, s.Label, s.ID), &s.Feature)
		w.point(s.Plan, measured(&s.Position))
		w.elevation(s.Z, s.HasZ)
		w.props.Text("kind", kind)
		w.props.Text("label", s.Label)
		w.closeInput(&s.Feature, sillStyle, "elevation")
	}
}

func (w *builder) controls() {
	for c := range each(w.book.Study.Roof.Controls) {
		w.openInput("control", "Control point "+c.ID, &c.Feature)
		w.point(c.Plan, unknown)
		w.props.Number("lon", c.Lon, 10)
		w.props.Number("lat", c.Lat, 10)
		w.closeInput(&c.Feature, controlStyle)
	}
}

// answers are those of engineers and others; one about the whole roof stands at a corner of its outline.
func (w *builder) answers() {
	for a := range each(w.book.Study.Roof.Answers) {
		w.openInput("answer", "Answer of "+a.By+", "+a.On+": "+a.Text, &a.Feature)
		at := a.Plan
		if !a.Placed {
			at = w.book.Study.Roof.Outline.Rings[0][0].Plan
		}
		w.point(at, unknown)
		w.props.Text("question", a.Question)
		w.props.Text("answer", a.Text)
		w.props.Text("by", a.By)
		w.props.Text("on", a.On)
		if a.Number > 0 {
			w.props.Int("number", a.Number)
		}
		w.closeInput(&a.Feature, controlStyle)
	}
}

// each yields what a list holds, in order, to be read where it lies.
func each[T any](list []T) iter.Seq[*T] {
	return func(yield func(*T) bool) {
		for i := range list {
			if !yield(&list[i]) {
				return
			}
		}
	}
}

// titled writes "Curb 3", or "Curb RTU-1" where it has a label.
func titled(what, label, id string) string {
	return choose.If(label != "", what+" "+label, what+" "+id)
}

// stainTitle writes "Standing water as seen 3", or "Standing water as seen: after two days" where something was noted.
func stainTitle(s *roof.Stain) string {
	return choose.If(s.Note != "", "Standing water as seen: "+s.Note, "Standing water as seen "+s.ID)
}

package layer

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/palette"
	"runnel/export/record"
)

// Outline is one roof of a campus: where it lies, and its headline numbers.
type Outline struct {
	ID, Title  string
	Frame      roof.Frame
	Units      quantity.Unit
	Rings      [][]roof.Position // none when the roof could not be read
	Properties *record.Object
	Worst      finding.Severity // of its findings
	Any        bool             // it has findings
}

// EachOutline hands one feature a roof to take: with local in site coordinates of that unit, each roof in its own; without, in longitude
// and latitude. A roof of the other kind has no shape.
func EachOutline(roofs []Outline, local bool, unit quantity.Unit, take func(*Feature)) {
	w := &builder{take: take}
	for i := range roofs {
		w.roof(&roofs[i], local, unit)
	}
}

// roof makes one roof of a campus.
func (w *builder) roof(o *Outline, local bool, unit quantity.Unit) {
	w.open("outline", o.ID, o.Title)
	if len(o.Rings) > 0 && (o.Frame.Kind == roof.Local) == local {
		w.grid = NewGrid(o.Frame, o.Units)
		if local && o.Units != unit {
			w.grid = NewGrid(inUnit(o.Frame, unit), unit)
		}
		w.outlineRings(o.Rings)
	}
	w.props.Join(o.Properties)
	w.close(outlineStyleOf(o))
}

// LocalUnit returns the unit of a file of these roofs in site coordinates: theirs where they agree, else
// metres.
func LocalUnit(roofs []Outline) quantity.Unit {
	unit := quantity.Unstated
	for i := range roofs {
		o := &roofs[i]
		switch {
		case len(o.Rings) == 0 || o.Frame.Kind != roof.Local:
		case unit == quantity.Unstated:
			unit = o.Units
		case unit != o.Units:
			return quantity.Metres
		}
	}
	if unit == quantity.Unstated {
		return quantity.Metres
	}
	return unit
}

// inUnit returns a local frame whose file is in another unit.
func inUnit(f roof.Frame, unit quantity.Unit) roof.Frame {
	k := f.Metres / unit.Metres()
	return roof.NewLocal(orb.Point{f.Origin[0] * k, f.Origin[1] * k}, unit)
}

// outlineRings sets measured rings in two dimensions.
func (w *builder) outlineRings(rings [][]roof.Position) {
	p := make(orb.Polygon, len(rings))
	for i, ring := range rings {
		for k := range ring {
			p[i] = append(p[i], ring[k].Plan)
		}
	}
	w.polygons(orb.MultiPolygon{p}, unknown)
}

func outlineStyleOf(o *Outline) Style {
	s := Style{Stroke: palette.Ink, Width: 2, Fill: palette.Primary, Opacity: 0.2}
	if !o.Any {
		return s
	}
	s.Opacity = 0.6
	switch o.Worst {
	case finding.Urgent:
		s.Fill = palette.Urgent
	case finding.Repair:
		s.Fill = palette.Repair
	case finding.Note:
		s.Fill = palette.Note
	}
	return s
}

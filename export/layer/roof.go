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
	Rings      orb.Polygon // in the metric frame; none when the roof could not be read
	Properties *record.Object
	Worst      finding.Severity // of its findings
	Any        bool             // it has findings
}

// Roofs returns what makes one feature a roof and hands it to take: with local in site coordinates of that unit, each roof in its own;
// without, in longitude and latitude. A roof of the other kind has no shape.
func Roofs(local bool, unit quantity.Unit, take func(*Feature)) func(*Outline) {
	w := &builder{take: take}
	return func(o *Outline) { w.roof(o, local, unit) }
}

// CampusGrid returns the grid of a file of roofs.
func CampusGrid(local bool, unit quantity.Unit) *Grid {
	if local {
		return newGrid(roof.Frame{}, unit)
	}
	return newGrid(roof.Frame{Kind: roof.Geographic}, quantity.Metres)
}

// roof makes one roof of a campus.
func (w *builder) roof(o *Outline, local bool, unit quantity.Unit) {
	w.open("outline", o.ID, o.Title)
	if len(o.Rings) > 0 && (o.Frame.Kind == roof.Local) == local {
		w.grid = newGrid(o.Frame, o.Units)
		if local && o.Units != unit {
			w.grid = newGrid(inUnit(o.Frame, unit), unit)
		}
		w.polygons(orb.MultiPolygon{o.Rings}, unknown)
	}
	w.props.Join(o.Properties)
	w.close(outlineStyleOf(o))
}

// inUnit returns a local frame whose file is in another unit.
func inUnit(f roof.Frame, unit quantity.Unit) roof.Frame {
	k := f.Metres / unit.Metres()
	return roof.NewLocal(orb.Point{f.Origin[0] * k, f.Origin[1] * k}, unit)
}

func outlineStyleOf(o *Outline) Style {
	s := Style{Name: "no finding", Class: 1, Stroke: palette.Ink, Width: 2, Fill: palette.Primary, Opacity: 0.2}
	if !o.Any {
		return s
	}
	s.Name, s.Class, s.Opacity = o.Worst.String(), -int(o.Worst), 0.6
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

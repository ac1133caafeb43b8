package layer

import (
	"runnel/export/palette"
	"runnel/export/record"
)

// Style is how a feature is drawn, in the terms of simplestyle 1.1.0; empty parts are left out.
type Style struct {
	Name    string // what the look means where a layer has several, as the key of a map says it
	Class   int    // its place in the key
	Stroke  string
	Width   float64
	Fill    string
	Opacity float64 // of the fill
	Marker  string  // colour
	Size    string  // small, medium, large
}

// AddTo adds the parts of a style to a feature's facts: stroke, stroke-width, fill, fill-opacity, marker-color and marker-size, as simplestyle
// calls them, with another sign than the hyphen where a format wants one.
func (s *Style) AddTo(o *record.Object, hyphen string) {
	if s.Stroke != "" {
		o.Text("stroke", s.Stroke)
		o.Number("stroke"+hyphen+"width", s.Width, 2)
	}
	if s.Fill != "" {
		o.Text("fill", s.Fill)
		o.Number("fill"+hyphen+"opacity", s.Opacity, 2)
	}
	o.Text("marker"+hyphen+"color", s.Marker)
	o.Text("marker"+hyphen+"size", s.Size)
}

// Styles of the layers; a colour that depends on the feature is set where the feature is written.
var (
	outlineStyle   = Style{Stroke: palette.Ink, Width: 3, Fill: palette.Ink, Opacity: 0}
	curbStyle      = Style{Stroke: palette.Ink, Width: 1.5, Fill: palette.Ink, Opacity: 0.35}
	edgeStyle      = Style{Stroke: palette.Ink, Width: 5}
	breaklineStyle = Style{Stroke: palette.Ink, Width: 1}
	planeStyle     = Style{Name: "least slope or more", Stroke: palette.Ink, Width: 0.5, Fill: palette.Note, Opacity: 0}
	contourStyle   = Style{Stroke: palette.Level, Width: 1}
	valleyStyle    = Style{Stroke: palette.Gather, Width: 3}
	ridgeStyle     = Style{Stroke: palette.Part, Width: 2}
	pathStyle      = Style{Stroke: palette.Way, Width: 2}
	stainStyle     = Style{Stroke: palette.Water, Width: 1, Fill: palette.Water, Opacity: 0.15}
	lipStyle       = Style{Marker: palette.Water, Size: "small"}
	spotStyle      = Style{Marker: palette.Level, Size: "small"}
	coreStyle      = Style{Marker: palette.Part, Size: "medium"}
	nextCoreStyle  = Style{Marker: palette.Part, Size: "small"}
	nextSpotStyle  = Style{Marker: palette.Level, Size: "medium"}
	controlStyle   = Style{Marker: palette.Ink, Size: "medium"}
	sillStyle      = Style{Marker: palette.Ink, Size: "small"}
	outletStyle    = Style{Marker: palette.Primary, Size: "large"}
)

// pondStyle shades a pond by its greatest depth [m], in the classes of the plan.
func pondStyle(depth float64, u record.Units) Style {
	s := Style{Stroke: palette.Water, Width: 2, Fill: palette.Water}
	for i, c := range record.DepthClasses(u) {
		if i == 0 || depth > c.From {
			s.Name, s.Class, s.Opacity = c.Name, i, c.Strength
		}
	}
	return s
}

// facetStyle colours a facet by its slope, in the classes of the map.
func facetStyle(slope float64, u record.Units) Style {
	k := palette.SteepnessOf(slope)
	return Style{Name: steepnessName(k, u), Class: k, Stroke: palette.Level, Width: 0.3, Fill: palette.Steepness[k], Opacity: 0.5}
}

// steepnessName says which slopes class k holds.
func steepnessName(k int, u record.Units) string {
	limits, unit := [...]string{"0.5", "1.0", "1.6", "3.1"}, " %"
	if u == record.US {
		limits, unit = [...]string{"1/16", "1/8", "3/16", "3/8"}, " in per ft"
	}
	switch k {
	case 0:
		return "under " + limits[0] + unit
	case len(limits):
		return limits[k-1] + unit + " and over"
	}
	return limits[k-1] + " to " + limits[k] + unit
}

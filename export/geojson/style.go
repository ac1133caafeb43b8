package geojson

import (
	"runnel/export/palette"
	"runnel/export/record"
)

// style is how a feature is drawn, in the keys of simplestyle 1.1.0; empty parts are left out.
type style struct {
	stroke  string
	width   float64
	fill    string
	opacity float64 // of the fill
	marker  string  // colour
	size    string  // small, medium, large
}

// add adds the keys of s to a feature's properties.
func (s style) add(o *record.Object) {
	if s.stroke != "" {
		o.Text("stroke", s.stroke)
		o.Number("stroke-width", s.width, 2)
	}
	if s.fill != "" {
		o.Text("fill", s.fill)
		o.Number("fill-opacity", s.opacity, 2)
	}
	o.Text("marker-color", s.marker)
	o.Text("marker-size", s.size)
}

// Styles of the layers; a colour that depends on the feature is set where the feature is written.
var (
	outlineStyle   = style{stroke: palette.Ink, width: 3, fill: palette.Ink, opacity: 0}
	curbStyle      = style{stroke: palette.Ink, width: 1.5, fill: palette.Ink, opacity: 0.35}
	edgeStyle      = style{stroke: palette.Ink, width: 5}
	breaklineStyle = style{stroke: palette.Ink, width: 1}
	planeStyle     = style{stroke: palette.Ink, width: 0.5, fill: palette.Note, opacity: 0}
	contourStyle   = style{stroke: palette.Level, width: 1}
	valleyStyle    = style{stroke: palette.Gather, width: 3}
	ridgeStyle     = style{stroke: palette.Part, width: 2}
	pathStyle      = style{stroke: palette.Way, width: 2}
	pondStyle      = style{stroke: palette.Water, width: 2, fill: palette.Water, opacity: 0.6}
	stainStyle     = style{stroke: palette.Water, width: 1, fill: palette.Water, opacity: 0.15}
	lipStyle       = style{marker: palette.Water, size: "small"}
	spotStyle      = style{marker: palette.Level, size: "small"}
	coreStyle      = style{marker: palette.Part, size: "medium"}
	nextCoreStyle  = style{marker: palette.Part, size: "small"}
	nextSpotStyle  = style{marker: palette.Level, size: "medium"}
	controlStyle   = style{marker: palette.Ink, size: "medium"}
	sillStyle      = style{marker: palette.Ink, size: "small"}
	outletStyle    = style{marker: palette.Primary, size: "large"}
)

package geojson

import "runnel/export/record"

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
	outlineStyle   = style{stroke: Ink, width: 3, fill: Ink, opacity: 0}
	curbStyle      = style{stroke: Ink, width: 1.5, fill: Ink, opacity: 0.35}
	edgeStyle      = style{stroke: Ink, width: 5}
	breaklineStyle = style{stroke: Ink, width: 1}
	planeStyle     = style{stroke: Ink, width: 0.5, fill: Note, opacity: 0}
	contourStyle   = style{stroke: Level, width: 1}
	valleyStyle    = style{stroke: Gather, width: 3}
	ridgeStyle     = style{stroke: Part, width: 2}
	pathStyle      = style{stroke: Way, width: 2}
	pondStyle      = style{stroke: Water, width: 2, fill: Water, opacity: 0.6}
	stainStyle     = style{stroke: Water, width: 1, fill: Water, opacity: 0.15}
	lipStyle       = style{marker: Water, size: "small"}
	spotStyle      = style{marker: Level, size: "small"}
	coreStyle      = style{marker: Part, size: "medium"}
	controlStyle   = style{marker: Ink, size: "medium"}
	outletStyle    = style{marker: Primary, size: "large"}
)

package geopackage

import (
	"cmp"
	"fmt"
	"slices"

	"runnel/export/palette"
)

// label is what stands beside the features of a table: the value of a column, or an expression of it.
type label struct {
	column, expression, colour string
}

// labels by table; of those of one table the first whose column there is. Depths stand to the millimetre or a tenth of an inch,
// elevations to the millimetre or a hundredth of a foot.
var labels = map[string][]label{
	"pond": {
		{"depth_mm", `round("depth_mm") || ' mm'`, palette.Water},
		{"depth_in", `round("depth_in", 1) || ' in'`, palette.Water},
	},
	"contour": {
		{"elevation_m", `round("elevation_m", 3)`, palette.Level},
		{"elevation_ft", `round("elevation_ft", 2)`, palette.Level},
	},
	"outlet":      {{column: "label", colour: palette.Ink}},
	"outlet_line": {{column: "label", colour: palette.Ink}},
	"curb":        {{column: "label", colour: palette.Ink}},
	"sill":        {{column: "label", colour: palette.Ink}},
	"core":        {{column: "id", colour: palette.Part}},
	"next_core":   {{column: "id", colour: palette.Part}},
	"next_spot":   {{column: "id", colour: palette.Ink}},
	"roof":        {{column: "name", colour: palette.Ink}},
	"roof_local":  {{column: "name", colour: palette.Ink}},
}

// placements are where a label stands, by kind of shape, as QGIS numbers them: in order round a point, along a line, level in an area.
var placements = map[string]string{"LINESTRING": `placement="2" placementFlags="1" priority="2"`, "MULTIPOLYGON": `placement="4" priority="9"`}

// labeling returns the labels of a table, empty where it has none.
func (t *table) labeling() string {
	of := labels[t.name]
	i := slices.IndexFunc(of, func(l label) bool { _, ok := t.byName[l.column]; return ok })
	if i < 0 {
		return ""
	}
	name, isExpression := t.columns[t.byName[of[i].column]].name, "0"
	if of[i].expression != "" {
		name, isExpression = of[i].expression, "1"
	}
	placement := cmp.Or(placements[t.kind], `placement="6" dist="1" distUnits="MM" priority="7"`)
	return fmt.Sprintf(`<labeling type="simple"><settings calloutType="simple"><text-style%s isExpression="%s" fontSize="9" fontSizeUnit="Point" fontWeight="50" textColor="%s" textOpacity="1">`+
		`<text-buffer bufferDraw="1" bufferSize="0.8" bufferSizeUnits="MM" bufferColor="255,255,255,255" bufferOpacity="1"/></text-style>`+
		`<placement %s/></settings></labeling>`, attribute("fieldName", name), isExpression, rgba(of[i].colour, 1), placement)
}

package geopackage

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/export/layer"
	"runnel/export/palette"
	"runnel/export/record"
)

// Styles as QGIS reads them: QML, the form of its style files, in the column styleQML. Viewers that know it take it before the SLD, and it
// says what SLD cannot: names in the key, labels and the shapes of marks. Properties stand as <prop>, which versions before 3.26 write and
// later ones still read. Source: QGIS user guide, "QGIS style file (QML)" and "Saving and sharing layer properties"; names of elements and
// properties as in files that QGIS 3.22 wrote, and tried in that version.

// pixel is the width that simplestyle's pixel takes on a screen or sheet [mm]: 96 an inch, as CSS has it.
const pixel = 25.4 / 96

// marks are the shapes of points by layer; others are discs.
var marks = map[string]string{
	"spot": "cross", "next_spot": "cross2", "core": "square", "next_core": "square", "control": "triangle", "answer": "triangle", "sill": "half_square", "lip": "diamond",
}

// qmlKinds are the kinds of symbol, and of layer in one, by kind of shape.
var qmlKinds = map[string][2]string{"POINT": {"marker", "SimpleMarker"}, "LINESTRING": {"line", "SimpleLine"}, "MULTIPOLYGON": {"fill", "SimpleFill"}}

// qml returns the styles of a table: one symbol where there is one style without a name, else a rule for each; with labels, and the
// title as what lists of features show.
func (t *table) qml() string {
	kind, ok := qmlKinds[t.kind]
	if !ok {
		kind = qmlKinds["POINT"]
	}
	var rules, symbols strings.Builder
	t.order()
	keys := t.differing()
	for i := range t.styles {
		s := &t.styles[i]
		if len(t.styles) > 1 || s.Name != "" {
			fmt.Fprintf(&rules, `<rule key="%d" symbol="%d"%s%s/>`, i+1, i, attribute("filter", expression(s, keys)), attribute("label", s.Name))
		}
		fmt.Fprintf(&symbols, `<symbol name="%d" type="%s" alpha="1" clip_to_extent="1" force_rhr="0"><layer class="%s" enabled="1" locked="0" pass="0">%s</layer></symbol>`,
			i, kind[0], kind[1], t.properties(kind[0], s))
	}
	renderer := `<renderer-v2 type="singleSymbol" forceraster="0" symbollevels="0" enableorderby="0">`
	if rules.Len() > 0 {
		renderer = `<renderer-v2 type="RuleRenderer" forceraster="0" symbollevels="0" enableorderby="0"><rules key="0">` + rules.String() + `</rules>`
	}
	labeling := t.labeling()
	enabled := choose.If(labeling != "", "1", "0")
	return `<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>` + "\n" +
		`<qgis version="3.22.0" styleCategories="Symbology|Labeling|MapTips" labelsEnabled="` + enabled + `">` +
		renderer + `<symbols>` + symbols.String() + `</symbols></renderer-v2>` + labeling +
		`<previewExpression>"title"</previewExpression></qgis>`
}

// attribute writes an attribute of an element, nothing where it is empty.
func attribute(name, value string) string {
	if value == "" {
		return ""
	}
	return " " + name + `="` + escaped(value) + `"`
}

// expression picks the features of a style.
func expression(s *layer.Style, keys []string) string {
	var parts []string
	o := facts(s)
	for _, key := range keys {
		value := o.Value(key)
		switch f := o.Fact(key); {
		case f == nil:
			parts = append(parts, `"`+key+`" IS NULL`)
			continue
		case f.Kind == record.TextFact:
			value = "'" + value + "'"
		}
		parts = append(parts, `"`+key+`" = `+value)
	}
	return strings.Join(parts, " AND ")
}

// properties are those of the one layer of a symbol.
func (t *table) properties(kind string, s *layer.Style) string {
	var b strings.Builder
	set := func(key, value string) { b.WriteString(`<prop k="` + key + `" v="` + value + `"/>`) }
	width := millimetres(s.Width)
	switch kind {
	case "line":
		set("line_color", rgba(s.Stroke, 1))
		set("line_width", width)
		set("line_width_unit", "MM")
		set("line_style", "solid")
		set("capstyle", "round")
		set("joinstyle", "round")
	case "fill":
		set("color", rgba(s.Fill, s.Opacity))
		style := choose.If(s.Opacity == 0, "no", "solid")
		set("style", style)
		set("outline_color", rgba(s.Stroke, 1))
		set("outline_width", width)
		set("outline_width_unit", "MM")
		set("outline_style", "solid")
		set("joinstyle", "round")
	default:
		name := cmp.Or(marks[t.name], "circle")
		set("name", name)
		set("color", rgba(s.Marker, 1))
		edge := palette.Ink
		if strings.HasPrefix(name, "cross") { // has no area
			edge = s.Marker
		}
		set("outline_color", rgba(edge, 1))
		set("outline_width", "0.2")
		set("outline_width_unit", "MM")
		set("size", millimetres(markerSize(s)))
		set("size_unit", "MM")
	}
	return b.String()
}

func millimetres(pixels float64) string { return strconv.FormatFloat(pixels*pixel, 'f', 2, 64) }

// rgba writes a colour "#RRGGBB" as four numbers up to 255.
func rgba(colour string, opacity float64) string {
	n, _ := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32) // the palette's own; black where it is none
	return fmt.Sprintf("%d,%d,%d,%d", n>>16&255, n>>8&255, n&255, int(math.Round(255*opacity)))
}

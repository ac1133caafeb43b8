package geopackage

import (
	"cmp"
	"encoding/xml"
	"math"
	"slices"
	"strconv"
	"strings"

	"runnel/export/layer"
	"runnel/export/record"
)

// style keeps a style that occurs, in the decimals in which columns hold it. One that looks like a known one and is called otherwise takes
// its name away: it has no one meaning.
func (t *table) style(s layer.Style) {
	s.Width, s.Opacity = hundredth(s.Width), hundredth(s.Opacity)
	for i := range t.styles {
		known := &t.styles[i]
		same := s
		same.Name, same.Class = known.Name, known.Class
		if same != *known {
			continue
		}
		if s.Name != known.Name {
			known.Name = ""
		}
		return
	}
	t.styles = append(t.styles, s)
}

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }

// order puts the styles in the order of the key.
func (t *table) order() {
	slices.SortStableFunc(t.styles, func(a, b layer.Style) int { return cmp.Compare(a.Class, b.Class) })
}

// sld returns the styles of a table as OGC SLD 1.1: a rule for each style that occurs, told apart by the columns in which the styles differ.
func (t *table) sld() string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" +
		`<StyledLayerDescriptor version="1.1.0" xmlns="http://www.opengis.net/sld" xmlns:ogc="http://www.opengis.net/ogc" xmlns:se="http://www.opengis.net/se">` +
		`<NamedLayer><se:Name>` + t.name + `</se:Name><UserStyle><se:Name>` + t.name + `</se:Name><se:FeatureTypeStyle>`)
	t.order()
	keys := t.differing()
	for i := range t.styles {
		b.WriteString("<se:Rule>")
		if name := t.styles[i].Name; name != "" {
			b.WriteString("<se:Description><se:Title>" + escaped(name) + "</se:Title></se:Description>")
		}
		b.WriteString(filter(&t.styles[i], keys))
		b.WriteString(symbolizer(t.kind, &t.styles[i]))
		b.WriteString("</se:Rule>")
	}
	b.WriteString(`</se:FeatureTypeStyle></UserStyle></NamedLayer></StyledLayerDescriptor>`)
	return b.String()
}

// facts returns the parts of a style by the names of their columns.
func facts(s *layer.Style) *record.Object {
	var o record.Object
	s.AddTo(&o, "_")
	return &o
}

// differing returns the columns in which the styles of a table differ.
func (t *table) differing() []string {
	var keys []string
	for _, key := range []string{"stroke", "stroke_width", "fill", "fill_opacity", "marker_color", "marker_size"} {
		if slices.ContainsFunc(t.styles, func(s layer.Style) bool { return facts(&s).Value(key) != facts(&t.styles[0]).Value(key) }) {
			keys = append(keys, key)
		}
	}
	return keys
}

// filter picks the features of a style.
func filter(s *layer.Style, keys []string) string {
	if len(keys) == 0 {
		return ""
	}
	o := facts(s)
	text := ""
	for _, key := range keys {
		text += "<ogc:PropertyIsEqualTo><ogc:PropertyName>" + key + "</ogc:PropertyName><ogc:Literal>" + escaped(o.Value(key)) + "</ogc:Literal></ogc:PropertyIsEqualTo>"
	}
	if len(keys) > 1 {
		text = "<ogc:And>" + text + "</ogc:And>"
	}
	return "<ogc:Filter>" + text + "</ogc:Filter>"
}

func parameter(name, value string) string {
	return `<se:SvgParameter name="` + name + `">` + value + `</se:SvgParameter>`
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// symbolizer draws a shape of that kind.
func symbolizer(kind string, s *layer.Style) string {
	stroke := "<se:Stroke>" + parameter("stroke", s.Stroke) + parameter("stroke-width", decimal(s.Width)) + "</se:Stroke>"
	switch kind {
	case "LINESTRING":
		return "<se:LineSymbolizer>" + stroke + "</se:LineSymbolizer>"
	case "MULTIPOLYGON":
		return "<se:PolygonSymbolizer><se:Fill>" + parameter("fill", s.Fill) + parameter("fill-opacity", decimal(s.Opacity)) + "</se:Fill>" + stroke + "</se:PolygonSymbolizer>"
	}
	return "<se:PointSymbolizer><se:Graphic><se:Mark><se:WellKnownName>circle</se:WellKnownName><se:Fill>" + parameter("fill", s.Marker) +
		"</se:Fill></se:Mark><se:Size>" + decimal(markerSize(s)) + "</se:Size></se:Graphic></se:PointSymbolizer>"
}

// markerSize is the width of a point's mark in pixels.
func markerSize(s *layer.Style) float64 {
	switch s.Size {
	case "large":
		return 14
	case "medium":
		return 10
	}
	return 6
}

func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a builder takes everything
	return b.String()
}

package report

import (
	"bytes"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/palette"
	"runnel/export/record"
)

// Layers with more points than these stay out of the page; they are in the GeoJSON file.
const (
	mostSpots         = 3000
	mostContourPoints = 60000
	mostWaterPoints   = 60000
)

// inPage returns the layers that the map draws as features, and which it leaves out for their size. Facets are
// drawn from the surface itself, which sections and the 3-D view read as well.
func inPage(b *record.Book) (names, left []string) {
	for _, name := range layer.Of(b, false) {
		switch {
		case name == "spot" && len(b.Study.Roof.Spots) > mostSpots,
			name == "contour" && contourPoints(b) > mostContourPoints,
			name == "water" && waterPoints(b) > mostWaterPoints:
			left = append(left, name)
		default:
			names = append(names, name)
		}
	}
	return names, left
}

func contourPoints(b *record.Book) int {
	n := 0
	for i := range b.Study.Contours {
		n += len(b.Study.Contours[i].Plan)
	}
	return n
}

func waterPoints(b *record.Book) int {
	n := 0
	for i := range b.Waters {
		for k := range b.Waters[i].Bands {
			for _, polygon := range b.Waters[i].Bands[k].Outline {
				for _, ring := range polygon {
					n += len(ring)
				}
			}
		}
	}
	return n
}

// features writes the map's features: those of the GeoJSON file, with places in metres of the roof's own frame.
func features(w io.Writer, b *record.Book) error {
	metric, study, measured := *b, *b.Study, *b.Study.Roof
	measured.Frame, measured.Units = roof.NewLocal(orb.Point{}, quantity.Metres), quantity.Metres
	study.Roof, metric.Study = &measured, &study
	names, _ := inPage(b)
	return geojson.Write(harmless{w}, &metric, names...)
}

// harmless writes JSON so that no text in it can end the script element that holds it: the three characters
// become escapes, which are only ever found inside strings.
type harmless struct{ w io.Writer }

// Write writes p with its angle brackets and ampersands escaped.
func (h harmless) Write(p []byte) (int, error) {
	if bytes.ContainsAny(p, "<>&") {
		q := bytes.ReplaceAll(p, []byte("<"), []byte(`\u003c`))
		q = bytes.ReplaceAll(q, []byte(">"), []byte(`\u003e`))
		q = bytes.ReplaceAll(q, []byte("&"), []byte(`\u0026`))
		if _, err := h.w.Write(q); err != nil {
			return 0, err
		}
		return len(p), nil
	}
	return h.w.Write(p)
}

// surfaceData is the finished surface: corners in units of the grid, each as the difference from the one before;
// facets as three corners, each as the difference from the one before, and as the class of their plane's slope, one digit
// a facet; the border's half-edges; the palette; and how the file's coordinates follow from metres.
func surfaceData(b *record.Book) []byte {
	t := b.Study.Surface.TIN
	out := make([]byte, 0, 40*len(t.X)+60)
	out = append(out, `{"grid":`...)
	out = appendFloats(out, surface.Grid)
	out = append(out, `,"units":"`...)
	out = append(out, b.Units.String()...)
	out = append(out, '"')
	for _, axis := range []struct {
		name   string
		values []float64
	}{{"x", t.X}, {"y", t.Y}, {"z", t.Z}} {
		out = append(out, `,"`+axis.name+`":[`...)
		last := int64(0)
		for i, v := range axis.values {
			n := int64(math.Round(v / surface.Grid))
			out = appendNext(out, i, n-last)
			last = n
		}
		out = append(out, ']')
	}
	out = append(out, `,"v":[`...)
	last := int32(0)
	for i, v := range t.V {
		out = appendNext(out, i, int64(v-last))
		last = v
	}
	out = append(out, `],"class":"`...)
	out = append(out, planeClasses(b)...)
	out = append(out, '"')
	out = appendBorder(out, t)
	out = appendPalette(out, b)
	if f := b.Study.Roof.Frame; f.Kind == roof.Local {
		var o record.Object
		o.Number("east", f.Origin[0], 6)
		o.Number("north", f.Origin[1], 6)
		o.Number("metres", f.Metres, 10)
		out = append(out, `,"file":`...)
		out = o.Append(out)
	}
	return append(out, '}')
}

func appendNext(out []byte, i int, n int64) []byte {
	if i > 0 {
		out = append(out, ',')
	}
	return strconv.AppendInt(out, n, 10)
}

// appendFloats appends numbers in as few digits as they are read back from.
func appendFloats(out []byte, list ...float64) []byte {
	for i, v := range list {
		if i > 0 {
			out = append(out, ',')
		}
		out = strconv.AppendFloat(out, v, 'g', -1, 64)
	}
	return out
}

// planeClasses returns for each facet the class of slope of its plane, as a digit.
func planeClasses(b *record.Book) []byte {
	slopes := b.Study.Slopes
	out := make([]byte, len(slopes.Plane))
	for f, p := range slopes.Plane {
		out[f] = '0'
		if p >= 0 {
			out[f] += byte(palette.SteepnessOf(slopes.Planes[p].Slope))
		}
	}
	return out
}

// appendBorder appends the half-edges of the roof's edge: those that hold water, and those that take it.
func appendBorder(out []byte, t *surface.TIN) []byte {
	for _, kind := range []struct {
		name string
		flag surface.EdgeFlag
	}{{"closed", 0}, {"open", surface.OpenEdge}} {
		out = append(out, `,"`+kind.name+`":[`...)
		n := 0
		for e, twin := range t.Twin {
			if twin < 0 && t.Flag[e]&surface.CurbEdge == 0 && t.Flag[e]&surface.OpenEdge == kind.flag {
				out = appendNext(out, n, int64(e))
				n++
			}
		}
		out = append(out, ']')
	}
	return out
}

// appendPalette appends the colours that scripts draw with.
func appendPalette(out []byte, b *record.Book) []byte {
	var o record.Object
	o.Text("ink", palette.Ink)
	o.Text("water", palette.Water)
	o.Text("primary", palette.Primary)
	o.Text("overflow", palette.Overflow)
	out = append(out, `,"palette":`...)
	out = o.Append(out)
	out = append(out, `,"steep":["`...)
	out = append(out, strings.Join(palette.Steepness[:], `","`)...)
	out = append(out, `"],"limits":[`...)
	out = appendFloats(out, palette.SteepnessLimits[:]...)
	out = append(out, `],"depths":[`...)
	for i, c := range record.DepthClasses(b.Units) {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(appendFloats(append(out, '['), c.From, c.Strength), ']')
	}
	return append(out, ']')
}

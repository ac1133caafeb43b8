package geojson

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/export/palette"
	"runnel/export/record"
)

// facets writes the triangles. A large roof has millions, so the text of every vertex is made once and
// the rest is appended without an Object.
func (w *writer) facets() {
	t := w.book.Study.Surface.TIN
	v := w.vertices(t)
	f := newFacetText(w)
	for i := range t.Facets() {
		if len(w.buf) > flushAt {
			w.flush()
		}
		w.facet(t, v, f, int32(i))
	}
}

// vertices is the text of every vertex's position, and its output coordinates.
type vertices struct {
	text []byte
	end  []int // of vertex i's text; it begins where that of i-1 ends
	x, y []int64
}

func (v *vertices) of(i int32) []byte {
	if i == 0 {
		return v.text[:v.end[0]]
	}
	return v.text[v.end[i-1]:v.end[i]]
}

func (w *writer) vertices(t *surface.TIN) *vertices {
	n := len(t.X)
	v := &vertices{end: make([]int, n), x: make([]int64, n), y: make([]int64, n), text: make([]byte, 0, n*32)}
	for i := range n {
		v.x[i], v.y[i] = w.grid.fix(orb.Point{t.X[i], t.Y[i]})
		v.text = append(v.text, '[')
		v.text = record.AppendFixed(v.text, v.x[i], w.grid.decimals)
		v.text = append(v.text, ',')
		v.text = record.AppendFixed(v.text, v.y[i], w.grid.decimals)
		if !w.grid.geographic {
			v.text = append(v.text, ',')
			v.text = record.AppendNumber(v.text, t.Z[i]/w.grid.rise, w.grid.decimals)
		}
		v.text = append(v.text, ']')
		v.end[i] = len(v.text)
	}
	return v
}

// facetText is what the facets of one file have in common.
type facetText struct {
	id     string   // up to the number
	planes []string // `,"plane":"..."`
	styles [len(palette.Steepness)]string
	us     bool
}

func newFacetText(w *writer) *facetText {
	f := &facetText{id: string(record.AppendString(nil, w.book.Names.Roof+".F")), us: w.book.Units == record.US}
	f.id = f.id[:len(f.id)-1]
	for i := range w.book.Study.Slopes.Planes {
		f.planes = append(f.planes, `,"plane":`+string(record.AppendString(nil, w.book.Names.Plane(i))))
	}
	for i, fill := range palette.Steepness {
		f.styles[i] = `,"stroke":"` + palette.Level + `","stroke-width":0.3,"fill":"` + fill + `","fill-opacity":0.5}}`
	}
	return f
}

func (w *writer) facet(t *surface.TIN, v *vertices, f *facetText, i int32) {
	b := w.buf
	if w.any {
		b = append(b, ',')
	}
	w.any = true
	b = append(b, "\n{\"type\":\"Feature\",\"id\":"...)
	b = appendFacetID(b, f, i)
	b = append(b, `,"geometry":{"type":"Polygon","coordinates":[[`...)
	p, q, r := t.V[3*i], t.V[3*i+1], t.V[3*i+2]
	if backward(v, p, q, r) {
		q, r = r, q
	}
	for _, c := range [3]int32{p, q, r} {
		w.seen.add(v.x[c], v.y[c])
		b = append(append(b, v.of(c)...), ',')
	}
	b = append(append(b, v.of(p)...), `]]},"properties":{"layer":"facet","id":`...)
	b = appendFacetID(b, f, i)
	w.buf = w.facetProperties(b, t, f, i)
}

func appendFacetID(b []byte, f *facetText, i int32) []byte {
	b = append(b, f.id...)
	b = strconv.AppendInt(b, int64(i)+1, 10)
	return append(b, '"')
}

// backward reports whether rounding has turned a sliver over.
func backward(v *vertices, p, q, r int32) bool {
	ax, ay := v.x[q]-v.x[p], v.y[q]-v.y[p]
	bx, by := v.x[r]-v.x[p], v.y[r]-v.y[p]
	return float64(float64(ax)*float64(by)) < float64(float64(bx)*float64(ay))
}

func (w *writer) facetProperties(b []byte, t *surface.TIN, f *facetText, i int32) []byte {
	slopes := w.book.Study.Slopes
	slope, aspect := slopes.Slope[i], slopes.Aspect[i]
	b = append(b, `,"title":"`...)
	if t.Level(i) || math.IsNaN(aspect) {
		b = append(b, `Level","slope_pct":0`...)
		if f.us {
			b = append(b, `,"slope_in_per_ft":0`...)
		}
	} else {
		b = record.AppendNumber(b, slope*100, 2)
		b = append(b, " % to the "...)
		b = append(append(b, record.SayBearing(aspect)...), `","slope_pct":`...)
		b = record.AppendNumber(b, slope*100, 6)
		if f.us {
			b = append(b, `,"slope_in_per_ft":`...)
			b = record.AppendNumber(b, slope*12, 6)
		}
		b = append(b, `,"aspect_deg":`...)
		b = record.AppendNumber(b, record.WholeTurn(aspect), 4)
	}
	if f.us {
		b = append(b, `,"area_ft2":`...)
	} else {
		b = append(b, `,"area_m2":`...)
	}
	b = w.book.Units.AppendArea(b, float64(t.TwiceArea(i))*(surface.Grid*surface.Grid/2)) // exact but for one rounding
	if p := slopes.Plane[i]; p >= 0 {
		b = append(b, f.planes[p]...)
	}
	return append(b, f.styles[palette.SteepnessOf(slope)]...)
}

package compared

import (
	"io"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/export/record"
)

// collection is a GeoJSON FeatureCollection under construction, in the frame of one roof.
type collection struct {
	roof  *roof.Roof
	out   []byte
	begun bool
}

func newCollection(r *roof.Roof) *collection {
	m := &collection{roof: r, out: []byte(`{"type":"FeatureCollection"`)}
	if r.Frame.Kind == roof.Local {
		m.out = append(m.out, `,"frame":"local","units":"`+r.Units.String()+`"`...)
	}
	m.out = append(m.out, `,"features":[`...)
	return m
}

func (m *collection) add(geometry []byte, o *record.Object) {
	if m.begun {
		m.out = append(m.out, ',', '\n')
	}
	m.begun = true
	m.out = append(m.out, `{"type":"Feature","geometry":`...)
	m.out = append(m.out, geometry...)
	m.out = append(m.out, `,"properties":`...)
	m.out = o.Append(m.out)
	m.out = append(m.out, '}')
}

// point adds a place of the collection's roof.
func (m *collection) point(p orb.Point, o *record.Object) {
	m.add(append(m.position([]byte(`{"type":"Point","coordinates":`), p), '}'), o)
}

// area adds an area of a roof whose frame may be another.
func (m *collection) area(area orb.MultiPolygon, of *roof.Roof, o *record.Object) {
	out := []byte(`{"type":"MultiPolygon","coordinates":[`)
	for j, polygon := range area {
		if j > 0 {
			out = append(out, ',')
		}
		out = append(out, '[')
		for n, ring := range polygon {
			if n > 0 {
				out = append(out, ',')
			}
			out = append(out, '[')
			for k, q := range ring {
				if k > 0 {
					out = append(out, ',')
				}
				out = m.position(out, m.from(of, q))
			}
			out = append(out, ']')
		}
		out = append(out, ']')
	}
	m.add(append(out, ']', '}'), o)
}

// from returns a place of another roof's frame in the collection's.
func (m *collection) from(of *roof.Roof, p orb.Point) orb.Point {
	return m.roof.Frame.From(of.Frame, p)
}

func (m *collection) position(out []byte, p orb.Point) []byte {
	f := m.roof.Frame
	q, decimals := f.ToFile(p), 6
	if f.Kind == roof.Geographic {
		decimals = 8
	}
	out = append(out, '[')
	out = record.AppendNumber(out, q[0], decimals)
	out = append(out, ',')
	out = record.AppendNumber(out, q[1], decimals)
	return append(out, ']')
}

func (m *collection) write(w io.Writer) error {
	m.out = append(m.out, ']', '}', '\n')
	_, err := w.Write(m.out)
	return err
}

// draw adds the places that were set out, which lie in the planned roof's frame.
func (c *Acceptance) draw(m *collection, planned *roof.Roof) {
	for i := range c.setOut() {
		var o record.Object
		o.Text("layer", "set-out")
		c.place(&o, i)
		m.point(m.from(planned, c.Places[i].Plan), &o)
	}
}

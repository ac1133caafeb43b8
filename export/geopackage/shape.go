package geopackage

import (
	"encoding/binary"
	"math"

	"runnel/export/layer"
)

// box is where the features of a table lie.
type box struct {
	any                    bool
	minX, minY, maxX, maxY float64
}

func (b *box) add(grid *layer.Grid, s *layer.Shape) {
	for _, p := range s.Positions {
		x, y := grid.Number(p.X), grid.Number(p.Y)
		if !b.any {
			*b = box{true, x, y, x, y}
			continue
		}
		b.minX, b.maxX = min(b.minX, x), max(b.maxX, x)
		b.minY, b.maxY = min(b.minY, y), max(b.maxY, y)
	}
}

// Codes of well-known binary (ISO 19125-1); with elevations a thousand more.
const (
	wkbPoint        = 1
	wkbLine         = 2
	wkbPolygon      = 3
	wkbMultiPolygon = 6
	wkbZ            = 1000
)

// blob returns a shape as the file holds it: the head of a GeoPackage geometry, the box of what is no point, and well-known binary, all
// little-endian; nil where the place is not known. Elevations are written where all positions have one.
func (g *gathered) blob(s *layer.Shape) []byte {
	if s.Kind == layer.None {
		return nil
	}
	flags := byte(1) // little-endian
	if s.Kind != layer.Point {
		flags |= 1 << 1 // a box in plan follows
	}
	out := []byte{'G', 'P', 0, flags}
	out = binary.LittleEndian.AppendUint32(out, uint32(int32(g.srs)))
	if s.Kind != layer.Point {
		var b box
		b.add(g.grid, s)
		for _, v := range []float64{b.minX, b.maxX, b.minY, b.maxY} {
			out = number(out, v)
		}
	}
	w := wkb{grid: g.grid, z: true, out: out}
	for _, p := range s.Positions {
		w.z = w.z && p.HasZ
	}
	w.shape(s)
	return w.out
}

// wkb appends well-known binary.
type wkb struct {
	grid *layer.Grid
	z    bool // positions have elevations
	out  []byte
}

func (w *wkb) head(code uint32) {
	if w.z {
		code += wkbZ
	}
	w.out = append(w.out, 1)
	w.out = binary.LittleEndian.AppendUint32(w.out, code)
}

func (w *wkb) count(n int) { w.out = binary.LittleEndian.AppendUint32(w.out, uint32(n)) }

func (w *wkb) shape(s *layer.Shape) {
	switch s.Kind {
	case layer.Point:
		w.head(wkbPoint)
		w.position(s.Positions[0])
	case layer.Line:
		w.head(wkbLine)
		w.positions(s.Positions)
	case layer.Polygon, layer.MultiPolygon:
		w.head(wkbMultiPolygon)
		w.count(len(s.Polygons))
		for i := range s.Polygons {
			first, last := s.RingsOf(i)
			w.head(wkbPolygon)
			w.count(last - first)
			for r := first; r < last; r++ {
				w.positions(s.Ring(r))
			}
		}
	case layer.None:
	}
}

func (w *wkb) positions(all []layer.Position) {
	w.count(len(all))
	for _, p := range all {
		w.position(p)
	}
}

func (w *wkb) position(p layer.Position) {
	w.out = number(number(w.out, w.grid.Number(p.X)), w.grid.Number(p.Y))
	if w.z {
		w.out = number(w.out, w.grid.Number(p.Z))
	}
}

func number(out []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
}

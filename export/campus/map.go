package campus

import (
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/export/record"
)

// drawnMap is the map of a campus.
type drawnMap struct {
	Width, Height float64
	Shapes        []drawnRoof
	Off           string // roofs that are not on it and why, a sentence; may be empty
}

type drawnRoof struct {
	Row                int
	Class, Path, Title string
}

// mapWidth is how wide the map is [units of its drawing].
const mapWidth = 1000.0

// placed is a roof with a place on the map.
type placed struct {
	drawnRoof
	ring orb.Ring // longitude and latitude
}

// offMap says how many roofs of the page are not on the map.
func offMap(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 roof is not on it: it stands on a site grid of its own."
	}
	return count(n) + " roofs are not on it: they stand on site grids of their own."
}

func newPlaced(r *Row, number int, u record.Units) placed {
	p := placed{drawnRoof: drawnRoof{Row: number, Class: classes[classOf(r)].Key, Title: fullName(r) + ": " + headline(r, u)}}
	for _, at := range r.Rings[0] {
		p.ring = append(p.ring, r.Frame.ToFile(at))
	}
	return p
}

// leastMark is how wide and high a roof is drawn at least [units of the drawing], so that its colour shows.
const leastMark = 10.0

// mapOf draws the outlines, the worst last, so that none hides it; small ones as a square, where they are in longitude and latitude; nil where fewer than two are: roofs on site grids of their own have
// no place on one map.
func mapOf(roofs []placed) *drawnMap {
	if len(roofs) < 2 {
		return nil
	}
	b := roofs[0].ring.Bound()
	for i := range roofs {
		b = b.Union(roofs[i].ring.Bound())
	}
	along := math.Cos((b.Min[1] + b.Max[1]) / 2 * math.Pi / 180)
	scale := (mapWidth - 40) / max((b.Max[0]-b.Min[0])*along, (b.Max[1]-b.Min[1])/0.8, 1e-9)
	m := &drawnMap{Width: mapWidth, Height: math.Ceil((b.Max[1]-b.Min[1])*scale) + 40}
	for i := len(roofs) - 1; i >= 0; i-- {
		ring := make(orb.Ring, len(roofs[i].ring))
		for k, at := range roofs[i].ring {
			ring[k] = orb.Point{20 + (at[0]-b.Min[0])*along*scale, 20 + (b.Max[1]-at[1])*scale}
		}
		if own := ring.Bound(); own.Max[0]-own.Min[0] < leastMark && own.Max[1]-own.Min[1] < leastMark {
			c := own.Center()
			ring = orb.Bound{Min: orb.Point{c[0] - leastMark/2, c[1] - leastMark/2}, Max: orb.Point{c[0] + leastMark/2, c[1] + leastMark/2}}.ToRing()
		}
		shape := roofs[i].drawnRoof
		shape.Path = pathOf(ring)
		m.Shapes = append(m.Shapes, shape)
	}
	return m
}

// pathOf writes a ring as a path of SVG.
func pathOf(ring orb.Ring) string {
	var path strings.Builder
	for k, at := range ring {
		path.WriteByte("ML"[min(k, 1)])
		path.WriteString(strconv.FormatFloat(at[0], 'f', 1, 64) + " " + strconv.FormatFloat(at[1], 'f', 1, 64))
	}
	return path.String() + "Z"
}

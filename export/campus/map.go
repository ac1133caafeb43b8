package campus

import (
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/export/record"
)

// drawnMap is the map of a campus.
type drawnMap struct {
	Width, Height float64
	Shapes        []drawnRoof
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

func onMap(r *Row) bool { return len(r.Rings) > 0 && r.Frame.Kind == roof.Geographic }

func newPlaced(r *Row, number int, u record.Units) placed {
	p := placed{drawnRoof: drawnRoof{Row: number, Class: classes[classOf(r)].Key, Title: fullName(r) + ": " + headline(r, u)}}
	for _, at := range r.Rings[0] {
		p.ring = append(p.ring, r.Frame.ToFile(at))
	}
	return p
}

// mapOf draws the outlines, where they are in longitude and latitude; nil where fewer than two are: roofs on site grids of their own have
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
	for i := range roofs {
		var path strings.Builder
		for k, at := range roofs[i].ring {
			path.WriteByte("ML"[min(k, 1)])
			path.WriteString(strconv.FormatFloat(20+(at[0]-b.Min[0])*along*scale, 'f', 1, 64) + " " + strconv.FormatFloat(20+(b.Max[1]-at[1])*scale, 'f', 1, 64))
		}
		shape := roofs[i].drawnRoof
		shape.Path = path.String() + "Z"
		m.Shapes = append(m.Shapes, shape)
	}
	return m
}

package drainage

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
	"runnel/analysis/roof"
)

// Walls are followed in pieces of at most wallPiece, each looked up inward by wallInset [m].
const (
	wallPiece = 0.5
	wallInset = 0.01
)

// walls returns the area of walls that sheds onto each outlet's catchment, by a rule of standard.WallRules [m2].
func (v *view) walls(r *roof.Roof, rule string, n int) ([]float64, error) {
	area := make([]float64, n)
	faces := make([][]rainfall.Wall, n)
	for i := range r.Edges {
		if h := r.Edges[i].AdjoiningHeight; h > 0 && r.Edges[i].Type == roof.Wall {
			v.follow(r.Edges[i].Line, h, faces)
		}
	}
	for o := range faces {
		if len(faces[o]) == 0 {
			continue
		}
		var err error
		if area[o], _, err = rainfall.WallArea(rule, faces[o]); err != nil {
			return nil, err
		}
	}
	return area, nil
}

// Shed returns what walls let onto the roof by a rule of standard.WallRules, as areas at places along their feet. n is
// the flow over the roof.
func Shed(r *roof.Roof, rule string, n *flow.Network) ([]Above, error) {
	var all []rainfall.Wall
	var out []Above
	faces := 0.0
	for i := range r.Edges {
		e := &r.Edges[i]
		if e.AdjoiningHeight <= 0 || e.Type != roof.Wall {
			continue
		}
		for k := 1; k < len(e.Line); k++ {
			s := segment{a: e.Line[k-1].Plan, b: e.Line[k].Plan}
			within := func(x, y float64) bool { l, _ := n.At(x, y); return l != flow.Unlabelled }
			length, side := s.length(), 0.0
			s.pieces(func(x, y, nx, ny, part float64) {
				for _, sign := range []float64{1, -1} {
					inset := sign * wallInset
					if px, py := x+float64(inset*nx), y+float64(inset*ny); within(px, py) {
						area := length * part * float64(e.AdjoiningHeight)
						out, side, faces = append(out, Above{X: px, Y: py, Area: area, Name: "wall"}), sign, faces+area
						break
					}
				}
			})
			if side != 0 {
				all = append(all, rainfall.Wall{Length: quantity.Length(length), Height: e.AdjoiningHeight, Bearing: s.bearing(side)})
			}
		}
	}
	if faces == 0 {
		return nil, nil
	}
	counted, _, err := rainfall.WallArea(rule, all)
	for i := range out {
		out[i].Area *= counted / faces
	}
	return out, err
}

// segment is a straight piece of a wall's foot.
type segment struct{ a, b orb.Point }

func (s segment) length() float64 {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	return vector.Norm(dx, dy)
}

// bearing returns the direction of a side of the segment [degrees clockwise from north]: 1 its left, -1 its right.
func (s segment) bearing(side float64) float64 {
	return math.Atan2(-side*(s.b[1]-s.a[1]), side*(s.b[0]-s.a[0])) * (180 / math.Pi)
}

// pieces visits the middles of equal pieces of at most wallPiece, with the normal to the left and the part of the
// segment that a piece is.
func (s segment) pieces(visit func(x, y, nx, ny, part float64)) {
	length := s.length()
	if length == 0 {
		return
	}
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	n := math.Ceil(length / wallPiece)
	for k := range int(n) {
		t := (float64(k) + 0.5) / n
		visit(s.a[0]+float64(t*dx), s.a[1]+float64(t*dy), -dy/length, dx/length, 1/n)
	}
}

// follow books the pieces of a wall's line to the outlets they drain to: one wall a straight piece and outlet.
func (v *view) follow(line []roof.Position, height quantity.Length, faces [][]rainfall.Wall) {
	for i := 1; i < len(line); i++ {
		g := segment{a: line[i-1].Plan, b: line[i].Plan}
		whole := make([]float64, len(faces)) // part of the segment, by outlet
		bearing := 0.0                       // of the side on which the roof lies
		g.pieces(func(x, y, nx, ny, part float64) {
			ends, side := v.inward(orb.Point{x, y}, nx, ny)
			for _, e := range ends {
				whole[v.whole(e.outlet)] += e.part * part
				bearing = g.bearing(side)
			}
		})
		for o, part := range whole {
			if part > 0 {
				faces[o] = append(faces[o], rainfall.Wall{Length: quantity.Length(g.length() * part), Height: height, Bearing: bearing})
			}
		}
	}
}

// inward returns the ends of the water at a place of a line, and on which side of it the roof lies: 1 or -1, to
// or against nx, ny.
func (v *view) inward(p orb.Point, nx, ny float64) (ends []end, side float64) {
	for _, side = range []float64{1, -1} {
		inset := side * wallInset
		if ends = v.ends(p[0]+float64(inset*nx), p[1]+float64(inset*ny)); ends != nil {
			break
		}
	}
	return ends, side
}

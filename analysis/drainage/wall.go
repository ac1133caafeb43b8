package drainage

import (
	"math"

	"github.com/paulmach/orb"

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

// follow books the pieces of a wall's line to the outlets they drain to: one wall a straight piece and outlet.
func (v *view) follow(line []roof.Position, height quantity.Length, faces [][]rainfall.Wall) {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1].Plan, line[i].Plan
		dx, dy := b[0]-a[0], b[1]-a[1]
		length := math.Sqrt(float64(dx*dx) + float64(dy*dy))
		if length == 0 {
			continue
		}
		pieces := math.Ceil(length / wallPiece)
		whole := make([]float64, len(faces)) // part of the segment, by outlet
		bearing := 0.0                       // of the side on which the roof lies
		for k := range int(pieces) {
			t := (float64(k) + 0.5) / pieces
			at := orb.Point{a[0] + float64(t*dx), a[1] + float64(t*dy)}
			ends, side := v.inward(at, -dy/length, dx/length)
			for _, e := range ends {
				whole[v.whole(e.outlet)] += e.part / pieces
				bearing = math.Atan2(-side*dy, side*dx) * (180 / math.Pi)
			}
		}
		for o, part := range whole {
			if part > 0 {
				faces[o] = append(faces[o], rainfall.Wall{Length: quantity.Length(length * part), Height: height, Bearing: bearing})
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

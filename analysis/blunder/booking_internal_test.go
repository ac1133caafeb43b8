package blunder

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// What stands in the field book: the elevation in the file's unit, to four decimals, or the reading of the rod, with what it should have been; how far off a number may be and still fit is 12 mm, 2.5 errors where that is more, and 0.3 of what
// the point is off at most.
func TestBooked(t *testing.T) {
	feet := roof.Spot{Position: roof.Position{Z: 3.048}}
	feet.Origin.File = "a.csv"
	rod := feet
	rod.Rod, rod.HasRod = 1.524, true
	inputs := []roof.Input{{Path: "b.csv", Units: "m"}, {Path: "a.csv", Units: "ft"}}
	for _, c := range []struct {
		name                 string
		spot                 roof.Spot
		units                quantity.Unit
		off, error           float64
		number, wanted, play float64
		text                 string
		reading              bool
	}{
		{"in feet by its file", feet, quantity.Metres, 0.3048, 0.002, 10, 9, 0.012 / 0.3048, "10", false},
		{"in metres by its file", roof.Spot{Feature: roof.Feature{Origin: roof.Origin{File: "b.csv"}}, Position: roof.Position{Z: 3.048}}, quantity.Feet, 0.3048, 0.002, 3.048, 2.7432, 0.012, "3.048", false},
		{"in the roof's unit", roof.Spot{Position: roof.Position{Z: 3.048}}, quantity.Feet, 0.3048, 0.002, 10, 9, 0.012 / 0.3048, "10", false},
		{"in metres where nothing says", roof.Spot{Position: roof.Position{Z: 3.048}}, quantity.Unstated, 0.3048, 0.002, 3.048, 2.7432, 0.012, "3.048", false},
		{"a reading", rod, quantity.Metres, 0.3048, 0.002, 5, 6, 0.012 / 0.3048, "5", true}, // a point that stands too high reads too little
		{"with a large error", roof.Spot{Position: roof.Position{Z: 2}}, quantity.Metres, -0.5, 0.02, 2, 2.5, 0.05, "2", false},
		{"off by little", roof.Spot{Position: roof.Position{Z: 2}}, quantity.Metres, -0.03, 0.002, 2, 2.03, 0.009, "2", false},
		{"with many decimals", roof.Spot{Position: roof.Position{Z: 2.00004}}, quantity.Metres, -0.5, 0.02, 2, 2.50004, 0.05, "2", false},
		{"with four decimals", roof.Spot{Position: roof.Position{Z: 2.00016}}, quantity.Metres, -0.5, 0.02, 2.0002, 2.50016, 0.05, "2.0002", false},
	} {
		f := &finder{r: &roof.Roof{Units: c.units, Inputs: inputs, Spots: []roof.Spot{c.spot}}}
		b := f.booked(&Odd{Spot: 0, Z: c.spot.Z, Expected: c.spot.Z - c.off, Error: c.error})
		if !(math.Abs(b.number-c.number) <= 1e-12) || !(math.Abs(b.wanted-c.wanted) <= 1e-9) || !(math.Abs(b.play-c.play) <= 1e-9) || b.text != c.text || b.reading != c.reading {
			t.Errorf("%s: %+v", c.name, b)
		}
	}
	f := &finder{r: &roof.Roof{Units: quantity.Metres}}
	if b := f.booked(&Odd{Spot: -1, Z: 4.5, Expected: 4, Error: 0.002}); b.number != 4.5 || b.wanted != 4 {
		t.Errorf("a point of a line: %+v", b)
	}
}

// A point's own number was booked where its name is that number; a point without a spot has no name.
func TestNumberBooked(t *testing.T) {
	f := &finder{r: &roof.Roof{Spots: []roof.Spot{{Feature: roof.Feature{ID: "107"}}, {Feature: roof.Feature{ID: "P107"}}}}}
	for _, c := range []struct {
		spot   int32
		number float64
		want   bool
	}{{0, 107, true}, {0, 108, false}, {1, 107, false}, {-1, 107, false}} {
		if got := f.isNumber(&Odd{Spot: c.spot}, &booking{number: c.number}); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// line makes a line of places.
func line(points ...orb.Point) []roof.Position {
	out := make([]roof.Position, len(points))
	for i, p := range points {
		out[i].Plan = p
	}
	return out
}

// A rod that slid up stands 75 mm to 1.5 m too high, within 0.6 m of a curb, of a wall or of an outline with walls; where a height was told, by that height to 30 mm.
func TestOnCurb(t *testing.T) {
	curb := roof.Curb{Ring: line(orb.Point{5, 5}, orb.Point{6, 5}, orb.Point{6, 6}, orb.Point{5, 6}, orb.Point{5, 5})}
	told := curb
	told.Height = 0.3
	wall := roof.Edge{Type: roof.Wall, Line: line(orb.Point{0, 0}, orb.Point{20, 0})}
	high := wall
	high.Height = 0.3
	gutter := wall
	gutter.Type = roof.Gutter
	outline := func(edge roof.EdgeType, edges ...roof.Edge) *roof.Roof {
		r := &roof.Roof{Edges: edges}
		r.Outline.Edge, r.Outline.Rings = edge, [][]roof.Position{line(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 10}, orb.Point{0, 10}, orb.Point{0, 0})}
		return r
	}
	curbs := func(c ...roof.Curb) *roof.Roof { return &roof.Roof{Curbs: c} }
	for _, c := range []struct {
		name     string
		r        *roof.Roof
		x, y     float64
		off      float64
		on, told bool
	}{
		{"at a curb", curbs(curb), 5.5, 4.41, 0.3, true, false},
		{"too far from it", curbs(curb), 5.5, 4.39, 0.3, false, false},
		{"too little", curbs(curb), 5.5, 4.9, 0.074, false, false},
		{"enough", curbs(curb), 5.5, 4.9, 0.076, true, false},
		{"as high as curbs are", curbs(curb), 5.5, 4.9, 1.49, true, false},
		{"higher", curbs(curb), 5.5, 4.9, 1.51, false, false},
		{"too low", curbs(curb), 5.5, 4.9, -0.3, false, false},
		{"by the height told", curbs(told), 5.5, 4.9, 0.329, true, true},
		{"by less than it, to 30 mm", curbs(told), 5.5, 4.9, 0.271, true, true},
		{"by 32 mm more", curbs(told), 5.5, 4.9, 0.332, false, false},
		{"by 32 mm less", curbs(told), 5.5, 4.9, 0.268, false, false},
		{"between two curbs of which one tells", curbs(curb, told), 5.5, 4.9, 0.3, true, true},
		{"told by the first of two", curbs(told, curb), 5.5, 4.9, 0.3, true, true},
		{"at a wall of an open outline", outline(roof.Free, wall), 9, 0.5, 0.3, true, false},
		{"at a wall of a told height", outline(roof.Free, high), 9, 0.5, 0.31, true, true},
		{"at a wall of another height", outline(roof.Free, high), 9, 0.5, 0.5, false, false},
		{"at a wall of another height on a walled outline", outline(roof.Wall, high), 9, 0.5, 0.5, false, false},
		{"at a gutter of a walled outline", outline(roof.Wall, gutter), 9, 0.5, 0.3, false, false},
		{"at the walls of an outline", outline(roof.Wall), 9, 0.5, 0.3, true, false},
		{"away from its gutter", outline(roof.Wall, gutter), 9, 9.5, 0.3, true, false},
		{"at an open outline", outline(roof.Free), 9, 0.5, 0.3, false, false},
		{"amid the roof", outline(roof.Wall), 9, 5, 0.3, false, false},
	} {
		f := &finder{r: c.r}
		if on, told := f.onCurb(&Odd{Plan: orb.Point{c.x, c.y}, Z: 5 + c.off, Expected: 5}); on != c.on || told != c.told {
			t.Errorf("%s: on it %v, told %v", c.name, on, told)
		}
	}
	court := outline(roof.Free)
	court.Outline.Rings = append(court.Outline.Rings, line(orb.Point{8, 4}, orb.Point{8, 6}, orb.Point{10, 6}, orb.Point{10, 4}, orb.Point{8, 4}))
	f := &finder{r: court}
	if on, _ := f.onCurb(&Odd{Plan: orb.Point{9, 3.5}, Z: 5.3, Expected: 5}); !on {
		t.Error("a court has walls, whatever the outer edge is")
	}
}

// Northing and easting change places in the coordinates of the file: (3, 4) m of a grid whose origin is (100, 20) ft is (109.84, 33.12) ft, and lies the other way round (33.12 - 100, 109.84 - 20) ft from it.
func TestOtherWay(t *testing.T) {
	f := &finder{r: &roof.Roof{Frame: roof.NewLocal(orb.Point{100, 20}, quantity.Feet)}}
	got := f.otherWay(orb.Point{3, 4})
	want := orb.Point{4 - 80*0.3048, 3 + 80*0.3048}
	if !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-9) {
		t.Errorf("%v, want %v", got, want)
	}
}

// On a roof of squares of 2 m about the file's diagonal, raised to the east, a spot of the east booked the other way round stands as high as the roof is there: swapped, if it moves by 0.1 m at least.
func TestSwappedPlaces(t *testing.T) {
	r := level(4, 4, 2)
	for i := range r.Spots {
		r.Spots[i].Z = 0.02 * r.Spots[i].Plan[0]
	}
	for i := range r.Outline.Rings[0] {
		r.Outline.Rings[0][i].Z = 0.02 * r.Outline.Rings[0][i].Plan[0]
	}
	f := searching(t, r)
	f.r.Frame = roof.NewLocal(orb.Point{-100, 50}, quantity.Metres) // (100, -50) of the frame is the origin of the file
	for _, c := range []struct {
		x, y, z float64
		want    bool
	}{{1, 6, 0.12, true}, {1, 6, 0.02, false}, {6, 1, 0.02, true}, {4, 4.06, 0.08, false}, {4, 4.08, 0.08, true}, {-1, 4, 0.08, false}, {1, 6, 0.131, true}, {1, 6, 0.132, false}, {1, 6, 0.109, true}, {1, 6, 0.108, false}} {
		o := Odd{Vertex: -1, Plan: orb.Point{c.x + 100, c.y - 50}, Z: c.z, Expected: 0.02 * c.x, Error: 0.003}
		// The height may differ by half of 22.5 mm, or by 3 errors, here 9 mm, where that is more.
		if got := f.swapped(&o); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// The sides of a point are parted by the breaklines through it: none, one that ends there, one that runs through, and two that cross.
func TestSides(t *testing.T) {
	for name, c := range map[string]struct {
		lines [][]orb.Point
		want  int
	}{
		"none":     {nil, 1},
		"ends":     {[][]orb.Point{{{0, 2}, {1, 2}, {2, 2}, {3, 2}}}, 1},
		"through":  {[][]orb.Point{{{1, 2}, {2, 2}, {3, 2}, {4, 2}}}, 2},
		"three":    {[][]orb.Point{{{1, 2}, {2, 2}, {3, 2}, {4, 2}}, {{3, 2}, {3, 3}}}, 3},
		"crossing": {[][]orb.Point{{{1, 2}, {2, 2}, {3, 2}, {4, 2}}, {{3, 1}, {3, 2}, {3, 3}}}, 4},
	} {
		r := level(6, 4, 1)
		for _, l := range c.lines {
			var at []roof.Position
			for _, p := range l {
				at = append(at, roof.Position{Plan: p, HasZ: true})
			}
			r.Breaklines = append(r.Breaklines, roof.Breakline{Line: at, Type: roof.Ridge})
		}
		f := searching(t, r)
		v := f.vertexAt(t, 3, 2)
		sides := f.hood.sides(v)
		if len(sides) != c.want {
			t.Errorf("%s: %d sides, want %d", name, len(sides), c.want)
			continue
		}
		// What is gathered on a side is, by brute force on this grid, nearest first, and none of it beyond a line that runs through from wall to wall.
		for _, side := range sides {
			near := f.hood.gather(v, side, f.without)
			if len(near) != 12 || !slices.IsSortedFunc(near, func(a, b neighbour) int { return cmp.Compare(a.far, b.far) }) {
				t.Errorf("%s: %+v", name, near)
			}
			for _, n := range near {
				if want := math.Hypot(f.t.X[n.vertex]-103, f.t.Y[n.vertex]+48); n.vertex == v || !(math.Abs(n.far-want) <= 1e-9) {
					t.Errorf("%s: %+v, want %g m", name, n, want)
				}
			}
		}
	}
}

// A spot off the roof is told where it lies on it the other way round, or within 150 mm beyond an edge, at an elevation within 0.3 m of the roof there. By hand, on a level roof of 8 by 8 m at 5 m that begins at (20, 40) of the file. A spot on the roof that was merged with another is none, nor one that is to be kept.
func TestSpotsOffTheRoof(t *testing.T) {
	for _, c := range []struct {
		x, y, z float64
		want    bool
	}{
		{22, 42, 5.29, true},
		{22, 42, 4.71, true},
		{22, 42, 5.31, false},
		{22, 42, 4.69, false},
		{19.9, 44, 5, true},
		{19.8, 44, 5, false},
		{28.1, 44, 5, true},
		{31, 44, 5, false},
	} {
		r := level(4, 4, 2)
		for i := range r.Spots {
			r.Spots[i].Z = 5
		}
		for i := range r.Outline.Rings[0] {
			r.Outline.Rings[0][i].Z = 5
		}
		r.Spots = append(slices.Clone(r.Spots), r.Spots...) // each measured twice
		r.Spots = append(r.Spots, roof.Spot{Feature: roof.Feature{ID: "off"}, Position: roof.Position{Plan: orb.Point{c.y - 20, c.x - 40}, Z: c.z, HasZ: true}})
		f := searching(t, r)
		f.r.Frame = roof.NewLocal(orb.Point{20 - 100, 40 + 50}, quantity.Metres)
		odd := f.outside()
		if (len(odd) == 1) != c.want || len(odd) > 1 {
			t.Errorf("%+v: %+v", c, odd)
			continue
		}
		if c.want && (odd[0].Spot != int32(len(r.Spots)-1) || !(math.Abs(odd[0].Expected-5) <= 1e-9)) {
			t.Errorf("%+v: %+v", c, odd[0])
		}
		f.kept = map[string]bool{"off": true}
		if odd := f.outside(); len(odd) > 0 {
			t.Errorf("%+v: told though it is kept", c)
		}
	}
}

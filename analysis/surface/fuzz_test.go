package surface_test

import (
	"errors"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/soak"
	"runnel/analysis/surface"
)

// reader makes numbers of raw bytes: few places on a coarse grid, some of them a little off, so that coincidences abound.
type reader struct{ data []byte }

func (r *reader) byte() int {
	if len(r.data) == 0 {
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return int(b)
}

// coordinate is a multiple of 0.25 m, in one case of four off by up to 40 mm, in one of sixteen by a few grid units.
func (r *reader) coordinate() float64 {
	b := r.byte()
	v := float64(b%33) / 4
	switch {
	case b >= 240:
		v += float64(r.byte()%9-4) * surface.Grid
	case b >= 190:
		v += float64(r.byte()%81-40) / 1000
	}
	return v
}

func (r *reader) position() roof.Position {
	p := shape.Bare(r.coordinate(), r.coordinate())
	if b := r.byte(); b%3 > 0 {
		p.Z, p.HasZ = float64(b%4)/1000, true
	}
	return p
}

func (r *reader) line(least int) []roof.Position {
	line := make([]roof.Position, least+r.byte()%4)
	for i := range line {
		line[i] = r.position()
	}
	return line
}

// roof reads a roof: three outlines of four are a square, so that not all are refused for crossing themselves.
func (r *reader) roof() *roof.Roof {
	corners := []roof.Position{shape.Bare(0, 0), shape.Bare(8, 0), shape.Bare(8, 8), shape.Bare(0, 8)}
	if r.byte()%4 == 1 {
		corners = r.line(3)[:3]
	}
	out := shape.New("fuzz", corners...)
	out.Outline.Edge = roof.EdgeType(r.byte() % 3)
	for len(r.data) > 0 {
		switch r.byte() % 8 {
		default:
			shape.Spot(out, r.coordinate(), r.coordinate(), float64(r.byte()%4)/1000)
		case 1:
			shape.Breakline(out, roof.Valley, r.line(2)...)
		case 2:
			a, b := r.position(), r.position()
			x0, y0, x1, y1 := min(a.Plan[0], b.Plan[0]), min(a.Plan[1], b.Plan[1]), max(a.Plan[0], b.Plan[0]), max(a.Plan[1], b.Plan[1])
			shape.Curb(out, shape.Bare(x0, y0), shape.Bare(x1, y0+0.3), shape.Bare(x1, y1+0.3), shape.Bare(x0, y1))
		case 3:
			shape.Drain(out, r.coordinate(), r.coordinate(), float64(r.byte())/100)
		case 4:
			shape.Scupper(out, r.coordinate(), float64(r.byte()%50)/100, float64(r.byte())/100)
		case 5:
			shape.Edge(out, roof.EdgeType(r.byte()%3), shape.Bare(r.coordinate(), 0), shape.Bare(r.coordinate(), 0))
		}
	}
	return out
}

// prove builds what the bytes say: it must give a surface that holds its invariants, or a refusal with a reason.
func prove(t *testing.T, data []byte) (built bool) {
	t.Helper()
	s, err := surface.Build((&reader{data}).roof(), surface.Options{})
	var refusal *roof.Refusal
	switch {
	case err == nil:
		proveSigns(t, s)
		proveCut(t, s)
		return true
	case !errors.As(err, &refusal) || len(refusal.Problems) == 0 || refusal.Problems[0].Rule == "":
		t.Fatalf("%v", err)
	}
	return false
}

func building() *soak.Target {
	g := soak.New("FuzzBuild")
	g.Add([]byte("0,8 spots and a line"))
	g.Add([]byte{0, 0, 7, 1, 1, 0, 7, 9, 9, 2, 7, 20, 3, 1, 3, 5, 5, 60, 2, 0, 4, 4, 0, 8, 8, 1, 4, 12, 2})
	g.Property = func(t *testing.T, data []byte) {
		t.Helper()
		prove(t, data)
	}
	return g
}

func FuzzBuild(f *testing.F) { building().Fuzz(f) }

func TestSoakBuild(t *testing.T) { building().Soak(t) }

// The same on fixed random bytes, so that every run of the tests covers it.
func TestCoincidences(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	built := 0
	for range 6000 {
		data := make([]byte, 20+rnd.IntN(140))
		for i := range data {
			data[i] = byte(rnd.UintN(256))
		}
		if prove(t, data) {
			built++
		}
		if t.Failed() {
			t.Fatalf("bytes %v", data)
		}
	}
	if built < 300 {
		t.Errorf("only %d of 6000 were built", built)
	}
}

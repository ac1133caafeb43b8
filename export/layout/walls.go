package layout

import (
	"github.com/paulmach/orb"

	"runnel/export/record"
	"runnel/export/setout"
)

// walls are the two walls from which places are measured, and the bench mark.
type walls struct {
	*setout.Sheet
}

func newWalls(b *record.Book, mark string) (*walls, error) {
	s, err := setout.New(b, mark)
	if err != nil {
		return nil, err
	}
	return &walls{s}, nil
}

// square returns the plan distances of p square to the lines of walls A and B [m].
func (w *walls) square(p orb.Point) (a, b float64) { return w.Walls[0].Square(p), w.Walls[1].Square(p) }

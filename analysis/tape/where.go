package tape

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/offset"
)

// wallName names a wall: "the west wall", or by its number where several face that way.
func (s *Survey) wallName(w *offset.Wall) string {
	if len(offset.Facing(s.Walls, w.Faces)) == 1 {
		return "the " + offset.Names[w.Faces] + " wall"
	}
	return "wall " + strconv.Itoa(w.Number)
}

// Where says where a place lies, by its distances from two walls.
func (s *Survey) Where(p orb.Point) finding.Text {
	a, b, ok := offset.Nearest(s.Walls, p)
	if !ok {
		return finding.Text{}
	}
	if math.Abs(b.In[0]) > math.Abs(a.In[0]) { // east and west first, as on a map
		a, b = b, a
	}
	const on = 0.02 // m: nearer than a tape tells
	format := [2]string{"{0} from {1}", "{2} from {3}"}
	for k, w := range [2]*offset.Wall{a, b} {
		if w.Distance(p) < on {
			format[k] = "on {" + strconv.Itoa(2*k+1) + "}"
		}
	}
	return finding.Say(format[0]+", "+format[1],
		finding.Tape("distance", a.Distance(p)), finding.Called(s.wallName(a)), finding.Tape("distance", b.Distance(p)), finding.Called(s.wallName(b)))
}

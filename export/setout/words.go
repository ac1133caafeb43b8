package setout

import (
	"fmt"
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/export/record"
)

// verify stands on every sheet.
const verify = "Preliminary, from a survey. Verify on site before cutting, drilling or ordering."

// both writes a distance in metres and in feet and inches.
func both(metres float64) string {
	return fmt.Sprintf("%.3f m (%s)", metres, quantity.FeetInches(quantity.Length(metres)))
}

// wallText describes wall A (0) or B (1).
func (s *Sheet) wallText(i int) string {
	w := &s.Walls[i]
	return fmt.Sprintf("Wall %c is the %s, %s long.", 'A'+i, w.Name, both(w.Length))
}

func (s *Sheet) markText() string {
	return "Bench mark: " + s.MarkPlace() + ". All elevations are above or below it." + s.MarkDoubt()
}

// MarkPlace names the bench mark so that it is found: an outlet's inlet by its name, any other place by its distances from both walls.
func (s *Sheet) MarkPlace() string {
	if s.Mark.Inlet {
		return s.Mark.What
	}
	u := s.book.Units
	return fmt.Sprintf("%s, %s from wall A and %s from wall B", s.Mark.What, u.SayTape(s.Walls[0].Square(s.Mark.Plan)), u.SayTape(s.Walls[1].Square(s.Mark.Plan)))
}

// MarkDoubt says what to do first where the bench mark was not measured; else it is empty.
func (s *Sheet) MarkDoubt() string {
	return choose.If(s.Mark.Assumed, " Its elevation was not measured but assumed: take a reading there first.", "")
}

// method says how a point is found with two tapes and one reading of a level.
func (s *Sheet) method() []string {
	text := []string{
		"Place: hold one tape square to wall A and the other square to wall B, both level. The point is where they read the two " +
			"distances. Check it with the distance from corner C, where the walls meet.",
		"Distances are plan distances from the walls' lines as surveyed, prolonged where a wall ends. Behind means on the far side of the line.",
		"Height: set up the level anywhere and read the rod on the bench mark. At a point above it the rod reads that much less, at a point below it that " +
			"much more.",
	}
	if example := s.example(); example != "" {
		text = append(text, example)
	}
	return text
}

// example works one reading out, at the first point that is no outlet and not as high as the bench mark.
func (s *Sheet) example() string {
	for i := range s.Points {
		p := &s.Points[i]
		z := s.Relative(p.Surface)
		if p.Kind == OutletPoint || !p.HasSurface || whole(z) == 0 || math.Abs(z) > 0.9 {
			continue
		}
		rod, should := "1500 mm", fmt.Sprintf("%d mm", 1500-whole(z))
		where := signed(whole(z))
		if s.book.Units == record.US {
			const sixty = 60 * quantity.Inch
			rod, should, where = quantity.InchesEighths(sixty), quantity.InchesEighths(sixty-quantity.Length(z)), eighths(z)
		}
		return fmt.Sprintf("Example: the rod reads %s on the bench mark. At point %d (surface %s) it should read %s.", rod, p.Number, where, should)
	}
	return ""
}

// signed writes a relative elevation in millimetres.
func signed(mm int) string {
	switch {
	case mm > 0:
		return fmt.Sprintf("+%d mm", mm)
	case mm < 0:
		return fmt.Sprintf("–%d mm", -mm)
	}
	return "0 mm"
}

// whole rounds to a whole number of millimetres.
func whole(metres float64) int { return int(math.Round(metres * 1000)) }

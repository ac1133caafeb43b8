package levelling

import (
	"fmt"

	"runnel/analysis/choose"
)

// lasers reduces rods read down from a laser. A set-up takes its line of sight from the stations in it whose elevation is
// known, stated ones first, as their mean; then its other stations are known, and may tie further set-ups.
func (b *book) lasers() error {
	names, rows := b.bySetUp()
	sight := make(map[string]float64, len(names))
	number := make(map[string]int, len(names))
	for _, r := range b.rows {
		if r.Elevation.Known {
			b.known[r.Station] = r.Elevation.Value
		}
	}
	for len(sight) < len(names) {
		next, tied := b.mostTied(names, rows, sight)
		if !tied {
			return b.untied(names, rows, sight)
		}
		number[next] = len(sight) + 1
		sight[next] = b.lineOfSight(rows[next])
		for _, i := range rows[next] {
			r := &b.rows[i]
			z := sight[next] - r.Rod.Value
			if before, ok := b.known[r.Station]; ok {
				b.out.Ties = append(b.out.Ties, Tie{r.Station, next, z - before})
				continue
			}
			b.known[r.Station] = z
		}
	}
	for i := range b.rows {
		r := &b.rows[i]
		switch {
		case r.Rod.Known:
			b.out.Levels = append(b.out.Levels, Level{Row: i, SetUp: number[r.SetUp], Elevation: sight[r.SetUp] - r.Rod.Value})
		case r.Elevation.Known:
			b.out.Levels = append(b.out.Levels, Level{Row: i, Elevation: r.Elevation.Value})
		default:
			return &Error{r.Line, fmt.Sprintf("station %q has no reading", r.Station), "give a rod reading or an elevation, or take the row out"}
		}
	}
	return nil
}

// bySetUp returns the set-ups in the order in which they are first named, and the rows of each.
func (b *book) bySetUp() (names []string, rows map[string][]int) {
	rows = map[string][]int{}
	for i := range b.rows {
		r := &b.rows[i]
		if !r.Rod.Known {
			continue
		}
		if rows[r.SetUp] == nil {
			names = append(names, r.SetUp)
		}
		rows[r.SetUp] = append(rows[r.SetUp], i)
	}
	return names, rows
}

// mostTied returns the set-up without a line of sight that has most stations of known elevation, the earliest of equals;
// false where none has any.
func (b *book) mostTied(names []string, rows map[string][]int, sight map[string]float64) (string, bool) {
	best, most := "", 0
	for _, name := range names {
		if _, done := sight[name]; done {
			continue
		}
		n := 0
		for _, i := range rows[name] {
			if _, ok := b.known[b.rows[i].Station]; ok {
				n++
			}
		}
		if n > most {
			best, most = name, n
		}
	}
	return best, most > 0
}

// lineOfSight returns the mean line of sight over the stations of stated elevation, or where there is none over those known.
func (b *book) lineOfSight(rows []int) float64 {
	for _, from := range []map[string]float64{b.stated, b.known} {
		sum, n := 0.0, 0
		for _, i := range rows {
			if z, ok := from[b.rows[i].Station]; ok {
				sum += z + b.rows[i].Rod.Value
				n++
			}
		}
		if n > 0 {
			return sum / float64(n)
		}
	}
	return 0
}

func (b *book) untied(names []string, rows map[string][]int, sight map[string]float64) error {
	for _, name := range names {
		if _, done := sight[name]; done {
			continue
		}
		of := choose.If(name != "", fmt.Sprintf("set-up %q", name), "the set-up")
		return &Error{
			b.rows[rows[name][0]].Line, of + " has no station whose elevation is known",
			"give one of its stations an elevation, or read a station of another set-up from it as well",
		}
	}
	return nil
}

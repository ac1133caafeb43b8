package levelling

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/quantity"
)

// Reduce returns the elevation of every row.
//
// allow is the misclosure that is allowed for one set-up; n set-ups are allowed allow*sqrt(n). A run beyond its
// allowance is not shared out: Within of it is false, and its elevations stay as read. The error is an *Error: a reading
// without a line of sight, a set-up without a known elevation, or a row with readings that do not go together.
func Reduce(rows []Row, allow quantity.Length) (*Reduction, error) {
	b := &book{rows: rows, allow: float64(allow), known: map[string]float64{}, stated: map[string]float64{}, out: &Reduction{}}
	for i := range rows {
		if r := &rows[i]; r.Elevation.Known {
			if z, again := b.stated[r.Station]; again && z != r.Elevation.Value {
				return nil, &Error{r.Line, fmt.Sprintf("station %q has two stated elevations", r.Station), "mend one of them"}
			}
			b.stated[r.Station] = r.Elevation.Value
		}
	}
	var err error
	if lasers(rows) {
		err = b.lasers()
	} else {
		err = b.levels()
	}
	if err != nil {
		return nil, err
	}
	b.share()
	return b.out, nil
}

// lasers reports whether the rows are rods read down from a laser.
func lasers(rows []Row) bool {
	return slices.ContainsFunc(rows, func(x Row) bool { return x.Rod.Known })
}

// book is a level book being reduced.
type book struct {
	rows   []Row
	allow  float64
	known  map[string]float64 // by station: stated, or read before
	stated map[string]float64 // by station
	out    *Reduction

	sight   float64 // elevation of the line of sight
	sighted bool
	setUps  int
	run     int // index into out.Runs of the open run, -1 none
}

// levels reduces backsights, intermediate sights and foresights in the order in which they were booked.
func (b *book) levels() error {
	b.run = -1
	for i := range b.rows {
		r := &b.rows[i]
		if err := b.mayStand(r); err != nil {
			return err
		}
		switch {
		case r.Between.Known:
			b.read(i, b.sight-r.Between.Value)
		case r.Fore.Known:
			b.foresight(i)
		case r.Elevation.Known:
			b.known[r.Station] = r.Elevation.Value
			b.out.Levels = append(b.out.Levels, Level{Row: i, Elevation: r.Elevation.Value})
		}
		if r.Back.Known {
			if err := b.backsight(r); err != nil {
				return err
			}
		}
	}
	b.closeRun()
	return nil
}

// mayStand returns what is wrong with the readings of a row.
func (b *book) mayStand(r *Row) error {
	switch {
	case r.Between.Known && (r.Back.Known || r.Fore.Known):
		return &Error{
			r.Line, fmt.Sprintf("station %q has an intermediate sight beside a backsight or foresight", r.Station),
			"book a turning point as a foresight and a backsight, and any other point as an intermediate sight",
		}
	case (r.Between.Known || r.Fore.Known) && !b.sighted:
		return &Error{
			r.Line, fmt.Sprintf("station %q was read before any backsight", r.Station),
			"begin each set-up with a backsight on a point whose elevation is known",
		}
	case !r.Between.Known && !r.Fore.Known && !r.Back.Known && !r.Elevation.Known:
		return &Error{r.Line, fmt.Sprintf("station %q has no reading", r.Station), "give a reading or an elevation, or take the row out"}
	}
	return nil
}

func (b *book) read(row int, z float64) {
	b.out.Levels = append(b.out.Levels, Level{Row: row, SetUp: b.setUps, Elevation: z})
	if _, again := b.known[b.rows[row].Station]; !again {
		b.known[b.rows[row].Station] = z
	}
}

// foresight ends a set-up; on a station whose elevation is stated it closes the run.
func (b *book) foresight(i int) {
	r := &b.rows[i]
	z := b.sight - r.Fore.Value
	run := &b.out.Runs[b.run]
	run.Foresights += r.Fore.Value
	run.Last, run.To = z, r.Station
	b.sighted = false
	b.out.Levels = append(b.out.Levels, Level{Row: i, SetUp: b.setUps, Elevation: z})
	if z0, ok := b.stated[r.Station]; ok {
		b.known[r.Station] = z0
		run.Closed, run.Known = true, z0
		b.closeRun()
		return
	}
	b.known[r.Station] = z
}

// backsight starts a set-up: the next of the open run where it stands on that run's last point, else a run of its own.
func (b *book) backsight(r *Row) error {
	z, ok := b.known[r.Station]
	if !ok {
		return &Error{
			r.Line, fmt.Sprintf("the backsight on %q stands on no known elevation", r.Station),
			"give its elevation in this row, or close the set-up before with a foresight on it",
		}
	}
	b.setUps++
	if b.run >= 0 && b.out.Runs[b.run].To != r.Station {
		b.closeRun()
	}
	if b.run < 0 {
		b.run = len(b.out.Runs)
		b.out.Runs = append(b.out.Runs, Run{From: r.Station, To: r.Station, First: z, Last: z, firstSetUp: b.setUps})
	}
	run := &b.out.Runs[b.run]
	run.SetUps++
	run.Backsights += r.Back.Value
	b.sight, b.sighted = z+r.Back.Value, true
	return nil
}

// closeRun ends the open run, if there is one.
func (b *book) closeRun() {
	if b.run < 0 {
		return
	}
	run := &b.out.Runs[b.run]
	run.Allowed = b.allow * math.Sqrt(float64(run.SetUps))
	b.run = -1
}

// share shares each run's misclosure out by the number of set-ups, where it is allowed and there is more than one.
func (b *book) share() {
	for i := range b.out.Runs {
		run := &b.out.Runs[i]
		if !run.Within() || run.SetUps < 2 {
			continue
		}
		for k := range b.out.Levels {
			l := &b.out.Levels[k]
			if n := l.SetUp - run.firstSetUp + 1; n >= 1 && n <= run.SetUps {
				l.Shared = -run.Misclosure() * float64(n) / float64(run.SetUps)
			}
		}
	}
}

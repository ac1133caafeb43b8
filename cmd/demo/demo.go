// Package demo writes invented roofs with planted faults: what `runnel demo DIR` gives a newcomer to
// check, and what the acceptance tests of the whole program check.
//
// A roof is designed as planes of which the greater or the lesser is taken, so that valleys, ridges,
// crickets and four-way falls are exact. Faults are then built in as a crew would make them: a drain's
// rim set high, a dish between joists, a curb without its cricket. A survey of it follows the surveyor's
// habits: walls, curbs and breaklines first, then every place that looks odd, then irregular rows, each
// elevation with an error of a few millimetres and booked to the millimetre or the hundredth of a foot.
// The files hold only what was surveyed. What was planted stands beside them in <stem>.faults.json.
//
// Every roof is invented; those in longitude and latitude stand in open ocean. The same roof is written
// with the same bytes every time.
package demo

import (
	"fmt"

	"github.com/paulmach/orb"
)

// Roof is an invented roof, surveyed.
type Roof struct {
	survey *survey
	method method
	format format
}

// File is one file of an invented roof.
type File struct {
	Name  string
	Bytes []byte
}

// Stem is what the names of the roof's files begin with.
func (r *Roof) Stem() string { return r.survey.site.stem }

// title says what the roof is, in a few words.
func (r *Roof) title() string {
	s := r.survey.site
	return fmt.Sprintf("%s, %s", s.building, s.name)
}

// Faults returns what was planted, its places in the coordinates of the roof's files.
func (r *Roof) Faults() []Fault {
	placed := make([]Fault, len(r.survey.site.faults))
	for i, f := range r.survey.site.faults {
		f.Place = r.format.place(f.Place)
		area := make(orb.Ring, len(f.Area))
		for j, p := range f.Area {
			area[j] = r.format.place(p)
		}
		f.Area = area
		placed[i] = f
	}
	return placed
}

// Spots counts the places at which the rod was held.
func (r *Roof) Spots() int {
	held := map[orb.Point]bool{}
	s := r.survey
	for _, group := range append(append([][]shot{s.walls, s.spots}, s.folds...), s.curbs...) {
		for _, p := range group {
			held[p.at] = true
		}
	}
	return len(held)
}

// Inputs returns the files of the survey, as a surveyor would hand them over.
func (r *Roof) Inputs() []File {
	var c collection
	r.drawing(&c)
	stem := r.Stem()
	if r.format.points == "" {
		r.field(&c)
		return []File{{stem + ".geojson", c.bytes(r.format.members()...)}}
	}
	return []File{{stem + ".geojson", c.bytes(r.format.members()...)}, {stem + ".csv", r.table()}}
}

// survey measures a site and keeps how.
func surveyed(s *site, m method, f format) *Roof {
	return &Roof{survey: measure(s, m), method: m, format: f}
}

// Sigma returns the standard deviation of the roof's surveyed elevations [m].
func (r *Roof) Sigma() float64 { return r.method.sigma }

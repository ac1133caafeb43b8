package setout

import (
	"math"

	"runnel/analysis/place"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/export/record"
)

// findMark returns the bench mark of that name; the usual one where name is empty.
func findMark(b *record.Book, border []place.Border, name string) (Mark, error) {
	if name == "" {
		return usualMark(b, border), nil
	}
	for i := range b.Study.Surface.Outlets {
		o := &b.Study.Surface.Outlets[i]
		if name == o.Label || name == o.ID || name == b.Names.Roof+"."+o.ID || name == b.Names.Outlets[i] ||
			o.Source >= 0 && name == b.Study.Roof.Outlets[o.Source].ID {
			return outletMark(b, i), nil
		}
	}
	for i := range b.Study.Roof.Spots {
		if p := &b.Study.Roof.Spots[i]; p.HasZ && (name == p.ID || name == b.Names.Input("spot", p.ID)) {
			return Mark{What: "spot " + p.ID, Plan: p.Plan, Z: p.Z}, nil
		}
	}
	return Mark{}, &UnknownMarkError{name}
}

func outletMark(b *record.Book, i int) Mark {
	o := &b.Study.Surface.Outlets[i]
	return Mark{What: "inlet of " + o.Label, Plan: o.Plan, Z: o.Invert, Inlet: o.Type != roof.EdgeOutlet, Assumed: o.InvertAssumed}
}

// usualMark returns the first primary drain or scupper, one whose inlet was measured rather than not; then the first run of gutter
// or free edge; then the lowest corner of the outline. Of a design, what it moves is no mark: where no outlet
// stays, the first spot does that stays, and where all is covered, a mark that is made on a wall before the work.
func usualMark(b *record.Book, border []place.Border) Mark {
	best, least := -1, 2*ranks
	for i := range b.Study.Surface.Outlets {
		o := &b.Study.Surface.Outlets[i]
		rank := 0
		switch {
		case o.Duty != roof.Primary:
			continue
		case o.Type == roof.EdgeOutlet:
			rank = 2
		case o.InvertAssumed:
			rank = 1
		}
		if moves(b, o) {
			rank += ranks
		}
		if rank < least {
			best, least = i, rank
		}
	}
	if least >= ranks {
		if m, ok := fixedSpot(b); ok {
			return m
		}
		if m, ok := madeMark(b); ok {
			return m
		}
	}
	if best >= 0 {
		return outletMark(b, best)
	}
	return lowestCorner(&border[0])
}

// ranks is how many ranks of outlets there are: measured, not measured, edge.
const ranks = 3

// stays is how far a thing may move and be said to stay [m].
const stays = 0.0005

// moves reports whether a design sets an outlet to another level, lowers or raises an edge anywhere, or makes the outlet.
func moves(b *record.Book, o *surface.Outlet) bool {
	if b.Found == nil {
		return false
	}
	for i := range b.Found.Surface.Outlets {
		was := &b.Found.Surface.Outlets[i]
		if was.Source != o.Source || was.Type != o.Type || was.Label != o.Label {
			continue
		}
		if math.Abs(was.Invert-o.Invert) > stays {
			return true
		}
		old, now := surface.NewLocator(b.Found.Surface.TIN), surface.NewLocator(b.Study.Surface.TIN)
		for _, p := range was.Line {
			z, ok := old.HeightAt(p[0], p[1])
			if to, on := now.HeightAt(p[0], p[1]); ok && on && math.Abs(to-z) > stays {
				return true
			}
		}
		return false
	}
	return true
}

// fixedSpot returns the first spot of the survey at whose place a design leaves the surface as it is.
func fixedSpot(b *record.Book) (Mark, bool) {
	if b.Found == nil {
		return Mark{}, false
	}
	old, now := surface.NewLocator(b.Found.Surface.TIN), surface.NewLocator(b.Study.Surface.TIN)
	for i := range b.Found.Roof.Spots {
		p := &b.Found.Roof.Spots[i]
		z, ok := old.HeightAt(p.Plan[0], p.Plan[1])
		to, on := now.HeightAt(p.Plan[0], p.Plan[1])
		if p.ID != "" && p.HasZ && ok && on && math.Abs(to-z) < stays && math.Abs(p.Z-z) < stays {
			return Mark{What: "spot " + p.ID, Plan: p.Plan, Z: p.Z}, true
		}
	}
	return Mark{}, false
}

// madeMark returns a mark that the crew makes on a wall before the work, level with the first spot of the survey: for a design that covers all there is.
func madeMark(b *record.Book) (Mark, bool) {
	if b.Found == nil {
		return Mark{}, false
	}
	for i := range b.Found.Roof.Spots {
		if p := &b.Found.Roof.Spots[i]; p.ID != "" && p.HasZ {
			return Mark{What: "a mark made on a wall or curb before the work, level with spot " + p.ID, Plan: p.Plan, Z: p.Z, Made: true}, true
		}
	}
	return Mark{}, false
}

func lowestCorner(l *place.Border) Mark {
	m := Mark{What: "lowest corner of the outline"}
	at := 0
	for k, w := range l.Stretches() {
		for l.Plan[at] != w.From {
			at++
		}
		if k == 0 || l.Z[at] < m.Z {
			m.Plan, m.Z = w.From, l.Z[at]
		}
	}
	return m
}

package setout

import (
	"runnel/analysis/place"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// findMark returns the bench mark of that name; the usual one where name is empty.
func findMark(b *record.Book, border []place.Border, name string) (Mark, error) {
	if name == "" {
		return usualMark(b, border), nil
	}
	for i := range b.Study.Surface.Outlets {
		o := &b.Study.Surface.Outlets[i]
		if name == o.Label || name == o.ID || name == b.Names.Outlets[i] ||
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
	return Mark{What: "inlet of " + o.Label, Plan: o.Plan, Z: o.Invert, Assumed: o.InvertAssumed}
}

// usualMark returns the first primary drain or scupper, one whose inlet was measured rather than not; then the first run of gutter
// or free edge; then the lowest corner of the outline.
func usualMark(b *record.Book, border []place.Border) Mark {
	best, least := -1, 3
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
		if rank < least {
			best, least = i, rank
		}
	}
	if best >= 0 {
		return outletMark(b, best)
	}
	return lowestCorner(&border[0])
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

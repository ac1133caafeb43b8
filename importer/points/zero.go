package points

import (
	"fmt"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// settleZeros leaves out elevations of exactly zero among others that are not: most instruments and
// spreadsheets write zero where nothing was measured.
func (r *reader) settleZeros() {
	if r.options.KeepZero {
		return
	}
	zeros, others := 0, 0
	r.eachPosition(func(p *roof.Position) {
		switch {
		case !p.HasZ:
		case p.Z == 0:
			zeros++
		default:
			others++
		}
	})
	if zeros == 0 || others == 0 {
		return
	}
	kept, left := r.out.Spots[:0], []string{}
	for _, s := range r.out.Spots {
		if s.Z == 0 {
			left = append(left, fmt.Sprintf("line %d (%s)", s.Origin.Line, s.ID))
			continue
		}
		kept = append(kept, s)
	}
	r.out.Spots = kept
	r.eachPosition(func(p *roof.Position) { p.HasZ = p.HasZ && p.Z != 0 })
	text := fmt.Sprintf("%s: elevations of exactly 0 among others that are not were not used: %d", r.Name, zeros)
	if len(left) > 0 {
		text += "; spots left out: " + draft.Listing(left)
	}
	r.out.Warnings = append(r.out.Warnings, text+". Say --keep-zero if they were measured.")
}

// eachPosition calls f with everything that has an elevation.
func (r *reader) eachPosition(f func(*roof.Position)) {
	for i := range r.out.Spots {
		f(&r.out.Spots[i].Position)
	}
	for i := range r.out.Cores {
		f(&r.out.Cores[i].Position)
	}
	lines, rings := [][]roof.Position{}, [][]roof.Position{}
	for _, o := range r.out.Outlines {
		rings = append(rings, o.Rings...)
	}
	for _, c := range r.out.Curbs {
		rings = append(rings, c.Ring)
	}
	for _, ring := range rings {
		lines = append(lines, ring[:len(ring)-1])
	}
	for _, b := range r.out.Breaklines {
		lines = append(lines, b.Line)
	}
	for _, e := range r.out.Edges {
		lines = append(lines, e.Line)
	}
	for _, line := range lines {
		for i := range line {
			f(&line[i])
		}
	}
	for _, ring := range rings {
		ring[len(ring)-1] = ring[0]
	}
	for i := range r.out.Outlets {
		o := &r.out.Outlets[i]
		p := roof.Position{Plan: o.Plan, Z: o.Invert, HasZ: o.HasInvert}
		f(&p)
		o.HasInvert = p.HasZ
	}
}

package points

import (
	"fmt"
	"slices"

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
	text := fmt.Sprintf("%s: elevations of exactly 0 among others that are not were not used: %d", r.Name, zeros)
	text += withoutZeros(&r.out.Spots, "spots", func(s *roof.Spot) (roof.Position, roof.Origin) { return s.Position, s.Origin })
	text += withoutZeros(&r.out.Sills, "sills", func(s *roof.Sill) (roof.Position, roof.Origin) { return s.Position, s.Origin })
	if t := r.out.Tape; t != nil {
		text += withoutZeros(&t.Probes, "heights", func(p *roof.Probe) (roof.Position, roof.Origin) { return p.Position, p.Origin })
	}
	r.eachPosition(func(p *roof.Position) { p.HasZ = p.HasZ && p.Z != 0 })
	r.out.Warnings = append(r.out.Warnings, text+". Say --keep-zero if they were measured.")
}

// withoutZeros leaves out what is nothing without an elevation and has one of exactly zero, and says which lines these are; empty where there are none.
func withoutZeros[T any](all *[]T, what string, of func(*T) (roof.Position, roof.Origin)) string {
	var left []string
	*all = slices.DeleteFunc(*all, func(x T) bool {
		at, origin := of(&x)
		if at.Z == 0 {
			left = append(left, fmt.Sprintf("line %d (%s)", origin.Line, origin.ID))
		}
		return at.Z == 0
	})
	if len(left) == 0 {
		return ""
	}
	return "; " + what + " left out: " + draft.Listing(left)
}

// eachPosition calls f with everything that has an elevation.
func (r *reader) eachPosition(f func(*roof.Position)) {
	for i := range r.out.Spots {
		f(&r.out.Spots[i].Position)
	}
	for i := range r.out.Cores {
		f(&r.out.Cores[i].Position)
	}
	for i := range r.out.Sills {
		f(&r.out.Sills[i].Position)
	}
	lines, rings := r.eachTaped(f), [][]roof.Position{}
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

// eachTaped calls f with the heights that were read by tape and level, and returns the edges of water.
func (r *reader) eachTaped(f func(*roof.Position)) (lines [][]roof.Position) {
	t := r.out.Tape
	if t == nil {
		return nil
	}
	for i := range t.Probes {
		f(&t.Probes[i].Position)
	}
	for i := range t.Waters {
		lines = append(lines, t.Waters[i].Edge)
	}
	return lines
}

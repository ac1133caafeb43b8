package text

import (
	"cmp"
	"fmt"
	"strings"

	"runnel/export/record"
)

// How much of each kind the page lists; the rest stands in the files.
const (
	rows     = 12 // planes, valleys
	pondRows = 40
	fullText = 40 // findings
)

// level is the slope under which a valley is said to be level: it would read 0.00 %.
const level = 0.00005

func shareOfRoof(share float64) string { return record.SayShare(share) + " of the roof" }

// local returns an id without the roof's own.
func (p *page) local(id string) string { return strings.TrimPrefix(id, p.book.Names.Roof+".") }

func (p *page) outletTable() {
	p.heading("Outlets")
	s := p.book.Study
	if len(s.Surface.Outlets) == 0 {
		p.line("  none")
		return
	}
	table := [][]string{{"id", "label", "type", "duty", "inlet level", "runs to it", "longest way", "direct", "direct way"}}
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		invert := p.u.SayElevation(o.Invert)
		if o.InvertAssumed {
			invert += " (assumed)"
		}
		way, direct := "-", "-"
		if p.book.Catchment(i) > 0 {
			way = p.u.SayLength(p.book.Travel(i).Longest)
		}
		if p.book.Direct(i) > 0 {
			direct = p.u.SayLength(p.book.DirectTravel(i).Longest)
		}
		table = append(table, []string{
			o.ID, o.Label, record.OutletType(o), record.Duty(o.Duty), invert,
			p.u.SayArea(p.book.Catchment(i)), way, p.u.SayArea(p.book.Direct(i)), direct,
		})
	}
	p.table(table)
	p.hang("  ", "\"Runs to it\" and \"longest way\" are with every low place full; \"direct\" is before any low place overflows.")
	for _, share := range s.Catchments.Shares {
		p.hang("  ", s.Surface.Outlets[share.Outlet].Label+" takes "+record.SayShare(share.Part)+" of what runs to "+
			p.local(p.book.Names.Ponds[share.Pond])+", which outlets of one level hold together.")
	}
	if u := p.book.Undrained; u > 0 {
		p.line("  No way out at any level: ", p.u.SayArea(u), ".")
	}
	if share := s.Flow.Indeterminate / s.Surface.Area; share > 0.005 {
		p.hang("  ", "Level, so that water has no direction of its own: "+p.u.SayArea(s.Flow.Indeterminate)+
			" ("+shareOfRoof(share)+").")
	}
}

func (p *page) pondTable() {
	p.heading("Ponds, each full to its lip")
	s := p.book.Study
	if len(s.Listed) > 0 {
		table := [][]string{{"id", "deep", "5 to 95 %", "area", "water", "weighs", "at the deepest", "where", "then spills to"}}
		for i, l := range s.Listed[:min(pondRows, len(s.Listed))] {
			pond := &s.Ponds.Ponds[l.Pond]
			to := p.local(p.book.Names.End(pond.ToOutlet, pond.ToPond))
			if to == "" {
				to = "nowhere"
			}
			table = append(table, []string{
				l.ID, p.book.SayPondDepth(i), cmp.Or(p.book.SayPondRange(i), "-"), p.book.SayPondArea(i), p.book.SayPondVolume(i),
				p.book.SayPondWeight(i), p.book.SayPondLoad(i), string(l.Place), to,
			})
		}
		p.table(table)
		p.hang("  ", "\"5 to 95 %\": with 95 % confidence the depth is over the one figure and not over the other, by the errors of the survey at its spots; "+
			"what lies between spots is not covered. A pond whose depth is a range is barely shown by the spots.")
		p.rest("smaller ponds", len(s.Listed)-pondRows)
	} else {
		p.line("  none listed")
	}
	if s.Shallow.Count > 0 {
		p.hang("  ", p.book.Shallow())
	}
}

func (p *page) planeTable() {
	planes := p.book.Study.Slopes.Planes
	p.heading("Planes")
	table := [][]string{{"id", "area", "falls", "to the", ""}}
	for i := range planes[:min(rows, len(planes))] {
		l := &planes[i]
		slope, to, below := p.u.SaySlope(l.Slope), record.SayBearing(l.Aspect), ""
		if l.Level {
			slope, to = "level", "-"
		}
		if l.BelowMin {
			below = "under the criterion"
		}
		table = append(table, []string{p.local(p.book.Names.Plane(i)), p.u.SayArea(l.Area), slope, to, below})
	}
	p.table(table)
	p.rest("smaller planes", len(planes)-rows)
	p.line("  Under the criterion of ", p.u.SaySlope(p.book.Study.Criteria.MinSlope), ": ",
		shareOfRoof(p.book.Study.Slopes.BelowMinShare), ".")
}

// rest says how many more there are.
func (p *page) rest(what string, n int) {
	if n > 0 {
		p.line(fmt.Sprintf("  and %d %s in the files", n, what))
	}
}

func (p *page) valleyTable() {
	valleys := p.book.Study.Slopes.Valleys
	if len(valleys) == 0 {
		return
	}
	p.heading("Valleys, from end to end")
	table := [][]string{{"id", "long", "drops", "falls", ""}}
	for i := range valleys[:min(rows, len(valleys))] {
		l := &valleys[i]
		var notes []string
		if l.BelowMin {
			notes = append(notes, "under the criterion")
		}
		if l.BackFall > 0.001 {
			notes = append(notes, "runs back up "+p.u.SayDepth(l.BackFall))
		}
		slope := p.u.SaySlope(l.Slope)
		if l.Slope < level {
			slope = "level"
		}
		table = append(table, []string{
			p.local(p.book.Names.Valley(i)), p.u.SayLength(l.Length), p.u.SayDepth(l.Drop), slope,
			strings.Join(notes, ", "),
		})
	}
	p.table(table)
	p.rest("more valleys", len(valleys)-rows)
}

package board

import "github.com/paulmach/orb"

// volumes books the volume of every piece to its rows and to the layout.
func (l *Layout) volumes() {
	at := make(map[Kind]int, len(l.Schedule))
	for i := range l.Schedule {
		at[l.Schedule[i].Kind] = i
	}
	for i := range l.Pieces {
		p := &l.Pieces[i]
		for _, f := range p.Fill {
			l.Schedule[at[Kind{f, f}]].Volume += float64(f * p.Area)
			l.Volume += float64(f * p.Area)
		}
		if p.Kind.Thick > 0 {
			l.Schedule[at[p.Kind]].Volume += p.tapered
			l.Volume += p.tapered
		}
	}
}

// wedge returns the volume of a board over a plan: its thin edge at the course's start [m3]. The thickness is
// linear, so it is the area times the thickness at the centroid.
func (g *grid) wedge(k Kind, course int, plan orb.MultiPolygon) float64 {
	volume := 0.0
	for _, polygon := range plan {
		for _, r := range polygon {
			for i := 1; i < len(r); i++ {
				a, b := g.local(r[i-1]), g.local(r[i])
				cross := float64(a[0]*b[1]) - float64(b[0]*a[1])
				middle := (a[0]+b[0])/3 - float64(course)*g.length
				volume += cross / 2 * (k.Thin + float64((k.Thick-k.Thin)/g.length*middle))
			}
		}
	}
	return volume
}

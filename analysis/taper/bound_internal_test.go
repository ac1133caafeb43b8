package taper

import "github.com/paulmach/orb"

// Bound returns the box round what is laid.
func (l *Laying) Bound() orb.Bound {
	b := l.at[0].Bound()
	for _, q := range l.at {
		b = b.Extend(q)
	}
	return b
}

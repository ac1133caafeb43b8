package demo

import "runnel/analysis/finding"

// Faults that show only once rain is compared with the outlets, or an overflow with its primary.

// leaderSmall gives outlet i a leader of the given diameter, too small for what comes to it.
func (s *site) leaderSmall(i int, diameter float64) {
	s.outlets[i].leader = diameter
	s.rainFault(i, finding.OutletSmall, "the leader of "+s.outlets[i].label+" is too small")
}

// openingLow gives scupper i an opening so low that it runs full.
func (s *site) openingLow(i int, height float64) {
	s.outlets[i].height = height
	s.rainFault(i, finding.ScupperFull, "the opening of "+s.outlets[i].label+" is too low")
}

// overflowHigh sets overflow i far above the membrane.
func (s *site) overflowHigh(i int, height float64) {
	s.outlets[i].set = height
	s.rainFault(i, finding.OverflowHigh, s.outlets[i].label+" stands too high")
}

// rainFault books a fault of outlet i that the surface does not show.
func (s *site) rainFault(i int, kind finding.Kind, what string) {
	at := s.outlets[i].at
	s.faults = append(s.faults, Fault{Kind: kind, What: what, Place: at, Area: disc(at, 0.3)})
}

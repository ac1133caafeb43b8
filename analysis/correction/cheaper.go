package correction

import "slices"

// mostCheaper bounds how many options are run to find a cheaper one.
const mostCheaper = 24

// cheaper looks, where money is to decide, for other ways for single ponds that dry all of them at a lower cost, pond by pond; it returns all that was run and which
// of it is the answer. An option that is not better in any other respect is taken for its cost alone, one that is refused or leaves a pond never.
func (s *search) cheaper(tried []Option, best int) ([]Option, int) {
	cost := s.d.in.Cost
	if cost == nil || !tried[best].dries() {
		return tried, best
	}
	least, known := cost(&tried[best])
	if !known {
		return tried, best
	}
	look := func(i int) {
		o := &tried[i]
		if c, ok := cost(o); ok && o.dries() && o.FlatLeft <= tried[best].FlatLeft && c < least {
			best, least = i, c
		}
	}
	for i := range tried {
		look(i)
	}
	runs := 0
	for i := range s.ways {
		for k := range s.ways[i] {
			if k == tried[best].picks[i] || runs == mostCheaper {
				continue
			}
			s.pick = slices.Clone(tried[best].picks)
			s.pick[i] = k
			o := s.d.altered(s.chosen())
			o.picks, runs = slices.Clone(s.pick), runs+1
			tried = append(tried, o)
			look(len(tried) - 1)
		}
	}
	return tried, best
}

// dries reports whether an option may be an answer: it leaves no pond and is not refused.
func (o *Option) dries() bool {
	return o.Possible && o.Study != nil && o.PondsLeft == 0 && !o.refused()
}

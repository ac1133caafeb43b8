package evidence

// offer is the cheapest change for a low place as the ground stood at a turn. It holds until something is changed of what was looked at.
type offer struct {
	price, level float64
	raise, path  []int32 // elements to raise to level, and to lower to it; none where the price reaches the threshold
	door         int32   // door to lower at the end of the path; -1 none
	read         []int32 // elements that were looked at, with their neighbours
	turn         int32

	pit          int32
	alone, spent float64 // price on the measured surface; what it cost to cancel it, its price while it stands
	gone         bool
}

// holds reports whether an offer is what its low place would be offered now.
func (o *offer) holds(s *state) bool { return !s.changedIn(o.read, o.turn) }

type bidder struct {
	*pricer
	most float64 // price from which nothing is changed
	kept []int32 // room for the elements of offers
}

// renew makes the offer for the low place of o anew.
func (b *bidder) renew(o *offer) {
	c := b.price(o.pit)
	o.price, o.level, o.door, o.turn = c.price, c.level, c.door, b.now
	o.read = append(o.read[:0], b.read...)
	if o.raise, o.path = nil, nil; c.price < b.most {
		o.raise, o.path = b.keep(b.flood[:c.full]), b.keep(c.path)
	}
}

// keep returns a copy of a list.
func (b *bidder) keep(list []int32) []int32 {
	const room = 1024
	if cap(b.kept)-len(b.kept) < len(list) {
		b.kept = make([]int32, 0, max(room, len(list)))
	}
	from := len(b.kept)
	b.kept = append(b.kept, list...)
	return b.kept[from:len(b.kept):len(b.kept)]
}

// Package bid compares bids on one scope: what each adds up to, what it leaves out, and what does not compare. It orders nothing and recommends nobody.
package bid

import (
	"math"
	"strings"
)

// Item is one thing that is bid on.
type Item struct {
	What   string
	Amount string  // as the scope states it; empty for a unit price
	Allow  float64 // of a unit price, how many units are counted; 0 for none
}

// Unit reports whether a price for the item is one for a unit.
func (i *Item) Unit() bool { return i.Amount == "" }

// Kind says what stands in a cell of a bid.
type Kind uint8

// What a bid says of an item.
const (
	Out      Kind = iota // no price: it is left out
	Priced               // a price
	Included             // in the price of another item
)

// Price is what a bid says of one item.
type Price struct {
	Kind  Kind
	Value float64
}

// Bid is one bidder's prices.
type Bid struct {
	Name     string
	Prices   []Price // one for each item
	Total    Price   // as the bidder wrote it
	LeftOut  string  // what the bidder says is not included
	Currency string  // sign or name beside the prices; empty for none
}

// Sheet is the table that bidders filled in.
type Sheet struct {
	Items []Item
	Bids  []Bid
}

// Sum is what one bid adds up to.
type Sum struct {
	Sum      float64 // of the amounts, and of unit prices times what is allowed of them
	Alike    float64 // the same over the items to which every bid has a price
	LeftOut  []int   // items without a price that count: amounts, and unit prices of which some are allowed
	Included []int   // items in the price of others
	NoUnit   []int   // unit prices that are wanting and of which nothing is allowed
	Off      float64 // the total as written less Sum
	HasTotal bool
}

// Comparison is all bids side by side, in the order in which they were given.
type Comparison struct {
	*Sheet
	Sums       []Sum
	Alike      []int // items to which every bid has a price
	Changed    []int // items that are not those of the scope today
	Currencies bool  // bids are in more than one
	Unallowed  []int // unit prices of which nothing is allowed: they count in no sum
}

// Compare compares bids. scope is what is bid on today: bids on other items do not compare with it.
func Compare(s *Sheet, scope []Item) *Comparison {
	c := &Comparison{Sheet: s, Sums: make([]Sum, len(s.Bids))}
	for i := range s.Items {
		item := &s.Items[i]
		if i >= len(scope) || !same(item, &scope[i]) {
			c.Changed = append(c.Changed, i)
		}
		all := len(s.Bids) > 0
		for k := range s.Bids {
			all = all && s.Bids[k].Prices[i].Kind == Priced
			c.Sums[k].add(item, i, s.Bids[k].Prices[i])
		}
		switch {
		case item.Unit() && item.Allow == 0:
			c.Unallowed = append(c.Unallowed, i)
		case all:
			c.Alike = append(c.Alike, i)
			for k := range s.Bids {
				c.Sums[k].Alike += counted(item, s.Bids[k].Prices[i])
			}
		}
	}
	for i := len(s.Items); i < len(scope); i++ {
		c.Changed = append(c.Changed, i)
	}
	for k := range s.Bids {
		if t := s.Bids[k].Total; t.Kind == Priced {
			c.Sums[k].HasTotal, c.Sums[k].Off = true, cents(t.Value-c.Sums[k].Sum)
		}
		c.Currencies = c.Currencies || s.Bids[k].Currency != s.Bids[0].Currency
	}
	return c
}

// add adds what a bid says of an item.
func (s *Sum) add(item *Item, i int, p Price) {
	counts := !item.Unit() || item.Allow > 0
	switch {
	case p.Kind == Included:
		s.Included = append(s.Included, i)
	case p.Kind == Out && counts:
		s.LeftOut = append(s.LeftOut, i)
	case p.Kind == Out:
		s.NoUnit = append(s.NoUnit, i)
	case counts:
		s.Sum = cents(s.Sum + counted(item, p))
	}
}

// counted is what a price counts: that of an amount, or of a unit times what is allowed.
func counted(item *Item, p Price) float64 {
	if item.Unit() {
		return cents(p.Value * item.Allow)
	}
	return p.Value
}

// cents rounds money to a hundredth.
func cents(v float64) float64 { return math.Round(v*100) / 100 }

// same reports whether two items are one, whatever their spacing.
func same(a, b *Item) bool {
	plain := func(s string) string {
		return strings.Join(strings.Fields(strings.ToLower(strings.TrimPrefix(s, "'"))), " ")
	}
	return plain(a.What) == plain(b.What) && plain(a.Amount) == plain(b.Amount)
}

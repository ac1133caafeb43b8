package takeoff

import (
	"encoding/json"
	"fmt"
	"strings"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/textfile"
)

// Prices are the user's prices of one unit each.
type Prices struct {
	Currency string
	by       map[string]float64
}

// rate is one price that a file may hold.
type rate struct {
	name string
	of   subject
	size float64 // of its unit in SI
}

// subject is what a price is for. Two prices for one subject are refused: it would be counted twice.
type subject uint8

const (
	insulation subject = iota
	covering
	strip
	mitre
	cutLine
	outletReset
	outletNew
	overflowReset
	removal
	levelling
	toMeasure
)

// rates are all names of prices.
var rates = []rate{
	{"per_board_foot", insulation, standard.BoardFoot},
	{"per_m3", insulation, 1},
	{"per_board", insulation, 1},
	{"per_sq_ft", covering, quantity.SquareFoot},
	{"per_m2", covering, 1},
	{"per_ft_edge_strip", strip, float64(quantity.Foot)},
	{"per_m_edge_strip", strip, 1},
	{"per_ft_mitre", mitre, float64(quantity.Foot)},
	{"per_m_mitre", mitre, 1},
	{"per_ft_cut_line", cutLine, float64(quantity.Foot)},
	{"per_m_cut_line", cutLine, 1},
	{"per_outlet_reset", outletReset, 1},
	{"per_outlet_new", outletNew, 1},
	{"per_overflow_reset", overflowReset, 1},
	{"per_board_foot_removed", removal, standard.BoardFoot},
	{"per_m3_removed", removal, 1},
	{"per_cu_ft_leveller", levelling, quantity.SquareFoot * float64(quantity.Foot)},
	{"per_m3_leveller", levelling, 1},
	{"per_board_foot_to_measure", toMeasure, standard.BoardFoot},
	{"per_m3_to_measure", toMeasure, 1},
}

// PriceNames lists the names that a file of prices may hold besides currency.
func PriceNames() string {
	return strings.Join(gather.Each(rates, func(x rate) string { return x.name }), ", ")
}

// ParsePrices reads the user's prices, a JSON object of names and numbers:
//
//	{"currency": "$", "per_board_foot": 1.55, "per_outlet_reset": 900}
//
// A name that is not known, one given twice, and two prices for one thing are refused with their line.
func ParsePrices(data []byte) (*Prices, error) {
	members, err := textfile.Members(data, "a file of prices is one JSON object of names and numbers")
	if err != nil {
		return nil, err
	}
	p := &Prices{by: map[string]float64{}}
	for i := range members {
		m := &members[i]
		var value any
		err := json.Unmarshal(m.Value, &value)
		if err == nil {
			err = p.set(m.Name, value)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", m.Line, err)
		}
	}
	return p, nil
}

// mostPrice is the greatest price of one unit: more than that is a slip, in any currency.
const mostPrice = 1e9

// longestCurrency is how long the name of a currency may be [characters].
const longestCurrency = 12

// set takes one member of the file.
func (p *Prices) set(name string, value any) error {
	if name == "currency" {
		text, ok := value.(string)
		if !ok || len([]rune(text)) > longestCurrency || p.Currency != "" {
			return fmt.Errorf("currency: one text of at most %d characters", longestCurrency)
		}
		p.Currency = text
		return nil
	}
	r := rateNamed(name)
	if r == nil {
		return fmt.Errorf("%.40q is no price: use currency, %s", name, PriceNames())
	}
	number, ok := value.(float64)
	if !ok || !(number >= 0 && number <= mostPrice) {
		return fmt.Errorf("%s: a price is a number from 0 to a thousand million", name)
	}
	for i := range rates {
		if _, given := p.by[rates[i].name]; given && rates[i].of == r.of {
			return fmt.Errorf("%s: %s gives a price for the same thing already", name, rates[i].name)
		}
	}
	p.by[name] = number
	return nil
}

func rateNamed(name string) *rate {
	for i := range rates {
		if rates[i].name == name {
			return &rates[i]
		}
	}
	return nil
}

func (p *Prices) price(s subject) (r *rate, unit float64, ok bool) {
	if p == nil {
		return nil, 0, false
	}
	for i := range rates {
		if v, given := p.by[rates[i].name]; given && rates[i].of == s {
			return &rates[i], v, true
		}
	}
	return nil, 0, false
}

package board

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"runnel/analysis/quantity"
	"runnel/analysis/textfile"
)

// ParseStock reads a supplier's list, a JSON object:
//
//	{"rates": ["1/8 in per ft", "1/4 in per ft"], "length": "4 ft", "width": "4 ft",
//	 "thin_edge": "1/2 in", "greatest_thickness": "4 in", "fill_step": "1/2 in"}
//
// What it does not name stays as in Usual. Unknown names are refused.
func ParseStock(data []byte) (Stock, error) {
	members, err := textfile.Members(data, "a list of boards is a JSON object with rates, length, width, thin_edge, greatest_thickness and fill_step")
	if err != nil {
		return Stock{}, err
	}
	s := Usual()
	lengths := map[string]*quantity.Length{
		"length": &s.Length, "width": &s.Width, "thin_edge": &s.Thin, "greatest_thickness": &s.Greatest, "fill_step": &s.FillStep,
	}
	for i := range members {
		m := &members[i]
		into, isLength := lengths[m.Name]
		switch {
		case m.Name == "rates":
			err = s.rates(m.Value)
		case isLength:
			err = length(m, into)
		default:
			err = fmt.Errorf("%.40q is no part of it: use rates, length, width, thin_edge, greatest_thickness, fill_step", m.Name)
		}
		if err != nil {
			return Stock{}, fmt.Errorf("line %d: %w", m.Line, err)
		}
	}
	if s.Greatest <= s.Thin {
		return Stock{}, fmt.Errorf("greatest_thickness must be more than thin_edge")
	}
	return s, nil
}

// length reads a length above zero.
func length(m *textfile.Member, into *quantity.Length) error {
	text, _ := m.Text()
	v, err := quantity.ParseLength(text, quantity.Unstated)
	if err == nil && v <= 0 {
		err = errors.New("it must be above zero")
	}
	if err != nil {
		return fmt.Errorf("%s: %w", m.Name, err)
	}
	*into = v
	return nil
}

// rates reads the rates of taper.
func (s *Stock) rates(value json.RawMessage) error {
	var texts []string
	if err := json.Unmarshal(value, &texts); err != nil {
		return errors.New(`rates: give a list of texts, such as ["1/8 in per ft"]`)
	}
	s.Rates = nil
	for _, text := range texts {
		r, err := quantity.ParseSlope(text)
		if err == nil && r <= 0 {
			err = errors.New("it must be above zero")
		}
		if err != nil {
			return fmt.Errorf("rates: %w", err)
		}
		s.Rates = append(s.Rates, r)
	}
	if len(s.Rates) == 0 {
		return errors.New("rates: name one rate at least")
	}
	slices.Sort(s.Rates)
	s.Rates = slices.Compact(s.Rates)
	return nil
}

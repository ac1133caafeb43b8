package board

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"runnel/analysis/quantity"
)

// ParseStock reads a supplier's list, a JSON object:
//
//	{"rates": ["1/8 in per ft", "1/4 in per ft"], "length": "4 ft", "width": "4 ft",
//	 "thin_edge": "1/2 in", "greatest_thickness": "4 in", "fill_step": "1/2 in"}
//
// What it does not name stays as in Usual. Unknown names are refused.
func ParseStock(data []byte) (Stock, error) {
	var file struct {
		Rates  []string `json:"rates"`
		Length string   `json:"length"`
		Width  string   `json:"width"`
		Thin   string   `json:"thin_edge"`
		Most   string   `json:"greatest_thickness"`
		Step   string   `json:"fill_step"`
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&file); err != nil {
		return Stock{}, fmt.Errorf("a list of boards is a JSON object with rates, length, width, thin_edge, greatest_thickness and fill_step: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Stock{}, errors.New("a list of boards must be one JSON object: something follows it")
	}
	s := Usual()
	for _, l := range []struct {
		name, text string
		into       *quantity.Length
	}{
		{"length", file.Length, &s.Length},
		{"width", file.Width, &s.Width},
		{"thin_edge", file.Thin, &s.Thin},
		{"greatest_thickness", file.Most, &s.Greatest},
		{"fill_step", file.Step, &s.FillStep},
	} {
		if l.text == "" {
			continue
		}
		v, err := quantity.ParseLength(l.text, quantity.Unstated)
		if err == nil && v <= 0 {
			err = errors.New("it must be above zero")
		}
		if err != nil {
			return Stock{}, fmt.Errorf("%s: %w", l.name, err)
		}
		*l.into = v
	}
	if err := s.rates(file.Rates); err != nil {
		return Stock{}, err
	}
	if s.Greatest <= s.Thin {
		return Stock{}, fmt.Errorf("greatest_thickness must be more than thin_edge")
	}
	return s, nil
}

// rates reads the rates of taper, where any are given.
func (s *Stock) rates(texts []string) error {
	if texts == nil {
		return nil
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

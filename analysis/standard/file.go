package standard

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"runnel/analysis/quantity"
)

// ParseFile reads a file of criteria: a JSON object with the names of the criteria. A value is a string
// with its unit ("1/4 in per ft", "25 mm/h"); a slope may also be a bare number, rise over run.
func ParseFile(data []byte) (Overrides, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var members map[string]any
	if err := d.Decode(&members); err != nil {
		return nil, fmt.Errorf("criteria must be a JSON object of names and values: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("criteria must be one JSON object: something follows it")
	}
	names := make([]string, 0, len(members))
	for name := range members {
		names = append(names, name)
	}
	slices.Sort(names)
	o := Overrides{}
	for _, name := range names {
		var text string
		switch v := members[name].(type) {
		case string:
			text = v
		case json.Number:
			text = v.String()
		default:
			return nil, fmt.Errorf(`%s: give a string with a unit, such as "1/4 in"`, name)
		}
		value, err := Parse(name, text, quantity.Unstated)
		if err != nil {
			return nil, err
		}
		o[name] = value
	}
	return o, nil
}

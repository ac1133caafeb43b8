package standard

import (
	"fmt"

	"runnel/analysis/quantity"
	"runnel/analysis/textfile"
)

// ParseFile reads a file of criteria: a JSON object with the names of the criteria, each once. A value is a string
// with its unit ("1/4 in per ft", "25 mm/h"); a slope may also be a bare number, rise over run.
func ParseFile(data []byte) (Overrides, error) {
	members, err := textfile.Members(data, `criteria are a JSON object of names and values, such as {"pond_depth": "1/2 in"}`)
	if err != nil {
		return nil, err
	}
	o := Overrides{}
	for i := range members {
		m := &members[i]
		text, ok := m.Text()
		if !ok {
			return nil, fmt.Errorf(`line %d: %.40s: give a string with a unit, such as "1/4 in"`, m.Line, m.Name)
		}
		if o[m.Name], err = Parse(m.Name, text, quantity.Unstated); err != nil {
			return nil, fmt.Errorf("line %d: %w", m.Line, err)
		}
	}
	return o, nil
}

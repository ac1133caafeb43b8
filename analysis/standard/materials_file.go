package standard

import (
	"fmt"

	"runnel/analysis/quantity"
	"runnel/analysis/textfile"
)

// ParseMaterials reads a file of the user's own thermal resistances: a JSON object of materials, each with its resistance per thickness as a
// text with its unit, {"polyiso": "5.6 per in"}. It returns m K/W by name. A name that stands twice, or differs only in case and signs, is refused.
func ParseMaterials(data []byte) (map[string]float64, error) {
	members, err := textfile.Members(data, `materials are a JSON object of names and texts, such as {"polyiso": "5.6 per in"}`)
	if err != nil {
		return nil, err
	}
	out := map[string]float64{}
	seen := map[string]string{}
	for i := range members {
		m := &members[i]
		plain := Plain(m.Name)
		switch before, twice := seen[plain]; {
		case plain == "":
			return nil, fmt.Errorf("line %d: %.40q names no material", m.Line, m.Name)
		case twice:
			return nil, fmt.Errorf("line %d: %.40q and %.40q are one material", m.Line, before, m.Name)
		}
		seen[plain] = m.Name
		text, ok := m.Text()
		if !ok || m.Value[0] != '"' {
			return nil, fmt.Errorf(`line %d: %.40s: give a text with a unit, such as "5.6 per in"`, m.Line, m.Name)
		}
		r, err := quantity.ParseResistivity(text)
		if err != nil {
			return nil, fmt.Errorf("line %d: %.40s: %w", m.Line, m.Name, err)
		}
		out[m.Name] = float64(r)
	}
	return out, nil
}

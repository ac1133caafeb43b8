package standard

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"runnel/analysis/quantity"
)

// ParseMaterials reads a file of the user's own thermal resistances: a JSON object of materials, each with its resistance per thickness as a
// text with its unit, {"polyiso": "5.6 per in"}. It returns m K/W by name. A name that stands twice, or differs only in case and signs, is refused.
func ParseMaterials(data []byte) (map[string]float64, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	const shape = `materials must be a JSON object of names and texts, such as {"polyiso": "5.6 per in"}`
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		return nil, errors.New(shape)
	}
	out := map[string]float64{}
	seen := map[string]string{}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", shape, err)
		}
		name, _ := key.(string)
		value, err := d.Token()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", shape, err)
		}
		plain := Plain(name)
		switch before, twice := seen[plain]; {
		case plain == "":
			return nil, fmt.Errorf("%q names no material", name)
		case twice:
			return nil, fmt.Errorf("%q and %q are one material", before, name)
		}
		seen[plain] = name
		text, ok := value.(string)
		if !ok {
			return nil, fmt.Errorf(`%s: give a text with a unit, such as "5.6 per in"`, name)
		}
		r, err := quantity.ParseResistivity(text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		out[name] = float64(r)
	}
	if _, err := d.Token(); err != nil {
		return nil, fmt.Errorf("%s: %w", shape, err)
	}
	if d.More() {
		return nil, errors.New("materials must be one JSON object: something follows it")
	}
	return out, nil
}

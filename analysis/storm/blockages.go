package storm

import (
	"fmt"

	"runnel/analysis/atonce"
)

// Blockages routes a storm in several cases, side by side, and returns the results in the order of the cases.
func (m *Model) Blockages(s Storm, cases []Case) ([]*Result, error) {
	results, errs := make([]*Result, len(cases)), make([]error, len(cases))
	atonce.Each(len(cases), 1, func() func(from, to int) {
		return func(i, _ int) { results[i], errs[i] = m.route(s, cases[i]) }
	})
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("case %d, %s: %w", i+1, cases[i].Name, err)
		}
	}
	return results, nil
}

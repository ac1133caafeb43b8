package inspection

import (
	"runnel/analysis/cause"
	"runnel/analysis/finding"
)

// Mend returns what would likely mend the cause k of a pond with diagnosis d, in one sentence or two; empty where the kind is no
// cause of a pond.
func Mend(k finding.Kind, d *cause.Diagnosis) string {
	if c := &d.Causes[0]; c.Kind == k && c.Mend.Format != "" {
		return c.Mend.Format
	}
	return cause.Say(k).Mend
}

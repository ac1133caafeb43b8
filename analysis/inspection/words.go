package inspection

import (
	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/surface"
)

// pondText says in one sentence what holds a pond.
func pondText(c *cause.Candidate) finding.Text {
	if c.What.Format != "" {
		return c.What
	}
	return finding.Say(cause.Say(c.Kind).What)
}

// doFor returns what to do next about a pond, and who decides: measure what tells the causes apart where
// more than one holds or where the cause was not looked at but told from spots far apart, then mend.
func doFor(c *cause.Candidate, d *cause.Diagnosis) (finding.Text, string) {
	k, measure := c.Kind, c.Measure
	about := cause.SayOf(k, c.Scupper)
	if c.Mend.Format != "" {
		return measure.And(c.Mend), about.Decides
	}
	if k == finding.LowPlace || len(d.Causes) > 1 {
		return measure.And(finding.Say(about.Mend)), about.Decides
	}
	return finding.Say(about.Mend), about.Decides
}

// at says that something is at an outlet.
func at(o *surface.Outlet) finding.Text { return finding.Say("at {0}", called(o)) }

// called names an outlet.
func called(o *surface.Outlet) finding.Quantity { return finding.Called(o.Label) }

// Mend returns what would likely mend the cause k of a pond with diagnosis d, in one sentence or two; empty where the kind is no
// cause of a pond.
func Mend(k finding.Kind, d *cause.Diagnosis) string {
	c := &d.Causes[0]
	if c.Kind == k && c.Mend.Format != "" {
		return c.Mend.Format
	}
	return cause.SayOf(k, c.Scupper).Mend
}

// CauseText says in one sentence what holds a pond.
func CauseText(k finding.Kind) finding.Text { return pondText(&cause.Candidate{Kind: k}) }

// MendOf says what would likely mend a cause, and who decides; scupper says that the outlet that holds the water is one.
func MendOf(k finding.Kind, scupper bool) (finding.Text, string) {
	about := cause.SayOf(k, scupper)
	return finding.Say(about.Mend), about.Decides
}

package inspection

import (
	"runnel/analysis/cause"
	"runnel/analysis/finding"
)

// CauseText says in one sentence what holds a pond.
func CauseText(k finding.Kind) finding.Text { return pondText(&cause.Candidate{Kind: k}) }

// MendOf says what would likely mend a cause, and who decides.
func MendOf(k finding.Kind) (finding.Text, string) {
	about := cause.Say(k)
	return finding.Say(about.Mend), about.Decides
}

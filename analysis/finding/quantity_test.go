package finding_test

import (
	"testing"

	"runnel/analysis/finding"
)

// Each quantity keeps its name and number and has its own dimension; a name has its word and no number.
func TestQuantitiesHaveTheirDimension(t *testing.T) {
	for want, make := range map[finding.Dimension]func(string, float64) finding.Quantity{
		finding.Depth: finding.MM, finding.Length: finding.Metres, finding.Offset: finding.Tape, finding.Elevation: finding.Level, finding.Area: finding.Plan, finding.Mass: finding.Weight,
		finding.Pressure: finding.Load, finding.Slope: finding.Fall, finding.Share: finding.Part, finding.Flow: finding.Discharge, finding.Rain: finding.Rate,
	} {
		if got := make("it", 2.5); got != (finding.Quantity{Name: "it", Value: 2.5, Dim: want}) {
			t.Errorf("%+v, want dimension %d", got, want)
		}
	}
	if got := finding.Number("spots", 7); got != (finding.Quantity{Name: "spots", Value: 7, Dim: finding.Count}) {
		t.Errorf("a count: %+v", got)
	}
	if got := finding.Called("RD-1"); got.Dim != finding.Name || got.Word != "RD-1" || got.Value != 0 {
		t.Errorf("a name: %+v", got)
	}
}

// Severity and confidence are said in these words, the least first; a number beyond reads as the least.
func TestWordsOfSeverityAndConfidence(t *testing.T) {
	if finding.Note >= finding.Repair || finding.Repair >= finding.Urgent || finding.NotResolved >= finding.Likely || finding.Likely >= finding.Shown {
		t.Error("severities or confidences do not rise")
	}
	for s, want := range map[finding.Severity]string{finding.Note: "note", finding.Repair: "repair", finding.Urgent: "urgent", 9: "note"} {
		if s.String() != want {
			t.Errorf("%d is %q, want %q", s, s, want)
		}
	}
	for c, want := range map[finding.Confidence]string{finding.NotResolved: "not resolved", finding.Likely: "likely", finding.Shown: "shown by the spots"} {
		if c.String() != want {
			t.Errorf("%d is %q, want %q", c, c, want)
		}
	}
}

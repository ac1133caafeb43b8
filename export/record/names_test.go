package record_test

import (
	"testing"

	"runnel/export/record"
	"runnel/export/sample"
)

// People say RD-2, so that is the outlet's id; a label that another outlet has, that is a sentence, or that is like an id made here is none.
func TestOutletsGoByTheirLabels(t *testing.T) {
	for labels, want := range map[[2]string][2]string{
		{"RD-1", "OS-1"}:          {"SR1.RD-1", "SR1.OS-1"},
		{"RD-1", "rd-1"}:          {"SR1.D01", "SR1.S01"},
		{"main", "P01"}:           {"SR1.main", "SR1.S01"},
		{"by the door", "S1"}:     {"SR1.D01", "SR1.S01"},
		{"RD-2<script>", "A-1-b"}: {"SR1.D01", "SR1.A-1-b"},
	} {
		s := sample.Study(sample.Local())
		for i := range labels {
			s.Surface.Outlets[i].Label = labels[i]
		}
		got := record.NewNames(s, "").Outlets
		if got[0] != want[0] || got[1] != want[1] {
			t.Errorf("outlets called %q have the ids %q, want %q", labels, got, want)
		}
	}
}

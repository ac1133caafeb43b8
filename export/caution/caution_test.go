package caution_test

import (
	"strings"
	"testing"

	"runnel/analysis/inspection"
	"runnel/export/caution"
)

func TestEveryKeyHasAText(t *testing.T) {
	keys := []inspection.Caution{
		inspection.DeepPond, inspection.Height, inspection.Skylights, inspection.Ice, inspection.Electric,
		inspection.Water, inspection.Structure, inspection.Cores, inspection.LocalCode,
	}
	texts := caution.Texts(keys)
	if len(texts) != len(keys) {
		t.Fatalf("%d texts for %d keys", len(texts), len(keys))
	}
	for i, text := range texts {
		if len(text) < 40 || !strings.HasSuffix(text, ".") || strings.Contains(text, "\n") {
			t.Errorf("%s: %q", keys[i], text)
		}
	}
	if got := caution.Texts([]inspection.Caution{"unknown"}); len(got) != 0 {
		t.Errorf("a key without a text gives %q", got)
	}
}

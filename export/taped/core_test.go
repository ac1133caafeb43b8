package taped_test

import (
	"strings"
	"testing"

	"runnel/export/taped"
)

// What a crew with a tape finds in its cores stands on the page, in the summary and on the map, from which it can be read again: none of it is lost.
func TestCoresByTapeAreTold(t *testing.T) {
	b := bookOf(t, metric+
		"9 m from wall 6, 4.2 m from S wall;;;CORE C1 layers=\"2 mm PVC + 80 mm polyiso wet\" deck=concrete cutter=hand\n"+
		"20 m from wall 6, 4 m from S wall;;;CORE C2 layers=\"2 mm PVC + 80 mm polyiso\" deck=concrete cutter=hand\n")
	page := words(written(t, taped.Write, b))
	for _, want := range []string{
		"Core C1: A layer is wet. Find how far it reaches by a moisture survey and further cores. Take it out; never cover it.",
		"CORES, LAYERS FROM THE TOP C1 82 mm thick, give or take 3 mm: 2 mm PVC, 80 mm polyiso (wet), deck: concrete.",
		"To be known: wet layer. C2 82 mm thick, give or take 3 mm: 2 mm PVC, 80 mm polyiso, deck: concrete. ",
		"what the roof is made of where it was cut open",
		"(insulation-wet, shown)",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	_, tail, _ := strings.Cut(page, "C2 82 mm")
	if of, _, ok := strings.Cut(tail, "NEXT SPOTS"); !ok || strings.Contains(of, "To be known") {
		t.Error("C2 has something to be known")
	}
	if summary := words(written(t, taped.WriteSummary, b)); !strings.Contains(summary, `"id": "C1", "layers": "2 mm PVC, 80 mm polyiso (wet), deck: concrete"`) {
		t.Errorf("the summary lacks core C1: %s", summary)
	}
	if m := written(t, taped.WriteMap, b); !strings.Contains(m, `"role":"core","layers":[{"material":"PVC","thickness":0.002},{"material":"polyiso","thickness":0.08,"condition":"wet"}],"deck":"concrete","cutter":"hand"`) {
		t.Errorf("the map lacks core C1: %s", m)
	}
}

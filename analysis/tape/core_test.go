package tape_test

import (
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// cut adds a core to a roof.
func cut(r *roof.Roof, id string, x, y float64, deck string, layers ...roof.Layer) {
	c := roof.Core{Position: roof.Position{Plan: at(x, y)}, Deck: deck, Cutter: "hand", Layers: layers}
	c.ID = id
	r.Cores = append(r.Cores, c)
}

// By hand: 2 in of wet and 1 in of sound board are 3 in, good to 1/8 in where the core was cut by hand; the core at (52, 31) ft lies in the oval about (50, 30) ft
// with half axes of 6 and 3 ft, since (2/6)^2 + (1/3)^2 = 0.22; the one at (90, 31) ft does not.
func TestWetCoresByTape(t *testing.T) {
	r := shed()
	cut(r, "C1", 52, 31, "steel deck", roof.Layer{Material: "polyiso", Thickness: 2 * quantity.Inch, Condition: "wet"}, roof.Layer{Material: "perlite", Thickness: quantity.Inch})
	cut(r, "C2", 90, 31, "steel deck", roof.Layer{Material: "polyiso", Thickness: 2 * quantity.Inch, Condition: "wet"})
	s := of(r)
	if s.KeepOff.Is() {
		t.Error("nobody is to keep off a sound deck")
	}
	close(t, "thickness", s.Cores.Cores[0].Thickness, 3*inch, 1e-12)
	close(t, "its error", s.Cores.Cores[0].Sigma, inch/8, 1e-12)
	var wet []finding.Finding
	for _, f := range s.Findings {
		if f.Kind == finding.InsulationWet {
			wet = append(wet, f)
		}
	}
	if len(wet) != 2 {
		t.Fatalf("%d findings of wet layers", len(wet))
	}
	for i, want := range []string{`52' 0" from the west wall, 29' 0" from the north wall (in P1)`, `30' 0" from the east wall, 29' 0" from the north wall`} {
		if got := said(wet[i].Where); got != want {
			t.Errorf("where: %s, want %s", got, want)
		}
		if got, want := said(wet[i].What), []string{"Core C1: A layer is wet.", "Core C2: A layer is wet."}[i]; got != want {
			t.Errorf("%s, want %s", got, want)
		}
		close(t, "wet", wet[i].Measured[0].Value, 2*inch, 1e-12)
	}
}

// A deck that is rusted keeps people off, and comes first.
func TestRustedDeckByTapeKeepsPeopleOff(t *testing.T) {
	r := shed()
	cut(r, "C1", 90, 31, "steel, rusted through", roof.Layer{Material: "polyiso", Thickness: 3 * quantity.Inch})
	s := of(r)
	if !s.KeepOff.Is() || s.Findings[0].Kind != finding.DeckSoft || s.Findings[0].Decides != finding.Engineer {
		t.Errorf("%v, first %s", s.KeepOff.Is(), s.Findings[0].Kind)
	}
}

// said writes a text with lengths as a tape reads them.
func said(t finding.Text) string {
	return t.Fill(func(q finding.Quantity) string {
		if q.Dim == finding.Name {
			return q.Word
		}
		return quantity.FeetInches(quantity.Length(q.Value))
	})
}

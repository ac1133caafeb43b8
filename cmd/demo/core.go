package demo

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
)

// assemblyBuilt is what lies between membrane and deck as built, and where it was cut open.
type assemblyBuilt struct {
	verdict   assembly.Verdict // what makes the slope
	thickness relief           // of the whole [m]
	covering  []layer          // above the insulation, top first
	material  string           // of the insulation
	deck      string
	cores     []core
}

// layer is one layer of a roof.
type layer struct {
	material  string
	thickness float64 // [m]
}

// core is one cut.
type core struct {
	at              orb.Point
	cutter, reached string
	condition       string // of the insulation
	flute           bool   // it went down into a flute of the deck, whatever its record says
}

// Assembly says what makes the slope of the roof as built, and the ids of the cores that went into a flute without saying so; ok
// is false on a roof that nobody cut open.
func (r *Roof) Assembly() (verdict assembly.Verdict, flutes []string, ok bool) {
	a := r.survey.site.under
	if a == nil {
		return 0, nil, false
	}
	for i, c := range a.cores {
		if c.flute && c.reached == "" {
			flutes = append(flutes, coreID(i))
		}
	}
	return a.verdict, flutes, true
}

func coreID(i int) string { return fmt.Sprintf("C-%d", i+1) }

// onSlopedDeck lays insulation of one thickness on a deck that has the roof's slope.
func (s *site) onSlopedDeck(thickness float64, cores ...core) {
	s.under = &assemblyBuilt{
		verdict: assembly.StructureSlopes, material: "polyiso", deck: "steel", cores: cores,
		covering:  []layer{{"EPDM", 0.0015}, {"wood fiberboard", 0.013}},
		thickness: func(orb.Point) float64 { return thickness },
	}
}

// onLevelDeck tapers insulation on a level deck: as thick as least where the roof is lowest.
func (s *site) onLevelDeck(least float64, cores ...core) {
	s.under = &assemblyBuilt{
		verdict: assembly.InsulationTapers, material: "tapered polyiso", deck: "steel", cores: cores,
		covering:  []layer{{"TPO", 0.0015}, {"gypsum cover board", 0.0127}},
		thickness: func(p orb.Point) float64 { return least + s.relief(p) },
	}
}

// soaked takes away thickness where insulation was pressed together, cuts a core there that is wet, and books both.
func (s *site) soaked(at orb.Point, lost relief, area orb.Ring) {
	a := s.under
	whole := a.thickness
	a.thickness = func(p orb.Point) float64 { return whole(p) - lost(p) }
	a.cores = append(a.cores, core{at: at, cutter: "hand", reached: "rib", condition: "wet"})
	id := coreID(len(a.cores) - 1)
	s.faults = append(s.faults,
		Fault{Kind: finding.InsulationWet, What: "the insulation at core " + id + " is wet", Place: at, Area: area},
		Fault{Kind: finding.InsulationThin, What: "the insulation at core " + id + " is pressed together", Place: at, Area: area})
}

// cut adds the cores of the survey: each reads what was built, give or take the error of its cutter, and a flute too much where it
// went into one.
func (r *Roof) cut(c *collection) {
	a := r.survey.site.under
	if a == nil {
		return
	}
	random := rand.New(rand.NewPCG(r.method.seed, 0x636f7265))
	for i, k := range a.cores {
		sigma := choose.If(k.cutter == "tube", standard.TubeError, standard.HandError)
		rest := a.thickness(k.at) + sigma*random.NormFloat64()
		if k.flute {
			rest += standard.FluteDepth
		}
		var layers []json.RawMessage
		add := func(l layer, condition string) {
			list := []pair{{"material", l.material}, {"thickness", r.format.thin(l.thickness)}}
			if condition != "" {
				list = append(list, pair{"condition", condition})
			}
			layers = append(layers, json.RawMessage("{"+joined(list, ",")+"}"))
		}
		for _, l := range a.covering {
			add(l, "")
			rest -= l.thickness
		}
		add(layer{a.material, rest}, k.condition)
		list := []pair{{"role", "core"}, {"id", coreID(i)}, {"cutter", k.cutter}, {"deck", a.deck}, {"layers", layers}}
		if k.reached != "" {
			list = append(list, pair{"reached", k.reached})
		}
		c.add("Point", r.format.position(k.at, math.NaN()), list...)
	}
}

// thin writes the thickness of a layer as a tape gives it: in eighths of an inch, thin sheets in hundredths, or in half millimetres.
func (f format) thin(m float64) string {
	switch {
	case f.units != "ft":
		return fmt.Sprintf("%g mm", math.Round(m*2000)/2)
	case m < 0.005:
		return fmt.Sprintf("%g in", math.Round(m/0.0254*100)/100)
	}
	return fmt.Sprintf("%g in", math.Round(m/0.0254*8)/8)
}

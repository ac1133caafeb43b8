package assembly

import (
	"math"
	"slices"
	"strings"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// spotError is the standard error of an elevation where no spot states one [m]: levelling.
const spotError = 0.002

// cores reads every core of the roof.
func (f *finder) cores() []Core {
	out := make([]Core, len(f.in.Roof.Cores))
	per := map[string]float64{}
	for name, v := range f.in.PerMetre {
		per[standard.Plain(name)] = v
	}
	for i := range out {
		out[i] = f.core(&f.in.Roof.Cores[i], per)
	}
	return out
}

func (f *finder) core(read *roof.Core, perMetre map[string]float64) Core {
	c := Core{ID: read.ID, Plan: read.Plan, Plane: -1, Pond: -1}
	spot := f.level(&c, read)
	c.take(read, perMetre)
	if c.HasSurface && c.HasThickness {
		c.Deck, c.HasDeck = c.Surface-c.Thickness, true
		c.DeckSigma = vector.Norm(c.Sigma, spot)
	}
	return c
}

// Read returns what each core of a roof says by itself, where there is no surface: its layers, how thick it is and how sure, and what is wrong with it.
func Read(r *roof.Roof) *Result {
	out := &Result{}
	for i := range r.Cores {
		c := Core{ID: r.Cores[i].ID, Plan: r.Cores[i].Plan, Plane: -1, Pond: -1}
		c.take(&r.Cores[i], nil)
		out.Cores = append(out.Cores, c)
	}
	out.Wet = wet(out.Cores)
	return out
}

// take takes over what stands in the record of a core.
func (c *Core) take(read *roof.Core, perMetre map[string]float64) {
	c.DeckType, c.RKnown, c.LoadKnown = read.Deck, true, true
	c.layers(read, perMetre)
	c.cut(read)
	if isSoft(read.Deck) {
		c.Flags = append(c.Flags, DeckSoft)
	}
}

// level takes the elevation of the membrane at a core from the surface, or from the core itself where it stands off the surface.
func (f *finder) level(c *Core, read *roof.Core) (sigma float64) {
	facet, z, ok := f.at(read.Plan)
	sigma = spotError
	if ok {
		c.Surface, c.HasSurface, c.Plane = z, true, f.in.Slopes.Plane[facet]
		t := f.in.Surface.TIN
		for k := range int32(3) {
			if v := t.V[3*facet+k]; int(v) < len(t.Sigma) {
				sigma = math.Max(sigma, t.Sigma[v])
			}
		}
		if read.HasZ && math.Abs(read.Z-z) > levelsDiffer+3*sigma {
			c.Flags = append(c.Flags, LevelsDisagree)
		}
		return sigma
	}
	if read.HasZ {
		c.Surface, c.HasSurface = read.Z, true
	}
	c.Flags = append(c.Flags, OffRoof)
	return sigma
}

// levelsDiffer is how far a core's own elevation may be from the surface drawn between spots before it is said [m].
const levelsDiffer = 0.025

// layers sums up thickness, resistance and load.
func (c *Core) layers(read *roof.Core, perMetre map[string]float64) {
	if len(read.Layers) == 0 {
		c.Flags = append(c.Flags, NoLayers)
		c.RKnown, c.LoadKnown = false, false
		return
	}
	c.HasThickness = true
	wet, pressed := false, false
	for _, l := range read.Layers {
		t := float64(l.Thickness)
		n := newLayer(l.Material, t, l.Condition, perMetre)
		c.Layers = append(c.Layers, n)
		c.Thickness += t
		c.R += n.R
		c.Load += n.Load
		c.RKnown = c.RKnown && n.RKnown
		c.LoadKnown = c.LoadKnown && n.LoadKnown
		c.HasThickness = c.HasThickness && (t > 0 || n.sheet)
		wet = wet || l.Condition == "wet"
		pressed = pressed || l.Condition == "compressed"
	}
	c.HasThickness = c.HasThickness && c.Thickness > 0
	if !c.HasThickness {
		c.Flags = append(c.Flags, NoThickness)
		c.RKnown = false
	}
	if wet {
		c.Flags = append(c.Flags, LayerWet)
	}
	if pressed {
		c.Flags = append(c.Flags, LayerPressed)
	}
}

// cut tells how well the thickness is known by how the core was cut and what it reached. A core in a flute is too thick by
// 0 to the flute's depth: half of it comes off, and its spread, that of an even distribution, goes into the error.
func (c *Core) cut(read *roof.Core) {
	c.Sigma = standard.TubeError
	switch read.Cutter {
	case "hand":
		c.Sigma = standard.HandError
	case "tube":
		c.Flags = append(c.Flags, TubeCut)
	default:
		c.Flags = append(c.Flags, CutterUnsaid)
	}
	if read.Reached == "flute" {
		c.Flags = append(c.Flags, InFlute)
		if c.HasThickness {
			c.Thickness = math.Max(c.Thickness-standard.FluteDepth/2, 0)
			c.Sigma = vector.Norm(c.Sigma, standard.FluteDepth/math.Sqrt(12))
		}
	}
	c.mayBeFlute = read.Reached != "flute" && read.Reached != "rib" && (read.Deck == "" || hasWord(read.Deck, flutedWords))
}

// flutedWords begin words in the description of a deck that has ribs and flutes.
var flutedWords = []string{"steel", "metal", "flute", "rib", "corrugat", "trapez"}

func hasWord(text string, words []string) bool {
	return slices.ContainsFunc(strings.Fields(standard.Plain(text)), func(part string) bool { return begins(part, words) })
}

func begins(part string, words []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(part, w) })
}

// has reports whether a core carries a flag.
func (c *Core) has(f Flag) bool { return slices.Contains(c.Flags, f) }

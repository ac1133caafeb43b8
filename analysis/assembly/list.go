package assembly

import (
	"math"

	"runnel/analysis/standard"
)

// wet lists the layers that are wet or compressed.
func wet(cores []Core) []Wet {
	var out []Wet
	for i := range cores {
		for k, l := range cores[i].Layers {
			if l.Condition == "wet" || l.Condition == "compressed" {
				out = append(out, Wet{Core: i, Layer: k, Material: l.Material, Thickness: l.Thickness, Condition: l.Condition})
			}
		}
	}
	return out
}

// unknown lists the materials whose R or weight is not known, by first core.
func unknown(cores []Core) []Unknown {
	var out []Unknown
	at := map[string]int{}
	for i := range cores {
		for _, l := range cores[i].Layers {
			if l.RKnown && l.LoadKnown {
				continue
			}
			key := standard.Plain(l.Material)
			k, ok := at[key]
			if !ok {
				k = len(out)
				at[key] = k
				out = append(out, Unknown{Material: l.Material})
			}
			out[k].R = out[k].R || !l.RKnown
			out[k].Load = out[k].Load || !l.LoadKnown
		}
	}
	return out
}

// loads sums up the dead load of the assembly over the cores.
func loads(cores []Core) Load {
	out := Load{Known: true}
	for i := range cores {
		c := &cores[i]
		if len(c.Layers) == 0 {
			continue
		}
		out.Cores++
		out.Known = out.Known && c.LoadKnown && c.HasThickness
		out.Mean += c.Load
		out.Greatest = math.Max(out.Greatest, c.Load)
	}
	if out.Cores == 0 {
		return Load{}
	}
	out.Mean /= float64(out.Cores)
	return out
}

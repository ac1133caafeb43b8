package assembly

import "runnel/analysis/standard"

// layer looks up what the tables know of one layer; perMetre is the user's own resistance per thickness by Plain name.
func newLayer(material string, thickness float64, condition string, perMetre map[string]float64) Layer {
	l := Layer{Material: material, Thickness: thickness, Condition: condition}
	m, ok := standard.FindMaterial(material)
	if ok {
		l.Name = m.Name
		l.R, l.RKnown = resistance(m, thickness)
		l.Load, l.LoadKnown = load(m, thickness)
		l.insulates, l.sheet = m.Insulates(), m.Sheet
	}
	own, stated := perMetre[standard.Plain(material)]
	if !stated && ok {
		own, stated = perMetre[standard.Plain(m.Name)]
	}
	if stated {
		l.R, l.RKnown, l.insulates = float64(own*thickness), true, own >= standard.LeastInsulation
	}
	return l
}

// resistance returns the thermal resistance of a layer [m2 K/W], dry and sound: by LTTR where boards are rated by
// thickness, straight between its rows and by the nearest row's share outside; else by thickness. ok is false where R is not known.
func resistance(m *standard.Material, thickness float64) (r float64, ok bool) {
	if !m.RKnown {
		return 0, false
	}
	if !m.ByThickness {
		return float64(m.PerMetre * thickness), true
	}
	table := standard.LTTR
	first, last := table[0], table[len(table)-1]
	if thickness <= first.Thickness {
		return float64(first.R / first.Thickness * thickness), true
	}
	if thickness >= last.Thickness {
		return float64(last.R / last.Thickness * thickness), true
	}
	i := 1
	for table[i].Thickness < thickness {
		i++
	}
	a, b := table[i-1], table[i]
	return a.R + float64((b.R-a.R)*(thickness-a.Thickness)/(b.Thickness-a.Thickness)), true
}

// load returns the weight of a dry layer [Pa]; ok is false where it is not known.
func load(m *standard.Material, thickness float64) (pascals float64, ok bool) {
	switch {
	case !m.WeightKnown:
		return 0, false
	case m.Sheet:
		return m.Weight, true
	default:
		return float64(m.Weight * thickness), true
	}
}

package storm

import "runnel/analysis/roof"

// Cases lists the states of the outlets that a roof is looked at in: all working, every primary drain and
// scupper blocked in turn, all of them, and the overflows as well. wet is taken over into each.
func (m *Model) Cases(wet bool) []Case {
	n := len(m.mouths)
	var primary, every []bool
	primaries, overflows := 0, 0
	list := []Case{{Name: "all working", Blocked: make([]bool, n), Wet: wet}}
	primary, every = make([]bool, n), make([]bool, n)
	for i := range m.s.Outlets {
		o := &m.s.Outlets[i]
		if o.Type == roof.EdgeOutlet {
			continue
		}
		every[i] = true
		if o.Duty == roof.Overflow {
			overflows++
			continue
		}
		primary[i] = true
		primaries++
		one := make([]bool, n)
		one[i] = true
		list = append(list, Case{Name: o.Label, Blocked: one, Wet: wet})
	}
	if primaries > 1 {
		list = append(list, Case{Name: "all primaries", Blocked: primary, Wet: wet})
	}
	if primaries > 0 && overflows > 0 {
		list = append(list, Case{Name: "primaries and overflows", Blocked: every, Wet: wet})
	}
	return list
}

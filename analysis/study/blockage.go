package study

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// blockages returns the states of the outlets that are asked for; without any: every outlet works, each primary blocked in
// turn, every primary, and every outlet. An outlet without sizes is blocked in each and named.
func (s *Study) blockages(asked []string) (all []Case, unsized []string, err error) {
	base := make([]bool, len(s.Surface.Outlets))
	for i := range base {
		if o := &s.Surface.Outlets[i]; o.Source >= 0 && s.Drainage.Outlets[i].Rating == nil {
			base[i], unsized = true, append(unsized, o.Label)
		}
	}
	if len(asked) > 0 {
		labels, blocked, err := s.named(asked)
		if err != nil {
			return nil, nil, err
		}
		name := strings.Join(labels, ", ") + " blocked"
		switch {
		case slices.Contains(asked, All):
			name = everyOutletBlocked
		case len(asked) == 1 && asked[0] == AllPrimary:
			name = EveryPrimaryBlocked
		}
		return []Case{s.blocked(name, labels, base, func(i int) bool { return blocked[i] })}, unsized, nil
	}
	return s.usual(base), unsized, nil
}

// usual returns the cases that are compared where none is asked for. base are outlets that are blocked in each.
func (s *Study) usual(base []bool) []Case {
	o := s.Surface.Outlets
	primary := func(i int) bool { return o[i].Duty == roof.Primary }
	primaries, overflows := s.labels(roof.Primary), s.labels(roof.Overflow)
	working := "every outlet at work"
	switch {
	case len(o) == 0:
		working = "no outlet"
	case slices.Contains(base, true):
		working = "every outlet of known size at work"
	}
	all := []Case{s.blocked(working, nil, base, func(int) bool { return false })}
	for i := range o {
		if closable(&o[i]) && primary(i) && !base[i] {
			all = append(all, s.blocked(o[i].Label+" blocked", []string{o[i].Label}, base, func(k int) bool { return k == i }))
		}
	}
	if len(primaries) > 1 {
		all = append(all, s.blocked(EveryPrimaryBlocked, primaries, base, primary))
	}
	if len(overflows) > 0 {
		all = append(all, s.blocked(everyOutletBlocked, append(primaries, overflows...), base, func(int) bool { return true }))
	}
	return all
}

// blocked returns a case: base and what blocks says, edges apart.
func (s *Study) blocked(name string, labels []string, base []bool, blocks func(i int) bool) Case {
	c := Case{Name: name, Labels: labels, Blocked: slices.Clone(base)}
	for i := range c.Blocked {
		c.Blocked[i] = c.Blocked[i] || closable(&s.Surface.Outlets[i]) && blocks(i)
	}
	return c
}

// closable reports whether an outlet can be blocked: water goes over an edge whatever happens.
func closable(o *surface.Outlet) bool { return o.Type != roof.EdgeOutlet }

// labels returns the labels of the drains and scuppers of a duty.
func (s *Study) labels(d roof.Duty) []string {
	var out []string
	for i := range s.Surface.Outlets {
		if o := &s.Surface.Outlets[i]; closable(o) && o.Duty == d {
			out = append(out, o.Label)
		}
	}
	return out
}

// named returns which outlets are named by labels, ids, AllPrimary or All.
func (s *Study) named(asked []string) (labels []string, blocked []bool, err error) {
	o := s.Surface.Outlets
	blocked = make([]bool, len(o))
	var known []string
	for i := range o {
		if closable(&o[i]) {
			known = append(known, o[i].Label)
		}
	}
	for _, name := range asked {
		id := name[strings.LastIndexByte(name, '.')+1:] // PAN.S02 is printed, S02 is the outlet's own
		found := false
		for i := range o {
			if !closable(&o[i]) {
				continue
			}
			if name == All || name == AllPrimary && o[i].Duty == roof.Primary || strings.EqualFold(name, o[i].Label) || strings.EqualFold(id, o[i].ID) {
				found = true
				if !blocked[i] {
					blocked[i], labels = true, append(labels, o[i].Label)
				}
			}
		}
		if !found {
			return nil, nil, &OutletError{Name: name, Known: known}
		}
	}
	return labels, blocked, nil
}

// OutletError says that no outlet that can be blocked has such a name.
type OutletError struct {
	Name  string
	Known []string
}

// Error lists the outlets that there are.
func (e *OutletError) Error() string {
	if len(e.Known) == 0 {
		return fmt.Sprintf("no outlet %q: this roof has no drain and no scupper that could be blocked", e.Name)
	}
	return fmt.Sprintf("no outlet %q: use %s, %s or %s", e.Name, strings.Join(e.Known, ", "), AllPrimary, All)
}

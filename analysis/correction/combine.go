package correction

import (
	"math"
	"slices"

	"runnel/analysis/finding"
	"runnel/analysis/taper"
)

// combine takes for each pond the cheapest local way that dried it alone and applies them together; what is then left is built up.
func (d *designer) combine(done []Option) ([]Option, error) {
	var mends []mend
	used := map[Kind]bool{}
	for i := range d.ponds {
		if m := d.cheapest(done, &d.ponds[i]); m.apply != nil {
			mends = append(mends, m)
			used[m.kind] = true
		}
	}
	fill := d.in.Steering.allows(Fill)
	if len(used) == 0 || len(used) == 1 && !fill {
		return nil, nil
	}
	o := d.altered(mends)
	if o.Possible && !o.Meets && fill {
		if err := d.fillOn(&o); err != nil {
			return nil, err
		}
		used[Fill] = true
	}
	for _, k := range Kinds() {
		if used[k] {
			o.Parts = append(o.Parts, k)
		}
	}
	if !o.Possible || len(o.Parts) < 2 {
		return nil, nil
	}
	return []Option{o}, nil
}

// cheapest returns the first way that dried a pond alone.
func (d *designer) cheapest(done []Option, p *pond) mend {
	ways := []struct {
		kind Kind
		way  func(p *pond) (mend, finding.Text)
	}{{LowerRise, d.channel}, {LowerOutlet, d.sump}, {Cricket, d.cricket}, {Retaper, d.retaper}}
	for _, w := range ways {
		if !d.in.Steering.allows(w.kind) || !dried(done, w.kind, p.id) {
			continue
		}
		if m, _ := w.way(p); m.apply != nil {
			m.kind = w.kind
			return m
		}
	}
	return mend{}
}

// only returns the limits of one name.
func only(limits []Limit, name string) []Limit {
	var out []Limit
	for _, l := range limits {
		if l.Name == name {
			out = append(out, l)
		}
	}
	return out
}

// dried reports whether the option of a kind left a pond dry.
func dried(done []Option, k Kind, id string) bool {
	for i := range done {
		if done[i].Kind == k && done[i].Possible {
			return !slices.Contains(done[i].Left, id)
		}
	}
	return false
}

// fillOn builds up what an option leaves low. Fill and cut of both are added; the design is then the second one, over the first.
func (d *designer) fillOn(o *Option) error {
	s := o.Study.Surface
	domain, err := taper.NewDomain(s.TIN)
	if err != nil {
		return err
	}
	first := *o
	sources := taper.Sources(s)
	for _, slope := range d.fillSlopes() {
		n := d.filled(first.Roof, s, domain, sources, slope)
		if !n.Possible {
			return nil
		}
		n.Changes = append(append([]Change(nil), first.Changes...), n.Changes...)
		n.addDecides(first.Decides...)
		if d.judge(n, 0); !n.Possible {
			return nil
		}
		n.Fill += first.Fill
		n.Cut += first.Cut
		n.Area += first.Area
		n.Deepest = math.Max(n.Deepest, first.Deepest)
		n.Greatest = math.Max(n.Greatest, first.Greatest)
		n.Unknown = append(n.Unknown, only(first.Unknown, leftUnderCut)...)
		n.Limits = append(n.Limits, only(first.Limits, leftUnderCut)...)
		n.Meets = n.Meets && len(n.Limits) == 0
		n.Average = n.Fill / n.Area
		if n.Meets || n.nearer(o) {
			*o = *n
		}
		if n.Meets {
			break
		}
	}
	return nil
}

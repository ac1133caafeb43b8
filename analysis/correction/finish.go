package correction

import (
	"math"
	"slices"

	"runnel/analysis/correction/mend"
	"runnel/analysis/gather"
)

// finish adds what follows from an option that is whole, and orders what is said of it.
func (d *designer) finish(o *Option) {
	if !o.Possible || o.Design == nil || o.Study == nil {
		return
	}
	d.resistance(o)
	d.perimeter(o)
	o.Changes = tidy(o.Changes)
	slices.SortStableFunc(o.Changes, func(a, b mend.Change) int {
		return d.Steering.Rank(&mend.Mend{Kind: a.Kind}) - d.Steering.Rank(&mend.Mend{Kind: b.Kind})
	})
	o.Unknown = once(o.Unknown)
	o.Limits = once(o.Limits)
	o.Checked = once(o.Checked)
}

// tidy takes changes that read alike as one.
func tidy(changes []mend.Change) []mend.Change {
	var out []mend.Change
	for i := range changes {
		c := &changes[i]
		if k := said(out, c); k < 0 {
			out = append(out, *c)
		} else if c.Line != nil {
			out[k].More = append(out[k].More, c.Line)
		}
	}
	return out
}

// said returns the change in list that reads as c does to the millimetre, at the same pond or of the same thing by name; -1 where none does.
func said(list []mend.Change, c *mend.Change) int {
	for i := range list {
		a, b := &list[i].What, &c.What
		if a.Format != b.Format || len(a.Args) != len(b.Args) {
			continue
		}
		same, named := true, false
		for k := range a.Args {
			p, q := &a.Args[k], &b.Args[k]
			same = same && p.Dim == q.Dim && p.Word == q.Word && math.Abs(p.Value-q.Value) < tellable
			named = named || p.Word != ""
		}
		if same && (named || list[i].Pond == c.Pond) {
			return i
		}
	}
	return -1
}

func only(limits []Limit, name string) []Limit {
	return gather.Where(limits, func(l Limit) bool { return l.Name == name })
}

// tellable is the least difference of elevation that is told [m].
const tellable = 0.0005

// once leaves out limits of one name at one place.
func once(limits []Limit) []Limit {
	var out []Limit
next:
	for i := range limits {
		for k := range out {
			if out[k].Name == limits[i].Name && out[k].Where == limits[i].Where && out[k].Required == limits[i].Required {
				continue next
			}
		}
		out = append(out, limits[i])
	}
	return out
}

package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// finish adds what follows from an option that is whole, and orders what is said of it.
func (d *designer) finish(o *Option) {
	if !o.Possible || o.Design == nil || o.Study == nil {
		return
	}
	d.resistance(o)
	d.perimeter(o)
	o.Changes = tidy(o.Changes, o.Design.CutLines())
	o.Unknown = once(o.Unknown)
	o.Limits = once(o.Limits)
	o.Checked = once(o.Checked)
}

// Doubt says how much could not be compared that may make an option impossible: 2 where a cut may reach the deck, 1 where a height, a covering or a
// way for a leader may stand in the way, 0 where nothing does.
func (o *Option) Doubt() int {
	doubt := 0
	for i := range o.Unknown {
		switch o.Unknown[i].Name {
		case leftUnderCut:
			return 2
		case gravityShare, resisting:
		default:
			doubt = 1
		}
	}
	return doubt
}

// shortest is the least length of a cut line that is told [m]; shorter ones lie between corners that a crew cannot tell apart.
const shortest = 0.5

// tidy adds the lines where new meets old as one change, and leaves repeated ones out.
func tidy(changes []Change, cuts []orb.LineString) []Change {
	var out []Change
	for i := range changes {
		c := &changes[i]
		if k := said(out, c); k < 0 {
			out = append(out, *c)
		} else if c.Line != nil {
			out[k].More = append(out[k].More, c.Line)
		}
	}
	var lines []orb.LineString
	sum := 0.0
	for _, c := range cuts {
		if l := lineLength(c); l >= shortest {
			lines = append(lines, c)
			sum += l
		}
	}
	switch len(lines) {
	case 0:
		return out
	case 1:
		return append(out, Change{What: finding.Say("new meets old flush along a line of {0}", finding.Metres("length", sum)), At: lines[0][0], Line: lines[0]})
	}
	return append(out, Change{
		What: finding.Say("new meets old flush along {0} lines of {1} in all", finding.Number("lines", len(lines)), finding.Metres("length", sum)),
		At:   lines[0][0], Line: lines[0], More: lines[1:],
	})
}

// said returns the change in list that reads as c does to the millimetre, -1 where none does.
func said(list []Change, c *Change) int {
	for i := range list {
		a, b := &list[i].What, &c.What
		if a.Format != b.Format || len(a.Args) != len(b.Args) {
			continue
		}
		same := true
		for k := range a.Args {
			same = same && a.Args[k].Dim == b.Args[k].Dim && math.Abs(a.Args[k].Value-b.Args[k].Value) < tellable
		}
		if same {
			return i
		}
	}
	return -1
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

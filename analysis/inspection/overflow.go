package inspection

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// levelTolerance is the least difference of two inlets that counts [m]: 1/2 in, since an inlet is set no better.
const levelTolerance = float64(quantity.Inch) / 2

// heights returns a finding for each overflow that stands far above the primary outlet that it stands for, or at or
// below it.
func (in *inspector) heights() []finding.Finding {
	var out []finding.Finding
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		if o.Type == roof.EdgeOutlet || o.Duty != roof.Overflow || o.InvertAssumed {
			continue
		}
		p := in.primaryOf(i)
		if p < 0 || in.Surface.Outlets[p].InvertAssumed {
			continue
		}
		above := o.Inlet() - in.Surface.Outlets[p].Inlet()
		slack := in.slack()
		switch {
		case above > in.Criteria.OverflowMost()+slack:
			out = append(out, in.overflowHigh(i, p, above))
		case above < -slack:
			out = append(out, in.overflowLow(i, p, above))
		}
	}
	return out
}

// sigma returns the typical standard deviation of an elevation [m].
func (in *inspector) sigma() float64 {
	sum, n := 0.0, 0
	for _, s := range in.Surface.TIN.Sigma {
		if s > 0 {
			sum += float64(s * s)
			n++
		}
	}
	return choose.If(n == 0, 0, math.Sqrt(sum/float64(n)))
}

// besidePrimary is how far from a primary outlet an overflow still stands beside it [m]: 10 ft.
const besidePrimary = 10 * float64(quantity.Foot)

// primaryOf returns the primary drain or scupper that overflow i stands for: the nearest one where it stands beside it,
// else the one to which water runs from the overflow with every pond full, else the nearest; -1 where the roof has none.
func (in *inspector) primaryOf(i int) int {
	o := &in.Surface.Outlets[i]
	best, at := math.Inf(1), -1
	for p := range in.Surface.Outlets {
		if d := vector.Norm(in.Surface.Outlets[p].Plan[0]-o.Plan[0], in.Surface.Outlets[p].Plan[1]-o.Plan[1]); in.isPrimary(p) && d < best {
			best, at = d, p
		}
	}
	if best > besidePrimary && in.Flow != nil {
		if label, _ := in.Flow.At(o.Plan[0], o.Plan[1]); label != flow.Unlabelled {
			if p := in.leavesBy(label); p >= 0 && in.isPrimary(p) {
				return p
			}
		}
	}
	return at
}

func (in *inspector) isPrimary(p int) bool {
	o := &in.Surface.Outlets[p]
	return o.Duty == roof.Primary && o.Type != roof.EdgeOutlet
}

// leavesBy returns the outlet by which water of a label leaves with every pond full, -1 for none.
func (in *inspector) leavesBy(label flow.Label) int {
	e := in.Flow.Ends[label]
	if e.Outlet >= 0 {
		return int(e.Outlet)
	}
	p := in.Ponds.OfPit[e.Pit]
	for range in.Ponds.Ponds {
		if p < 0 {
			return -1
		}
		pond := &in.Ponds.Ponds[p]
		switch {
		case pond.HeldBy >= 0:
			return int(pond.HeldBy)
		case pond.ToOutlet >= 0:
			return int(pond.ToOutlet)
		}
		p = pond.ToPond
	}
	return -1
}

func (in *inspector) overflowHigh(i, p int, above float64) finding.Finding {
	o, primary := &in.Surface.Outlets[i], &in.Surface.Outlets[p]
	extra := above - in.Criteria.OverflowMost()
	f := blank(finding.OverflowHigh, finding.Repair)
	f.Outlet, f.Size, f.Geometry, f.Decides = i, above, o.Plan, finding.Engineer
	f.What = finding.Say("The overflow {1} stands {0} above {2}.", finding.MM("height", above), called(o), called(primary))
	f.Where = at(o)
	f.Measured = []finding.Quantity{
		finding.MM("height over the primary", above),
		finding.MM("height over the low point", o.Inlet()-math.Min(primary.Invert, primary.Low)),
		finding.Load("load of the extra height", extra*standard.WaterDensity*standard.Gravity),
		finding.Load("load of an inch", float64(quantity.Inch)*standard.WaterDensity*standard.Gravity),
	}
	f.Required = []finding.Quantity{finding.MM("height over the primary", in.Criteria.OverflowMost())}
	f.Source = in.heightSource()
	f.Why = finding.Say("With the primary blocked, water stands so much deeper before the overflow works. Sources disagree (at least, exactly or at most {0}); {0} is used here.",
		finding.MM("height", standard.OverflowHeight))
	if most := in.Criteria.OverflowStated; most > 0 {
		f.Why = finding.Say("With the primary blocked, water stands so much deeper before the overflow works. The figure stated for this roof is {0}.", finding.MM("height", most))
	}
	f.Do = finding.Say("Do not raise any overflow. Ask an engineer what the roof carries at that level. A lower opening cuts the parapet, which is structure.")
	return f
}

func (in *inspector) overflowLow(i, p int, above float64) finding.Finding {
	o, primary := &in.Surface.Outlets[i], &in.Surface.Outlets[p]
	f := blank(finding.OverflowLow, finding.Repair)
	if in.named(p) {
		f.Severity = finding.Note // the primary that was set high has its own finding
	}
	f.Outlet, f.Size, f.Geometry, f.Decides = i, -above, o.Plan, finding.Plumber
	f.What = finding.Say("The overflow {1} stands {0} below {2} and takes the water first.", finding.MM("depth", -above), called(o), called(primary))
	f.Where = at(o)
	f.Measured = []finding.Quantity{finding.Level("invert of the overflow", o.Invert), finding.Level("invert of the primary", primary.Invert)}
	f.Source = in.heightSource()
	f.Why = finding.Say("An overflow that runs in every rain gives no sign that the primary is blocked.")
	f.Do = finding.Say("Take both levels again, and check which of the two is the overflow. If both are right, see whether the primary can be set lower.")
	return f
}

// heightSource names every source on the height of overflows, since they differ.
func (in *inspector) heightSource() string {
	text := ""
	for _, r := range in.rules().Heights {
		text += r.Source.Text + ": " + r.What + "; "
	}
	return text + standard.LocalCode
}

// single returns a note where walls stand all round and there is one way out.
func (in *inspector) single() []finding.Finding {
	first := -1
	for i := range in.Surface.Outlets {
		switch o := &in.Surface.Outlets[i]; {
		case o.Type == roof.EdgeOutlet || o.Duty == roof.Primary && first >= 0:
			return nil
		case o.Duty == roof.Primary:
			first = i
		}
	}
	if first < 0 || in.Roof.Outline.EdgeAssumed {
		return nil
	}
	o := &in.Surface.Outlets[first]
	f := blank(finding.OutletSingle, finding.Note)
	f.Outlet, f.Geometry, f.Decides = first, o.Plan, finding.Owner
	f.What = finding.Say("All the roof drains to {0} alone.", called(o))
	f.Where = finding.Say("the whole roof")
	f.Measured = []finding.Quantity{finding.Number("primary outlets", 1)}
	f.Required = []finding.Quantity{finding.Number("primary outlets", 2)}
	f.Source = in.rules().Two.Source.Text + "; " + standard.LocalCode
	f.Why = finding.Say("One blocked strainer stops all of it.")
	f.Do = finding.Say("Keep it clear. At the next re-roofing, ask about adding a second outlet.")
	return []finding.Finding{f}
}

// openings returns a finding for each overflow that is smaller than a rule on its size asks.
func (in *inspector) openings() []finding.Finding {
	var out []finding.Finding
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		if o.Source < 0 || o.Duty != roof.Overflow || o.Type == roof.EdgeOutlet {
			continue
		}
		m := &in.Roof.Outlets[o.Source]
		if o.Type == roof.Scupper {
			if f, small := in.tight(i, m); small {
				out = append(out, f)
				continue
			}
		}
		if p := in.primaryOf(i); p >= 0 && in.Surface.Outlets[p].Source >= 0 {
			if f, missed := in.variants(i, p, m, &in.Roof.Outlets[in.Surface.Outlets[p].Source]); missed {
				out = append(out, f)
			}
		}
	}
	return out
}

// tight returns the finding for a scupper with less than the least opening.
func (in *inspector) tight(i int, m *roof.Outlet) (f finding.Finding, small bool) {
	const slack = 0.002 // 100 mm is the metric size of 4 in
	least := math.Inf(1)
	if !m.WidthAssumed {
		least = float64(m.Width)
	}
	if m.OpeningHeight > 0 {
		least = math.Min(least, float64(m.OpeningHeight))
	}
	if least > standard.LeastScupper-slack {
		return f, false
	}
	f = in.smaller(i, finding.Repair)
	f.Measured = []finding.Quantity{finding.MM("least side of the opening", least)}
	f.Required = []finding.Quantity{finding.MM("least side of the opening", standard.LeastScupper)}
	f.What = finding.Say("The opening of {1} is {0} in its smaller direction.", finding.MM("side", least), called(&in.Surface.Outlets[i]))
	f.Source = in.rules().Opening.Source.Text + "; " + standard.LocalCode
	f.Why = finding.Say("A small opening is closed by leaves or ice.")
	return f, true
}

func (in *inspector) smaller(i int, s finding.Severity) finding.Finding {
	o := &in.Surface.Outlets[i]
	f := blank(finding.OverflowSmall, s)
	f.Outlet, f.Geometry, f.Decides = i, o.Plan, finding.Engineer
	f.Where = at(o)
	f.Do = finding.Say("Measure it again. A wider opening cuts the parapet, which is structure. Adding overflows is another way.")
	return f
}

// variants returns a note where an overflow misses rules on its size beside that of the primary drain. Where the
// overflow takes what the secondary storm brings, which is the rule that is compared with, nothing is said.
func (in *inspector) variants(i, p int, m, primary *roof.Outlet) (f finding.Finding, missed bool) {
	const slack, pi = 1e-6, 3.14159265358979323846
	d := float64(primary.Diameter)
	if primary.Type != roof.Drain || d == 0 || in.takes(i) || len(in.rules().Variants) == 1 {
		return f, false // where one rule is known, by flow, the drainage compares it
	}
	f = in.smaller(i, finding.Note)
	names := ""
	miss := func(name string, have, want finding.Quantity) {
		if have.Value >= want.Value-slack {
			return
		}
		f.Measured, f.Required = append(f.Measured, have), append(f.Required, want)
		for _, v := range in.rules().Variants {
			if v.Name == name {
				f.Source += v.Source.Text + ": " + v.What + "; "
			}
		}
		if names != "" {
			names += ", "
		}
		names += name
	}
	if m.Type == roof.Drain {
		if m.Diameter == 0 {
			return f, false
		}
		miss(standard.OverflowByDrain, finding.MM("diameter", float64(m.Diameter)), finding.MM("diameter", d))
	} else {
		if m.WidthAssumed {
			return f, false
		}
		miss(standard.OverflowByGirth, finding.MM("width", float64(m.Width)), finding.MM("width", float64(pi*d)))
		if m.OpeningHeight > 0 {
			miss(standard.OverflowByArea, finding.Plan("opening", float64(m.Width)*float64(m.OpeningHeight)), finding.Plan("opening", standard.OverflowTimes*pi/4*d*d))
		}
	}
	f.Source += standard.LocalCode
	f.What = finding.Say("{0} is smaller beside {1} than some rules require ("+names+").", called(&in.Surface.Outlets[i]), called(&in.Surface.Outlets[p]))
	f.Why = finding.Say("Rules on the size of an overflow differ. The rule by flow needs the rain of the secondary storm, which was not given or is more than it takes.")
	f.Do = finding.Say("Give the rate of rain for the overflow, and see what flow it must take.")
	return f, names != ""
}

// takes reports whether outlet i is known to take what the rain for its duty brings.
func (in *inspector) takes(i int) bool { return in.Drainage != nil && in.Drainage.Outlets[i].Takes }

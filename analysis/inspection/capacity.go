package inspection

import (
	"fmt"
	"math"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/drainage"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// capacities returns what the design rain shows of each outlet: more comes than it takes, a scupper runs full, its
// sizes are not known, or its head lies outside what was tested.
func (in *inspector) capacities() []finding.Finding {
	if in.Drainage == nil {
		return nil
	}
	var out []finding.Finding
	for i := range in.Drainage.Outlets {
		d := &in.Drainage.Outlets[i]
		if d.Demand <= 0 || in.Surface.Outlets[i].Source < 0 {
			continue
		}
		m := &in.Roof.Outlets[in.Surface.Outlets[i].Source]
		switch {
		case d.Rating == nil:
			out = append(out, in.unsized(i, d))
		case !d.Takes:
			out = append(out, in.tooSmall(i, d))
		case m.Type == roof.Scupper && m.OpeningHeight > 0 && math.Max(d.Head, lowerHead(d)) > float64(m.OpeningHeight):
			out = append(out, in.runsFull(i, d, m))
		case m.Duty == roof.Primary && weighs(d.Head) >= standard.RoofLiveLoad:
			out = append(out, in.tooDeep(i, d))
		case d.Range != nil:
			out = append(out, in.untested(i, d))
		}
	}
	return out
}

// lowerHead returns the head at which an outlet takes what comes by the lower of its laws [m], 0 where there is none.
func lowerHead(d *drainage.Outlet) float64 {
	if d.Rating.Lower == nil {
		return 0
	}
	head, err := d.Rating.Lower.Head(d.Demand)
	if err != nil {
		return 0 // a link behind it takes too little: said of the outlet itself
	}
	return head
}

// about returns a finding about outlet i under the rain for its duty.
func (in *inspector) about(i int, k finding.Kind, s finding.Severity, d *drainage.Outlet) finding.Finding {
	o := &in.Surface.Outlets[i]
	f := blank(k, s)
	f.Outlet, f.Size, f.Geometry, f.Decides, f.Confidence = i, d.Demand, o.Plan, finding.Plumber, finding.Likely
	f.Where = at(o)
	f.Measured = []finding.Quantity{
		finding.Rate("rain", d.Rate), finding.Plan("area that drains to it", d.Area+d.Walls+d.Above), finding.Discharge(flowComes, d.Demand),
	}
	return f
}

// with says under which blockage the flow was found.
func (in *inspector) with(i int) string {
	return choose.If(in.Surface.Outlets[i].Duty == roof.Overflow, " with every primary outlet blocked", "")
}

func (in *inspector) unsized(i int, d *drainage.Outlet) finding.Finding {
	f := in.about(i, finding.OutletUnsized, finding.Note, d)
	f.What = finding.Say("What {0} takes is not known: its sizes were not stated.", called(&in.Surface.Outlets[i]))
	if d.Missing != nil {
		f.Why = finding.Say("It was left out of the comparison: {0}.", finding.Called(d.Missing.Error()))
	}
	f.Do = finding.Say("Measure the outlet, its leader and the pipe behind it, and state them.")
	f.Confidence = finding.NotResolved
	return f
}

func (in *inspector) tooSmall(i int, d *drainage.Outlet) finding.Finding {
	f := in.about(i, finding.OutletSmall, finding.Repair, d)
	most := d.Rating.Flow(d.Head)
	least := "the inlet"
	f.Source = d.Rating.Source.Text
	if l := d.Rating.Least(); l != nil && l.Capacity <= d.Rating.Most() {
		least = "the " + l.Name
		f.Source = l.Source.Text
	}
	f.What = finding.Say("{0} comes to {2}"+in.with(i)+", and "+least+" takes {1}.", finding.Discharge("comes", d.Demand), finding.Discharge("takes", most), called(&in.Surface.Outlets[i]))
	f.Measured = append(f.Measured, finding.Discharge(flowTaken, most))
	f.Required = []finding.Quantity{finding.Discharge("flow to take", d.Demand)}
	f.Source += "; the rate of rain as stated; " + standard.LocalCode
	f.Why = finding.Say("It takes no more than the tightest of strainer, inlet and pipe. The strainer is assumed to be clean.").And(in.links(d))
	f.Do = finding.Say("Check the sizes. A larger pipe, or another outlet, is for a plumber to design. Until then water will rise until it finds another way off.")
	return f
}

// weighs returns the weight of water of that depth [Pa].
func weighs(depth float64) float64 { return standard.WaterDensity * standard.Gravity * depth }

// tooDeep says that an outlet takes what comes only under water as heavy as the least live load of most roofs: that it takes it at some
// head is no comfort.
func (in *inspector) tooDeep(i int, d *drainage.Outlet) finding.Finding {
	f := in.about(i, finding.OutletSmall, finding.Repair, d)
	f.What = finding.Say("To take the {0} that comes to {1}, water must stand {2} over its inlet, which weighs {3}.",
		finding.Discharge("comes", d.Demand), called(&in.Surface.Outlets[i]), finding.MM("head", d.Head), finding.Load("load", weighs(d.Head)))
	f.Measured = append(f.Measured, finding.MM("head", d.Head), finding.Load("load at the inlet", weighs(d.Head)))
	f.Required = []finding.Quantity{finding.Load("load to compare with", float64(standard.RoofLiveLoad))}
	f.Source = standard.RoofLiveLoadSource.Text + ": not what this roof carries; " + d.Rating.Source.Text + "; the rate of rain as stated; " + standard.LocalCode
	f.Why = finding.Say("The head is what its law asks for at that flow. Water that finds another way off before stands lower.").And(in.links(d))
	f.Do = finding.Say("Check the sizes. A larger outlet, or another one, is for a plumber to design; what depth of water the roof carries, for an engineer.")
	return f
}

// links names what stands behind an outlet and is not known.
func (in *inspector) links(d *drainage.Outlet) finding.Text {
	if len(d.Rating.Unknown) == 0 {
		return finding.Text{}
	}
	return finding.Say("Not stated, and so not counted: " + strings.Join(d.Rating.Unknown, ", ") + ".")
}

func (in *inspector) runsFull(i int, d *drainage.Outlet, m *roof.Outlet) finding.Finding {
	f := in.about(i, finding.ScupperFull, finding.Repair, d)
	f.What = finding.Say("{2} runs full"+in.with(i)+": water stands {0} over its floor, its opening is {1} high.",
		finding.MM("head", d.Head), finding.MM("opening", float64(m.OpeningHeight)), called(&in.Surface.Outlets[i]))
	f.Measured = append(f.Measured, finding.MM("head", d.Head))
	f.Required = []finding.Quantity{finding.MM("head", float64(m.OpeningHeight))}
	f.Source = d.Rating.Source.Text + "; the rate of rain as stated; " + standard.LocalCode
	f.Why = finding.Say("Once water stands over the top of the opening, it rises fast with every gallon more.").And(in.links(d))
	if h := lowerHead(d); h > d.Head {
		f.Measured = append(f.Measured, finding.MM("head by a broad crest", h))
		if d.Head <= float64(m.OpeningHeight) {
			f.Severity = finding.Note
			f.What = finding.Say("{2} may run full"+in.with(i)+": by the law of a broad crest water stands {0} over its floor, its opening is {1} high.",
				finding.MM("head", h), finding.MM("opening", float64(m.OpeningHeight)), called(&in.Surface.Outlets[i]))
			f.Why = finding.Say("By the sharp-crested law the head is {0}. A floor that lies flush with the roof takes less than that law says; state the crest.", finding.MM("head", d.Head)).And(in.links(d))
			f.Source = d.Rating.Lower.Source.Text + "; the rate of rain as stated; " + standard.LocalCode
		}
	}
	f.Do = finding.Say("Check that the opening is clear and that the sizes are right. A wider opening cuts the parapet, which is structure.")
	f.Decides = finding.Engineer
	return f
}

func (in *inspector) untested(i int, d *drainage.Outlet) finding.Finding {
	f := in.about(i, finding.HeadUntested, finding.Note, d)
	f.What = finding.Say("The head at {1}, {0}, lies outside what its law was tested for.", finding.MM("head", d.Head), called(&in.Surface.Outlets[i]))
	f.Measured = append(f.Measured, finding.MM("head", d.Head))
	f.Source = d.Rating.Source.Text
	f.Why = finding.Say("By the method {0}: {1}.", finding.Called(fmt.Sprint(d.Rating.Method)), finding.Called(d.Range.Error()))
	f.Do = finding.Say("Take the figure as a rough one. Ask the maker of the outlet for its test.")
	f.Confidence = finding.NotResolved
	return f
}

package inspection

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// noWayOut returns a finding for area that nothing drains and that no listed pond stands for: a roof or a
// part of it without any outlet, level or nearly so.
func (in *inspector) noWayOut() []finding.Finding {
	if in.Catchments == nil || in.Catchments.Undrained <= 0 {
		return nil
	}
	for i := range in.Listed {
		if in.Ponds.Ponds[in.Listed[i].Pond].Undrained {
			return nil
		}
	}
	if in.unsurveyed() {
		return []finding.Finding{in.lookForOutlets()}
	}
	f := blank(finding.NoWayOut, finding.Urgent)
	f.Size = in.Catchments.Undrained
	f.What = finding.Say("{0} of roof has no way out for water at any level.", finding.Plan("area", in.Catchments.Undrained))
	f.Measured = []finding.Quantity{finding.Plan("area without a way out", in.Catchments.Undrained)}
	at := orb.Point{}
	if drawn := in.Catchments.Undrawn; len(drawn) > 0 && len(drawn[0]) > 0 {
		at = drawn[0][0][0]
	}
	f.Geometry = largest(in.Catchments.Undrawn, at)
	f.Where = in.Places.Of(at)
	f.Why = finding.Say("No outlet and no open edge is joined to it.")
	f.Do = finding.Say("Look for an outlet that the survey missed. If there is none, one must be made.")
	f.Decides = finding.Engineer
	return []finding.Finding{f}
}

// lookForOutlets is the finding on a roof whose outlets nobody surveyed: what its water does is not known.
func (in *inspector) lookForOutlets() finding.Finding {
	f := blank(finding.OutletsUnsurveyed, finding.Repair)
	f.Size, f.Confidence = in.Surface.Area, finding.NotResolved
	f.What = finding.Say("Outlets not surveyed: look for them.")
	f.Where = finding.Say("the whole roof")
	f.Measured = []finding.Quantity{finding.Number("outlets", 0), finding.Plan("area", in.Surface.Area)}
	f.Why = finding.Say("The survey has no drain, no scupper and no open edge, and nothing says that there is none. Without them no pond can be told.")
	f.Do = finding.Say("Find every drain, scupper and gutter, and take the level of each inlet. If the roof has none, say so in the outline: outlets none.")
	f.Geometry = in.corner()
	in.tellLowPlaces(&f)
	return f
}

// corner is where a finding of the whole roof stands on a map: at the first corner of the outline, where it hides no outlet.
func (in *inspector) corner() orb.Point { return in.Roof.Outline.Rings[0][0].Plan }

// overflow returns a finding where walls stand all round and nothing takes the water once the outlets
// are blocked.
func (in *inspector) overflow() []finding.Finding {
	if len(in.Surface.Outlets) == 0 {
		return nil // no way out at all: said elsewhere
	}
	for i := range in.Surface.Outlets {
		if o := &in.Surface.Outlets[i]; o.Type == roof.EdgeOutlet || o.Duty == roof.Overflow {
			return nil
		}
	}
	f := blank(finding.NoOverflow, finding.Urgent)
	f.What = finding.Say("Walls stand all round and there is no overflow.")
	f.Size = in.Surface.Area
	f.Measured = []finding.Quantity{finding.Number("outlets", len(in.Surface.Outlets)), finding.Number("overflows", 0)}
	rules := in.rules()
	f.Source = rules.Present.Source.Text + ": " + rules.Present.What + "; " + rules.Separate.Source.Text + ": " + rules.Separate.What + "; " + standard.LocalCode
	f.Why = finding.Say("If the outlets are blocked, water rises to the top of the walls.")
	f.Do = finding.Say("Look for overflow openings that the survey missed. Keep the outlets clear until overflows are made; they need pipes and a place of discharge of their own.")
	f.Decides = finding.Engineer
	f.Where = finding.Say("the whole roof")
	f.Geometry = in.corner()
	if in.Roof.Outline.EdgeAssumed {
		f.Severity, f.Confidence = finding.Note, finding.NotResolved
		f.What = finding.Say("There is no overflow, if walls stand all round.")
		f.Why = f.Why.And(finding.Say("No file says what the edges are, so they are assumed to be walls."))
		f.Do = finding.Say("State the type of each edge: wall, gutter or free.")
	}
	return []finding.Finding{f}
}

// inverts returns one note for all outlets whose invert was assumed.
func (in *inspector) inverts() []finding.Finding {
	var names []string
	first := -1
	for i := range in.Surface.Outlets {
		if o := &in.Surface.Outlets[i]; o.InvertAssumed {
			names = append(names, o.Label)
			if first < 0 {
				first = i
			}
		}
	}
	if first < 0 {
		return nil
	}
	f, o, all := blank(finding.InvertUnknown, finding.Note), &in.Surface.Outlets[first], finding.Called(listed(names))
	f.Where = finding.Say("at {0}", all)
	f.Geometry, f.Confidence = o.Plan, finding.NotResolved
	if len(names) == 1 {
		f.Outlet = first
		f.What = finding.Say("The inlet level of {0} was not measured.", all)
		f.Measured = []finding.Quantity{finding.Level("assumed invert", o.Invert)}
		f.Why = finding.Say("The inlet is assumed to be at the lowest surface around it. If the real rim is higher, it holds water that this report does not show.")
		f.Do = finding.Say("Take the level of the rim or sill of {0}.", all)
		return []finding.Finding{f}
	}
	f.What = finding.Say("The inlet levels of {0} were not measured.", all)
	f.Measured = []finding.Quantity{finding.Number("outlets without a measured level", len(names))}
	f.Why = finding.Say("Each inlet is assumed to be at the lowest surface around it. If the real rim is higher, it holds water that this report does not show.")
	f.Do = finding.Say("Take the levels of the rims or sills of {0}.", all)
	return []finding.Finding{f}
}

// listed names all of a few things, else the first ones, and how many more there are.
func listed(names []string) string {
	const most = 6
	switch n := len(names); {
	case n == 1:
		return names[0]
	case n > most:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n-most)
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

// unused returns a note for each primary outlet that gets no water though every pond is full; one that is set above the roof beside it is to be repaired.
func (in *inspector) unused() []finding.Finding {
	if in.Catchments == nil {
		return nil
	}
	area := make([]float64, len(in.Surface.Outlets))
	for i := range in.Catchments.Full {
		if o := in.Catchments.Full[i].Outlet; o >= 0 {
			area[o] += in.Catchments.Full[i].Area
		}
	}
	var out []finding.Finding
	rims := in.rims()
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		if o.Duty == roof.Overflow || o.Type == roof.EdgeOutlet || area[i] > 0 || in.named(i) || in.doubted(o) || in.drawnOver(i, rims[i]) {
			continue
		}
		f := blank(finding.OutletUnused, finding.Note)
		f.Outlet = i
		f.What = finding.Say("No water runs to {0}, even with every pond full.", called(o))
		f.Where = at(o)
		f.Measured = []finding.Quantity{finding.Level("invert", o.Invert), finding.Level("roof at the outlet", o.Low)}
		f.Why = finding.Say("Another outlet takes the water first, or the roof falls away from this one.")
		f.Do = finding.Say("Check its inlet level, and whether the roof was meant to run to it.")
		if in.Bounds.OpenCatchment(i, 0, in.Surface.Area) {
			f.Confidence = finding.NotResolved
			f.What = finding.Say("As surveyed no water runs to {0}; the errors of the survey leave open up to {1}.", called(o), finding.Plan("runs to it", in.Bounds.Catchments[i].High))
			f.Why = finding.Say("The roof is all but level between it and another outlet.")
			f.Do = finding.Say("Pour a bucket of water where the roof is all but level between them, and see where it runs.")
		}
		if in.standsHigh(o) {
			f.Kind, f.Severity = finding.OutletHigh, finding.Repair // the roof has one outlet less than it was built with
			f.What = finding.Say("{0} is set above the roof beside it, and no water runs to it, even with every pond full.", called(o))
			f.Why = finding.Say("Its inlet stands {0} above the roof beside it. The water runs past it to another outlet.", finding.MM("inlet above the roof", o.Invert-o.Low))
			f.Do, f.Decides = finding.Say("Clear the strainer. Then see whether the inlet can be lowered."), finding.Plumber
			if o.Type == roof.Scupper {
				f.Do, f.Decides = MendOf(finding.OutletHigh, true)
			}
		}
		f.Geometry = o.Plan
		out = append(out, f)
	}
	return out
}

// standsHigh reports whether an outlet's inlet was measured and stands above the roof at it by more than the errors of both can make.
func (in *inspector) standsHigh(o *surface.Outlet) bool {
	return !o.InvertAssumed && in.Errors != nil && o.Invert-o.Low > standard.SureChange*math.Sqrt2*in.Errors.Typical
}

// doubted reports whether an inlet's level does not fit the roof at it.
func (in *inspector) doubted(o *surface.Outlet) bool {
	return slices.ContainsFunc(in.Odd, func(odd blunder.Odd) bool { return odd.Inlet && &in.Surface.Outlets[odd.Outlet] == o })
}

// named reports whether a listed pond's finding concerns outlet o already.
func (in *inspector) named(o int) bool {
	for i := range in.Causes {
		if int(in.Causes[i].Outlet) == o {
			return true
		}
	}
	return false
}

// travel returns a finding for each outlet to which water travels farther than the criterion allows, ponds full.
func (in *inspector) travel() []finding.Finding {
	limit := in.Criteria.MaxTravel
	if limit <= 0 || in.Catchments == nil {
		return nil
	}
	var out []finding.Finding
	for i := range in.Catchments.Full {
		c := &in.Catchments.Full[i]
		if c.Outlet < 0 || c.TravelMax <= limit {
			continue
		}
		o := &in.Surface.Outlets[c.Outlet]
		f := blank(finding.TravelLong, finding.Repair)
		f.Outlet, f.Size = int(c.Outlet), c.TravelMax
		f.What = finding.Say("Water travels {0} to {2}, more than {1}.",
			finding.Metres("travel", c.TravelMax), finding.Metres("longest travel", limit), called(o))
		f.Measured = []finding.Quantity{finding.Metres("longest travel", c.TravelMax), finding.Metres("mean travel", c.TravelMean)}
		f.Required = []finding.Quantity{finding.Metres("longest travel", limit)}
		f.Source = in.cite("max_travel", true)
		f.Where = finding.Say("to {0}", called(o))
		f.Why = finding.Say("The longest way is drawn on the map.")
		f.Do = finding.Say("Another outlet along the way would shorten it.")
		f.Decides = finding.Owner
		f.Geometry = in.farthest(c.Outlet)
		out = append(out, f)
	}
	return out
}

// farthest returns where the longest way to outlet o begins.
func (in *inspector) farthest(o int32) orb.Point {
	for i := range in.Catchments.Longest {
		if p := &in.Catchments.Longest[i]; p.Outlet == o && in.Catchments.Leading(i) && len(p.Line) > 0 {
			return p.Line[0]
		}
	}
	return in.Surface.Outlets[o].Plan
}

// thin returns notes on what a sparse or inferred survey leaves open.
func (in *inspector) thin() []finding.Finding {
	var out []finding.Finding
	at := in.anywhere()
	if s := in.Surface.Spacing; s > 1.1*standard.SurveySpacing { // a tenth over is no other survey
		f := blank(finding.SurveyThin, finding.Note)
		f.What = finding.Say("The spots are {0} apart. A low place between them would not show.", finding.Metres("spacing", s))
		f.Where = finding.Say("the whole roof")
		f.Measured = []finding.Quantity{finding.Metres("spacing", s)}
		f.Required = []finding.Quantity{finding.Metres("spacing of spots", standard.SurveySpacing)}
		f.Source = standard.SurveySpacingSource
		f.Why = finding.Say("Sag between joists and lumps at outlets are a few feet across.")
		f.Do = finding.Say("Shoot more spots where water stands, at outlets, and at mid-span.")
		f.Confidence = finding.NotResolved
		f.Geometry = at
		out = append(out, f)
	}
	if share := in.Surface.AssumedShare; share > 0.1 {
		f := blank(finding.SurveyThin, finding.Note)
		f.Size = share
		f.What = finding.Say("{0} of the roof rests on edges whose elevation was not measured.", finding.Part("share", share))
		f.Where = finding.Say("along the edges")
		f.Measured = []finding.Quantity{finding.Part("assumed", share)}
		f.Why = finding.Say("Those edges take their elevation from the spots near them.")
		f.Do = finding.Say("Shoot the foot of the walls and the open edges.")
		f.Confidence = finding.NotResolved
		f.Geometry = at
		out = append(out, f)
	}
	return out
}

// anywhere returns a place of the roof for what concerns all of it: its outline's middle, drawn to a spot.
func (in *inspector) anywhere() orb.Point {
	t := in.Surface.TIN
	var sx, sy float64
	for v := range t.X {
		sx, sy = sx+t.X[v], sy+t.Y[v]
	}
	n := float64(len(t.X))
	best, at := math.Inf(1), orb.Point{}
	for v := range t.X {
		if d := vector.Norm(t.X[v]-sx/n, t.Y[v]-sy/n); d < best {
			best, at = d, orb.Point{t.X[v], t.Y[v]}
		}
	}
	return at
}

package inspection

import (
	"strings"

	"runnel/analysis/blunder"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
)

// slipText says which slip would explain a number that does not fit.
var slipText = map[blunder.Slip]string{
	blunder.Zero:       "no elevation was booked",
	blunder.Number:     "its point number was booked as its elevation",
	blunder.Swapped:    "its northing and easting changed places",
	blunder.OnCurb:     "the rod stood on a curb or a wall",
	blunder.UpsideDown: "the rod stood upside down",
	blunder.Transposed: "two digits changed places",
	blunder.InchAsPart: "inches were booked as tenths or hundredths of a foot",
	blunder.Foot:       "it was read whole feet out",
	blunder.Metre:      "it was read whole metres out",
	blunder.Tenth:      "it was read one tenth out",
	blunder.OtherUnit:  "it was booked in another unit, feet or metres",
	blunder.OnStrainer: "the rod stood on the strainer, not on the rim",
	blunder.InBowl:     "the rod stood in the bowl or in the pipe, not on the rim",
}

// mostSlips is how many slips a finding names.
const mostSlips = 2

// odd returns a note for each measured point that does not fit those round it, the worst first.
func (in *inspector) odd() []finding.Finding {
	out := make([]finding.Finding, 0, len(in.Odd))
	for i := range in.Odd {
		out = append(out, in.oddPoint(i))
	}
	return out
}

func (in *inspector) oddPoint(i int) finding.Finding {
	o := &in.Odd[i]
	if o.Inlet {
		return in.oddInlet(i)
	}
	f := blank(finding.SpotOdd, finding.Note)
	f.Size = float64(len(in.Odd) - i)
	f.Geometry = o.Plan
	f.Where = in.Places.Of(o.Plan)
	f.Confidence = finding.Likely
	called := o.Called(in.Roof, in.Surface)
	name := finding.Called(strings.ToUpper(called[:1]) + called[1:])
	f.Measured = []finding.Quantity{finding.Level("elevation", o.Z), finding.Level("those round it say", o.Expected)}
	off := finding.MM("off", max(o.Off(), -o.Off()))
	switch {
	case o.Vertex < 0:
		f.What = finding.Say("{0} lies off the roof and is not used.", name)
		f.Why = finding.Say("Where its northing and easting change places the roof stands at {0}; it is booked as {1}.", f.Measured[1], f.Measured[0])
	case o.Off() > 0:
		f.What = finding.Say("{0} stands {1} higher than the spots round it say.", name, off)
		f.Why = finding.Say("They say {0}; it is booked as {1}.", f.Measured[1], f.Measured[0])
	default:
		f.What = finding.Say("{0} stands {1} lower than the spots round it say.", name, off)
		f.Why = finding.Say("They say {0}; it is booked as {1}.", f.Measured[1], f.Measured[0])
	}
	if o.Vertex >= 0 {
		f.Measured = append(f.Measured, off)
	}
	f.Why = f.Why.And(slipsOf(o))
	f.Do = finding.Say(inBook + " Shoot it again.")
	if o.Spot >= 0 {
		f.Do = f.Do.And(finding.Say("--drop {0} leaves it out; --keep {0} says that it is meant.", finding.Called(in.Roof.Spots[o.Spot].ID)))
	}
	return f
}

// oddInlet returns a note for an inlet whose level does not fit the roof at it.
func (in *inspector) oddInlet(i int) finding.Finding {
	o := &in.Odd[i]
	outlet := &in.Surface.Outlets[o.Outlet]
	f := blank(finding.SpotOdd, finding.Note)
	f.Size, f.Geometry, f.Outlet, f.Where, f.Confidence = float64(len(in.Odd)-i), o.Plan, int(o.Outlet), at(outlet), finding.Likely
	f.Measured = []finding.Quantity{finding.Level("invert", o.Z), finding.Level("roof at the outlet", o.Expected), finding.MM("off", max(o.Off(), -o.Off()))}
	f.What = finding.Say("The inlet of {0} stands {1} "+choose.If(o.Off() > 0, "above", "below")+" the roof beside it.", called(outlet), f.Measured[2])
	f.Why = finding.Say("The roof there is at {0}; the inlet is booked as {1}.", f.Measured[1], f.Measured[0]).And(slipsOf(o))
	f.Do = finding.Say(inBook+" Shoot the inlet again: where water begins to run in. --keep {0} says that it is meant.", finding.Called(in.Roof.Outlets[outlet.Source].Called()))
	return f
}

// slipsOf says what would explain an odd number.
func slipsOf(o *blunder.Odd) finding.Text {
	all := gather.Each(o.Slips[:min(mostSlips, len(o.Slips))], func(s blunder.Slip) string { return slipText[s] })
	if len(all) == 0 {
		return finding.Text{}
	}
	return finding.Say("Likely " + strings.Join(all, ", or ") + ".")
}

// doubts names the odd points that a listed pond (index into Listed) rests on.
func (r *Results) doubts(listed int) []finding.Quantity {
	if listed < 0 || len(r.Rests) == 0 {
		return nil
	}
	return gather.Each(r.Rests[listed], func(i int32) finding.Quantity { return finding.Called(r.Odd[i].Called(r.Roof, r.Surface)) })
}

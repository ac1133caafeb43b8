package tape

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
)

// findings returns what is wrong, worst first.
func (s *Survey) findings() []finding.Finding {
	var out []finding.Finding
	for i := range s.Ponds {
		if p := &s.Ponds[i]; p.Water != nil || p.Holding.Depth.Answer == hold.Yes {
			out = append(out, s.pondFinding(i))
		}
	}
	if f, ok := s.noOutlets(); ok {
		out = append(out, f)
	}
	if f, ok := s.noOverflow(); ok {
		out = append(out, f)
	}
	out = append(out, s.coreFindings()...)
	for i := range out {
		out[i].Do = s.KeepOff.Guard(out[i].Do)
	}
	slices.SortStableFunc(out, func(a, b finding.Finding) int { return int(b.Severity) - int(a.Severity) })
	return out
}

// coreFindings returns what cores show to be wrong, each with the core's name, its place, and the water in which it was cut.
func (s *Survey) coreFindings() []finding.Finding {
	out := s.Cores.Findings()
	for i := range out {
		f := &out[i]
		at, _ := f.Geometry.(orb.Point)
		k := slices.IndexFunc(s.Cores.Cores, func(c assembly.Core) bool { return c.Plan == at })
		f.What, f.Where = finding.Say("Core {0}:", finding.Called(s.Cores.Cores[k].ID)).And(f.What), s.Where(at)
		for k := range s.Ponds {
			if p := &s.Ponds[k]; p.Water != nil && planar.RingContains(p.Bowl.Ring, at) {
				f.Where = f.Where.And(finding.Say("(in {0})", finding.Called(p.ID)))
			}
		}
	}
	return out
}

// Cause returns the kind of finding for what holds a pond.
func (p *Pond) Cause() finding.Kind {
	switch p.Holding.Verdict {
	case hold.OutletHigh, hold.Both:
		return finding.OutletHigh
	case hold.RiseBefore:
		return finding.RiseBefore
	case hold.NotResolved:
		switch { // half an answer
		case p.Holding.Outlet.Answer == hold.Yes:
			return finding.OutletHigh
		case p.Holding.Rise.Answer == hold.Yes:
			return finding.RiseBefore
		}
	case hold.Neither:
	}
	return finding.LowPlace
}

// ByScupper reports whether the outlet to which a pond's way was read is a scupper.
func (s *Survey) ByScupper(p *Pond) bool {
	if p.HoldExit < 0 {
		return false
	}
	o := s.Exits[p.HoldExit].Outlet
	return o >= 0 && s.Roof.Outlets[o].Type == roof.Scupper
}

// dryingTime is how long after rain standing water counts as a pond [h]: the usual measure of the roofing trade.
const dryingTime = 48

func (s *Survey) pondFinding(i int) finding.Finding {
	p := &s.Ponds[i]
	f := finding.Finding{Kind: p.Cause(), Severity: finding.Repair, Pond: i, Outlet: -1, Where: p.Where, Geometry: p.At, Size: p.area(), Confidence: finding.NotResolved}
	f.What = inspection.CauseText(f.Kind)
	f.Do, f.Decides = inspection.MendOf(f.Kind, s.ByScupper(p))
	if p.Holding.Verdict == hold.Both {
		f.What = f.What.And(inspection.CauseText(finding.RiseBefore))
		f.Also = []finding.Kind{finding.RiseBefore}
		more, _ := inspection.MendOf(finding.RiseBefore, false)
		f.Do = f.Do.And(more)
	}
	switch {
	case p.Holding.Verdict != hold.NotResolved && f.Kind != finding.LowPlace:
		f.Confidence = finding.Shown
	case f.Kind != finding.LowPlace:
		f.Confidence = finding.Likely
	}
	if p.Water != nil {
		f.Measured = append(f.Measured, finding.Plan("area seen", p.area()))
	}
	if p.Depth > 0 {
		f.Measured = append(f.Measured, finding.MM("depth seen", p.Depth), finding.Load("load at the sounding", p.Load))
	}
	f.Why = s.Holds(p)
	if f.Kind == finding.LowPlace {
		f.Do = finding.Say("Read the heights that are listed as the next spots.")
	}
	if p.Deep() {
		f.Severity, f.Decides = finding.Urgent, finding.Engineer
	}
	if p.Water == nil || p.Deep() {
		return f
	}
	switch h := p.Water.HoursSinceRain; {
	case p.Water.Outlets == roof.OutletsBlocked:
		f.Severity, f.Do = finding.Note, finding.Say("Clear the outlets and look again 48 hours after rain.")
	case h >= 0 && h < dryingTime && p.Holding.Depth.Answer != hold.Yes:
		f.Severity, f.Do = finding.Note, finding.Say("Look again 48 hours after rain: it counts as a pond if it still stands.")
	}
	return f
}

// Deep reports whether a pond was seen deep, or may be when full.
func (p *Pond) Deep() bool {
	d := &p.Holding.Depth
	return p.Depth > inspection.UrgentDepth || d.Answer == hold.Yes && d.Upper() > inspection.UrgentDepth
}

// Holds says what the heights tell of what holds a pond.
func (s *Survey) Holds(p *Pond) finding.Text {
	h := &p.Holding
	if p.Water != nil && p.Water.Outlets == roof.OutletsBlocked {
		return finding.Say("Outlets were blocked when the water was seen.")
	}
	if p.HoldExit < 0 || h.Outlet.Sigma == 0 {
		return s.lipOnly(p)
	}
	name := finding.Called(s.Exits[p.HoldExit].Name)
	var text finding.Text
	inlet := []finding.Quantity{name, finding.MM("height", abs(h.Outlet.Value)), finding.MM("error", h.Outlet.Sigma)}
	if h.Outlet.Value >= 0 {
		text = finding.Say("The inlet of {0} stands {1} over the lowest place (error {2}).", inlet...)
	} else {
		text = finding.Say("The inlet of {0} lies {1} under the lowest place (error {2}).", inlet...)
	}
	if h.Highest >= 0 {
		rise := []finding.Quantity{finding.Tape("distance", s.beforeDistance(p, h.Highest)), name, finding.MM("height", abs(h.Rise.Value)), finding.MM("error", h.Rise.Sigma)}
		over := map[bool]string{true: "over", false: "under"}[h.Rise.Value >= 0]
		than := map[bool]string{true: "the inlet", false: "the lowest place"}[h.Outlet.Value >= 0]
		text = text.And(finding.Say("The highest roof that was read before it, {0} from {1}, is {2} "+over+" "+than+" (error {3}).", rise...))
	} else {
		text = text.And(finding.Say("The roof before it was not read."))
	}
	if h.ByLip {
		text = text.And(finding.Say("Its lip is lower than that way: water leaves over the lip first."))
	}
	if h.Depth.Answer == hold.Yes {
		text = text.And(finding.Say("When full it stands {0} deep (error {1}).", finding.MM("depth when full", h.Depth.Value), finding.MM("error", h.Depth.Sigma)))
	}
	return text
}

// lipOnly says what the depth of the water alone tells.
func (s *Survey) lipOnly(p *Pond) finding.Text {
	if p.Depth == 0 {
		return finding.Say("No height and no depth tells what holds it.")
	}
	return finding.Say("No height tells what holds it. Its lip stands at least {0} over its lowest place.", finding.MM("depth seen", p.Depth))
}

func abs(v float64) float64 { return max(v, -v) }

// noOutlets reports a roof for which no way off was recorded.
func (s *Survey) noOutlets() (finding.Finding, bool) {
	if len(s.Exits) > 0 {
		return finding.Finding{}, false
	}
	return ofRoof(finding.OutletsUnsurveyed, finding.Repair, finding.Roofer, "No outlet was recorded.",
		"No row has the code DRAIN, SCUPPER, GUTTER or FREE.", "Find every drain and scupper, and say where each is."), true
}

// noOverflow reports a roof with walls all round for which no overflow was recorded.
func (s *Survey) noOverflow() (finding.Finding, bool) {
	if len(s.Exits) == 0 || s.Roof.Outline.EdgeAssumed || s.Roof.Outline.Edge != roof.Wall {
		return finding.Finding{}, false
	}
	for i := range s.Exits {
		if s.Exits[i].Duty == roof.Overflow || s.Exits[i].Outlet < 0 {
			return finding.Finding{}, false
		}
	}
	return ofRoof(finding.NoOverflow, finding.Urgent, finding.Plumber, "The roof has walls all round, and no overflow was recorded.",
		"If the outlets clog, water rises until it finds a way in or over.",
		"Look for an overflow drain or scupper. If there is none, ask what the local code asks for."), true
}

// ofRoof returns a finding about the roof as a whole.
func ofRoof(kind finding.Kind, severity finding.Severity, decides, what, why, do string) finding.Finding {
	return finding.Finding{
		Kind: kind, Severity: severity, Pond: -1, Outlet: -1, Decides: decides, Confidence: finding.Shown,
		What: finding.Say(what), Why: finding.Say(why), Do: finding.Say(do),
	}
}

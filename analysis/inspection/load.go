package inspection

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// overLimit returns a finding where the rain load is more than a limit that somebody set by name.
func (in *inspector) overLimit() []finding.Finding {
	limit, ok := in.Roof.Structure.Limit()
	if !ok || in.Load == nil || in.Load.Deepest < 0 || in.Load.Load <= limit {
		return nil
	}
	l := in.Load
	f := blank(finding.LoadOverLimit, finding.Urgent)
	at := orb.Point{in.Surface.Cut.X[l.Deepest], in.Surface.Cut.Y[l.Deepest]}
	f.Size, f.Geometry, f.Decides, f.Confidence = l.Load, at, finding.Engineer, finding.Likely
	f.What = finding.Say("With every primary outlet blocked, water weighs at least {0} where it is deepest; {2} allows {1}.",
		finding.Load("load", l.Load), finding.Load("limit", limit), finding.Called(in.Roof.Structure.LoadLimitBy))
	f.Where = in.Places.Of(at)
	f.Measured = []finding.Quantity{finding.Load("load", l.Load), finding.MM("depth", l.Depth), finding.Weight("weight", l.Weight)}
	if len(l.Waters) > 0 && l.Waters[0].HeadKnown {
		f.Measured = append(f.Measured, finding.MM("static head", l.Waters[0].StaticHead), finding.MM("hydraulic head", l.Waters[0].Head))
	}
	f.Required = []finding.Quantity{finding.Load("limit", limit)}
	f.Source = "limit stated by " + in.Roof.Structure.LoadLimitBy + "; load by " + in.rules().RainLoad.Text
	f.Why = finding.Say(standard.AtLeast)
	if !l.Complete {
		f.Why = f.Why.And(finding.Say("The hydraulic head is not known for all outlets and is not included."))
	}
	f.Do = finding.Say("Keep off while water stands, and have a structural engineer look at it. The outlets must stay clear.")
	return []finding.Finding{f}
}

// bays returns a note on bays that may be susceptible to ponding, where somebody asked for loads: rain, a limit or
// framing was stated.
func (in *inspector) bays() []finding.Finding {
	s := &in.Roof.Structure
	if limit, _ := s.Limit(); limit == 0 && !s.HasDirection && in.Criteria.RainOverflow == 0 {
		return nil
	}
	deep := 0.0
	if in.Load != nil {
		deep = in.Load.Depth
	}
	flat := in.flatterThan(standard.BaySlope)
	f := blank(finding.BaySusceptible, finding.Note)
	f.Source = in.rules().Bay.Text
	if flat > 0 {
		f.Why = finding.Say("{0} of the roof slopes less than {1}.", finding.Part("share", flat/in.Surface.Area), finding.Fall("slope", standard.BaySlope))
		f.Measured = append(f.Measured, finding.Plan("area under that slope", flat))
	}
	flat = math.Max(flat, in.besideEdges(&f))
	if deep > 0 {
		f.Why = f.Why.And(finding.Say("Water stands {0} deep with every primary outlet blocked and the overflows at work.", finding.MM("depth", deep)))
		f.Measured = append(f.Measured, finding.MM("depth", deep))
		f.Source += "; " + standard.BayWaterSource.Text
	}
	if flat <= 0 && deep <= 0 {
		return nil
	}
	f.What = finding.Say("Under water, bays of this roof may sag below the surveyed shape. A licensed structural engineer must check.")
	f.Where = finding.Say("the whole roof")
	f.Required = []finding.Quantity{finding.Fall("slope", standard.BaySlope)}
	f.Do = finding.Say("Give an engineer these depths and the framing.")
	f.Decides, f.Confidence, f.Geometry, f.Size = finding.Engineer, finding.Likely, in.anywhere(), flat
	return []finding.Finding{f}
}

// flatterThan returns the area of planes that are not shown to be as steep as a slope [m2]: doubt counts against them. A plane that is that steep to a
// tenth of a thousandth, without its error, has the slope.
func (in *inspector) flatterThan(limit float64) float64 {
	const slack = 1e-4
	area := 0.0
	for i := range in.Slopes.Planes {
		if p := &in.Slopes.Planes[i]; p.Slope-2*math.Max(p.Sigma, p.ResidualSigma) < limit-slack {
			area += p.Area
		}
	}
	return area
}

// besideEdges adds to f by which slope the bays count along open edges, as the secondary members lie to them, and
// returns the area of planes that are flatter than that where members run along an edge [m2]. Members count as square to an edge where they
// are within 30 degrees of that; where they lie otherwise, or nobody said how, they count as running along it, which asks for more.
func (in *inspector) besideEdges(f *finding.Finding) float64 {
	const along = 0.5 // cosine of 60 degrees
	s := &in.Roof.Structure
	square, parallel := false, false
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		if o.Type != roof.EdgeOutlet || len(o.Line) < 2 {
			continue
		}
		a, b := o.Line[0], o.Line[len(o.Line)-1]
		length := vector.Norm(b[0]-a[0], b[1]-a[1])
		if length == 0 {
			continue
		}
		e, n := bearing(s.MemberDirection)
		if !s.HasDirection {
			parallel = true
		} else if c := math.Abs(float64((b[0]-a[0])*e)+float64((b[1]-a[1])*n)) / length; c > along {
			parallel = true
		} else {
			square = true
		}
	}
	if square {
		f.Source += "; " + standard.BaySquareSource.Text
	}
	if !parallel {
		return 0
	}
	f.Source += "; " + standard.BayParallelSource.Text
	ratio := choose.If(s.MemberSpacing > 0, float64(s.MemberSpan)/float64(s.MemberSpacing), 0)
	limit := standard.BaySlopeParallel
	flat := in.flatterThan(limit)
	members := "Secondary members run along an edge that water leaves over"
	if !s.HasDirection {
		members = "Nobody stated which way the secondary members run; along an edge that water leaves over the limit is higher"
	}
	f.Why = f.Why.And(finding.Say(members+": {0} of the roof slopes less than {1}.", finding.Part("share", flat/in.Surface.Area), finding.Fall("slope", limit)))
	if ratio > standard.BaySpanRatio {
		f.Why = f.Why.And(finding.Say("Their span is over 16 times their spacing."))
	}
	return flat
}

// bearing returns the unit vector east and north of a bearing [degrees clockwise from north].
func bearing(degrees float64) (east, north float64) {
	sin, cos := math.Sincos(degrees * (math.Pi / 180))
	return sin, cos
}

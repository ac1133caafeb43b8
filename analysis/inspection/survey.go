package inspection

import (
	"math"

	"runnel/analysis/evidence"
)

// Survey says how good the measurements are and what was not measured.
type Survey struct {
	Spots        int     // spots used
	Spacing      float64 // side of the square that each measured point has to itself on average [m]
	Sigma        float64 // typical standard deviation of an elevation [m]: as stated, else what the scatter of the spots allows at most
	SigmaStated  bool    // Sigma was stated by the input
	SigmaUsual   bool    // nothing tells it: it is the usual one
	Offset       float64 // by which files whose spots stand among each other differ in elevation [m]
	AssumedShare float64 // of the area, on facets with an inferred elevation
	Ties         int     // diagonals chosen by rule, not by measurement

	InvertsAssumed int  // outlets whose invert was not measured
	EdgesAssumed   bool // nothing stated the edge type: walls assumed
	Odd            int  // measured points that do not fit those round them
	NoRain         bool // no rain given: capacity was not checked
	NoCores        bool // no cores: what lies below the membrane is not known
	NoStains       bool // no standing water was recorded on site
}

// SurveyOf sums up how good the measurements are.
func SurveyOf(r *Results) Survey {
	s := Survey{
		Spacing: r.Surface.Spacing, AssumedShare: r.Surface.AssumedShare, Ties: r.Surface.Ties,
		EdgesAssumed: r.Roof.Outline.EdgeAssumed, Odd: r.OddAll,
		NoRain:  r.Criteria.RainPrimary == 0 && r.Criteria.RainOverflow == 0,
		NoCores: len(r.Roof.Cores) == 0, NoStains: len(r.Roof.Stains) == 0,
	}
	t := r.Surface.TIN
	sum, stated := 0.0, 0
	for v := range t.X {
		if t.Spot[v] >= 0 {
			s.Spots++
		}
		if t.Sigma[v] > 0 {
			sum += float64(t.Sigma[v] * t.Sigma[v])
			stated++
		}
	}
	switch {
	case r.Errors != nil:
		s.Sigma, s.SigmaStated, s.SigmaUsual = r.Errors.Typical, r.Errors.Source == evidence.Stated, r.Errors.Source == evidence.Usual
		s.Offset = r.Errors.Offset
	case stated > 0:
		s.Sigma, s.SigmaStated = math.Sqrt(sum/float64(stated)), true
	default:
		s.Sigma = r.Slopes.Noise
	}
	for i := range r.Surface.Outlets {
		if r.Surface.Outlets[i].InvertAssumed {
			s.InvertsAssumed++
		}
	}
	return s
}

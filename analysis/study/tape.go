package study

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/evidence"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/offset"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/tape"
)

// CriteriaOf returns the criteria that hold for a roof: what flags state, else what its outline states, else the usual ones. The error is a
// *roof.Refusal.
func CriteriaOf(r *roof.Roof, o Options) (standard.Criteria, error) { return criteria(r, o) }

// TooFewHeights refuses a roof that was measured with tape, chalk and ruler, from which no surface can be drawn.
func TooFewHeights(r *roof.Roof) error {
	var refusal roof.Refusal
	refusal.Add(roof.Problem{
		Origin: r.Outline.Origin,
		Rule:   "the roof was measured with tape, chalk and ruler (tier " + tape.TierOf(r).String() + "), and this asks for heights all over it",
		Mend:   "run check, which says what the tape tells, and read the spots that it lists",
	})
	return refusal.Err()
}

// withTape returns the roof with the heights that water, chalk and probes give it, and its water as stains; the roof itself where there are
// none. tooCoarse lists the stains that the spots alone do not show as ponds.
func (s *Study) withTape(r *roof.Roof, o Options) (out *roof.Roof, tooCoarse []int, err error) {
	if r.Tape == nil {
		return r, nil, nil
	}
	c := *r
	c.Tape = nil // what it says goes into spots and stains
	c.Spots = append(append([]roof.Spot{}, r.Spots...), tape.ProbeSpots(r)...)
	c.Stains = tape.Stains(r)
	if len(r.Tape.Waters) == 0 {
		return &c, nil, nil
	}
	alone, ponds, err := spotsAlone(&c, o)
	if err != nil {
		return nil, nil, err
	}
	s.sigma(r, &c, alone)
	sigma, _ := tape.SigmaOf(r)
	for i := range r.Tape.Waters {
		w := &r.Tape.Waters[i]
		level, _ := tape.LevelOf(w, sigma)
		if alone != nil {
			stain := len(r.Stains) + i
			if w.Outlets != roof.OutletsBlocked && !inspection.ShownBy(&c.Stains[stain], ponds) {
				tooCoarse = append(tooCoarse, stain)
			}
			if !level.Known {
				level = settled(w, alone, &c)
			}
		}
		if level.Known {
			spots, bowl := tape.WaterSpots(w, level)
			c.Spots = append(c.Spots, spots...)
			if bowl > 0 {
				c.Warnings = append(c.Warnings, fmt.Sprintf("%s: between the chalked edge and the depths its bottom is taken for a smooth bowl; %d heights stand for that.", w.ID, bowl))
			}
		} else {
			c.Warnings = append(c.Warnings, fmt.Sprintf("%s: the level of the water is not known, and the spots round it do not tell it: its edge gives no heights.", w.ID))
		}
	}
	return &c, tooCoarse, nil
}

// sigma gives the spots that state no standard error the one that they have without the water, whose heights state theirs and would else
// speak for all: as stated or as they scatter, and that of a level where places were taped.
func (s *Study) sigma(r, c *roof.Roof, alone *surface.Surface) {
	if c.Sigma > 0 {
		return
	}
	source, typical := evidence.Usual, standard.LevelError
	if alone != nil && !r.Tape.Placed {
		e := evidence.ErrorsOf(alone, c)
		source, typical = e.Source, e.Typical
	}
	if taped, stated := tape.SigmaOf(r); r.Tape.Placed && stated {
		source, typical = evidence.Stated, taped
	}
	c.Sigma = quantity.Length(typical)
	s.errorsFrom = &source
}

// settled returns the level that the spots round a water give it, and says so.
func settled(w *roof.Water, alone *surface.Surface, c *roof.Roof) hold.Reading {
	locate := surface.NewLocator(alone.TIN)
	level := tape.LevelFrom(w, func(p orb.Point) (float64, bool) { return locate.HeightAt(p[0], p[1]) })
	if level.Known {
		c.Warnings = append(c.Warnings, fmt.Sprintf("%s: nobody read the level of the water; it is taken from the spots round it, good to %.0f mm (one standard deviation). Read one mark of its edge.",
			w.ID, 1000*level.Sigma))
	}
	return level
}

// spotsAlone returns the surface and the ponds that the spots give without any water; nil where they are too few for a surface.
func spotsAlone(r *roof.Roof, o Options) (*surface.Surface, *ponding.Ponds, error) {
	s, err := surface.Build(r, surface.Options{Tolerance: o.Tolerance})
	if err != nil {
		return nil, nil, nil //nolint:nilerr // the water's heights may be what is missing; the whole is built and judged next
	}
	ponds, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	return s, ponds, err
}

// gapSure is how many standard errors a slope by level may differ from that of the spots before it is said.
const gapSure = 3

// gaps compares slopes that a level gave with those of the surface.
func (s *Study) gaps(gaps []roof.Gap) []string {
	var out []string
	locate := surface.NewLocator(s.Surface.TIN)
	for i := range gaps {
		g := &gaps[i]
		length := float64(g.Level)
		near, ok := locate.HeightAt(g.Plan[0], g.Plan[1])
		far, ok2 := locate.HeightAt(g.Plan[0]+float64(g.Toward[0]*length), g.Plan[1]+float64(g.Toward[1]*length))
		if !ok || !ok2 {
			out = append(out, fmt.Sprintf("%s: the level's far end does not lie on the roof, so the slope is compared with nothing.", g.Origin))
			continue
		}
		read, spots := float64(g.Gap)/length, (near-far)/length
		span := max(length, s.Surface.Spacing) // between spots the surface runs straight
		spotError := math.Sqrt2 * s.Errors.Typical / span
		levelError := tape.GapError(g)
		if math.Abs(read-spots) <= gapSure*math.Sqrt(float64(spotError*spotError)+float64(levelError*levelError)) {
			continue
		}
		way := offset.Names[offset.Point(g.Toward[0], g.Toward[1])]
		out = append(out, fmt.Sprintf("%s: by level the roof falls %.2f %% toward %s here, by the spots %.2f %%. Read one of them again.", g.Origin, 100*read, way, 100*spots))
	}
	return out
}

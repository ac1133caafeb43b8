package record

import (
	"fmt"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/flood"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// mostBands is how many bands of depth one state of the water is drawn in at most.
const mostBands = 8

// Water is one state of the water, in bands of depth.
type Water struct {
	Case        string  // in words, to stand behind "With"
	Depth, Load float64 // of the deepest water [m], [Pa]
	Deepest     int32   // vertex of the cut surface, -1 where there is none
	Primary     bool    // every primary outlet is blocked and every overflow works: what codes load a roof with
	Bands       []flood.Band
}

// DesignWater returns the state that codes load a roof with or, where that was not asked for, the deepest; nil without any.
func (b *Book) DesignWater() *Water {
	var out *Water
	for i := range b.Waters {
		switch w := &b.Waters[i]; {
		case w.Primary:
			return w
		case out == nil || w.Depth > out.Depth:
			out = w
		}
	}
	return out
}

// primaries reports whether a case blocks every drain and scupper that is primary, and no other.
func (b *Book) primaries(c *study.Case) bool {
	o, some := b.Study.Surface.Outlets, false
	for i := range o {
		if o[i].Type == roof.EdgeOutlet {
			continue
		}
		if primary := o[i].Duty == roof.Primary; primary != slices.Contains(c.Labels, o[i].Label) {
			return false
		}
		some = some || o[i].Duty == roof.Primary
	}
	return some
}

// StormCases returns the cases of the storm that are drawn: the first, the deepest, and that in which every primary outlet is
// blocked and every overflow works. There must be a storm.
func (b *Book) StormCases() []*study.Case {
	s := b.Study.Storm
	var out []*study.Case
	for i := range s.Cases {
		if c := &s.Cases[i]; i == 0 || i == s.Worst || b.primaries(c) {
			out = append(out, c)
		}
	}
	return out
}

// waters returns the states of the water that are drawn: those of StormCases, without a storm the load under the stated rain.
func (b *Book) waters() []Water {
	s := b.Study
	var out []Water
	if s.Storm != nil {
		for _, c := range b.StormCases() {
			out = append(out, Water{c.Name, c.Deepest.Depth, c.Load, c.Deepest.Vertex, b.primaries(c), b.bands(c.Envelope, c.Deepest.Depth)})
		}
		return out
	}
	if s.RainLoad != nil && s.Criteria.RainOverflow > 0 {
		l := s.RainLoad
		out = append(out, Water{study.EveryPrimaryBlocked, l.Depth, l.Load, l.Deepest, true, b.bands(l.Level, l.Depth)})
	}
	return out
}

// bands cuts the water of a state into bands: from the depth at which wide ponds are listed, then in whole inches or
// steps of 25 mm. The sub-surface is that with the outlets' footprints cut in.
func (b *Book) bands(level []float64, deepest float64) []flood.Band {
	step := choose.If(b.Units == US, standard.LoadBand, standard.LoadBandMetric)
	limits := flood.Steps(deepest, step, mostBands)
	if len(limits) > 0 {
		limits[0] = standard.PondDepthWide
	}
	return flood.Bands(b.Study.Surface.Cut, level, limits)
}

// Band adds the properties of band k of water i (index into Waters).
func (b *Book) Band(o *Object, i, k int) {
	band := &b.Waters[i].Bands[k]
	u := b.Units
	o.Text("case", b.Waters[i].Case)
	u.Depth(o, "depth_from", band.From)
	u.Depth(o, "depth", band.To)
	u.Pressure(o, "load", float64(band.To*standard.WaterDensity)*standard.Gravity)
	u.Area(o, "area", band.Area)
	u.Volume(o, "volume", band.Volume)
}

// BandID returns the id of band k of water i.
func (b *Book) BandID(i, k int) string { return fmt.Sprintf("%s.H%d%02d", b.Names.Roof, i+1, k+1) }

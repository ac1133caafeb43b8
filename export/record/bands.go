package record

import (
	"fmt"

	"runnel/analysis/flood"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// mostBands is how many bands of depth one state of the water is drawn in at most.
const mostBands = 8

// Water is one state of the water, in bands of depth.
type Water struct {
	Case  string // in words, to stand behind "With"
	Bands []flood.Band
}

// waters returns the states of the water that are drawn: of a storm the roof with every outlet at work, the deepest
// case and the one with all primary outlets blocked; without one the load under the stated rain.
func (b *Book) waters() []Water {
	s := b.Study
	var out []Water
	if s.Storm != nil {
		for i := range s.Storm.Cases {
			c := &s.Storm.Cases[i]
			if i == 0 || i == s.Storm.Worst || c.Name == study.AllPrimaryName {
				out = append(out, Water{c.Name, b.bands(c.Envelope, c.Deepest.Depth)})
			}
		}
		return out
	}
	if s.RainLoad != nil && s.Criteria.RainOverflow > 0 {
		out = append(out, Water{study.AllPrimaryName, b.bands(s.RainLoad.Level, s.RainLoad.Depth)})
	}
	return out
}

// bands cuts the water of a state into bands: from the depth at which wide ponds are listed, then in whole inches or
// steps of 25 mm. The sub-surface is that with the outlets' footprints cut in.
func (b *Book) bands(level []float64, deepest float64) []flood.Band {
	step := standard.LoadBandMetric
	if b.Units == US {
		step = standard.LoadBand
	}
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

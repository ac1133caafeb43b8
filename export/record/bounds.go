package record

import (
	"math"
	"strings"

	"runnel/analysis/bounds"
	"runnel/analysis/choose"
	"runnel/analysis/ponding"
	"runnel/analysis/standard"
)

// pondBounds returns how sure the figures of listed pond i are; nil where no trials were made, and where it rests on a height that does not fit,
// which is no error that trials make.
func (b *Book) pondBounds(i int) *bounds.Pond {
	if b.Study.Bounds == nil || b.Study.Bounds.Ponds[i].Trials == 0 || len(b.Study.Rests[i]) > 0 {
		return nil
	}
	return &b.Study.Bounds.Ponds[i]
}

// addPondBounds adds the bounds of listed pond i: with 95 % confidence a figure is over the one and not over the other.
func (b *Book) addPondBounds(o *Object, i int) {
	p := b.pondBounds(i)
	if p == nil {
		return
	}
	u := b.Units
	depthUnit.addRange(o, u, "depth", p.Depth)
	areaUnit.addRange(o, u, "area", p.Area)
	volumeUnit.addRange(o, u, "volume", p.Volume)
	o.Share("chance_listed", p.Listed)
	o.Share("chance_deep", p.Deep)
	o.Flag("barely_shown", p.Barely)
}

// addRange adds both ends of a range: the name with its unit, then _5 and _95. An end without limit is left out.
func (d dimension) addRange(o *Object, u Units, name string, r bounds.Range) {
	o.Number(name+d[u].suffix+"_5", r.Low/d[u].Size, d[u].decimals)
	if !math.IsInf(r.High, 1) {
		o.Number(name+d[u].suffix+"_95", r.High/d[u].Size, d[u].decimals)
	}
}

// DepthRange adds both ends of the range of a small length [m].
func (u Units) DepthRange(o *Object, name string, r bounds.Range) { depthUnit.addRange(o, u, name, r) }

// AreaRange adds both ends of the range of a plan area [m2].
func (u Units) AreaRange(o *Object, name string, r bounds.Range) { areaUnit.addRange(o, u, name, r) }

// MassRange adds both ends of the range of a weight [kg].
func (u Units) MassRange(o *Object, name string, r bounds.Range) { massUnit.addRange(o, u, name, r) }

// Barely reports whether the spots barely show listed pond i: then its figures stand as ranges alone.
func (b *Book) Barely(i int) bool {
	p := b.pondBounds(i)
	return p != nil && p.Barely
}

// SayPondDepth writes the depth of listed pond i: a figure, or a range where the spots barely show it.
func (b *Book) SayPondDepth(i int) string {
	return b.sayPond(i, b.Units.SayDepth, b.listed(i).Depth, func(p *bounds.Pond) bounds.Range { return p.Depth })
}

// SayPondArea writes the area of listed pond i, likewise.
func (b *Book) SayPondArea(i int) string {
	return b.sayPond(i, b.Units.SayArea, b.listed(i).Area, func(p *bounds.Pond) bounds.Range { return p.Area })
}

// SayPondVolume writes how much water listed pond i holds, likewise.
func (b *Book) SayPondVolume(i int) string {
	return b.sayPond(i, b.Units.SayVolume, b.listed(i).Volume, func(p *bounds.Pond) bounds.Range { return p.Volume })
}

// SayPondWeight writes what the water of listed pond i weighs, likewise.
func (b *Book) SayPondWeight(i int) string {
	return b.sayPond(i, b.Units.SayMass, b.Study.Listed[i].Weight, func(p *bounds.Pond) bounds.Range { return times(p.Volume, standard.WaterDensity) })
}

// SayPondLoad writes the load of the water of listed pond i where it is deepest, likewise.
func (b *Book) SayPondLoad(i int) string {
	return b.sayPond(i, b.Units.SayPressure, b.Study.Listed[i].Load, func(p *bounds.Pond) bounds.Range {
		return times(p.Depth, standard.WaterDensity*standard.Gravity)
	})
}

func (b *Book) listed(i int) *ponding.Pond { return &b.Study.Ponds.Ponds[b.Study.Listed[i].Pond] }

// sayPond writes a figure of listed pond i, or between what it lies where the spots barely show the pond.
func (b *Book) sayPond(i int, say func(float64) string, figure float64, between func(*bounds.Pond) bounds.Range) string {
	if !b.Barely(i) {
		return say(figure)
	}
	return upTo(say, between(b.pondBounds(i)))
}

// OpenCatchment reports whether the errors of the survey leave open how much of the roof runs to outlet i, low places full. Along a wall or in a valley that is all but level a few millimetres send the water to another outlet.
func (b *Book) OpenCatchment(i int) bool {
	return b.Study.Bounds.OpenCatchment(i, b.Catchment(i), b.Study.Surface.Area)
}

// SayCatchment writes how much of the roof runs to outlet i, low places full: a figure, or a range where that is open.
func (b *Book) SayCatchment(i int) string {
	if !b.OpenCatchment(i) {
		return b.Units.SayArea(b.Catchment(i))
	}
	return upTo(b.Units.SayArea, b.Study.Bounds.Catchments[i])
}

// upTo writes "up to 20 mm" of a range that begins at nothing or at less than can be said, else as sayRange does.
func upTo(say func(float64) string, r bounds.Range) string {
	low, high := say(r.Low), say(r.High)
	if low != high && (low == say(0) || strings.HasPrefix(low, "less than ")) {
		return "up to " + high
	}
	return sayRange(say, r)
}

func times(r bounds.Range, by float64) bounds.Range {
	return bounds.Range{Low: r.Low * by, High: r.High * by}
}

// SayPondRange writes between what the depth of listed pond i lies; empty where that is not known, or the depth is a range anyhow, or both
// ends read as the figure itself.
func (b *Book) SayPondRange(i int) string {
	p := b.pondBounds(i)
	if p == nil || p.Barely {
		return ""
	}
	text := sayRange(b.Units.SayDepth, p.Depth)
	return choose.If(text == b.SayPondDepth(i), "", text)
}

// sayRange writes "12 mm to 20 mm", or one figure where both ends read alike.
func sayRange(say func(float64) string, r bounds.Range) string {
	low, high := say(r.Low), say(r.High)
	return choose.If(low == high, low, low+" to "+high)
}

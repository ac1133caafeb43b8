package assembly

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Methods returns every method with what it does and where it stands, in the order in which reports print them. Least demanding last.
func Methods() []ResistanceRow {
	return []ResistanceRow{
		{Method: LeastR, Source: standard.LeastRSource, Meaning: "The R at the thinnest place counts everywhere."},
		{Method: LeastPlusInch, Source: standard.LeastPlusInchSource, Meaning: "The R at 1 in over the thinnest place counts everywhere, but no more than that at the thickest. Read strictly, the clause asks it of the thinnest place too."},
		{Method: WithinInch, Source: standard.WithinInchSource, Meaning: "The area-weighted U where thickness varies by 1 in or less, else the R at the thinnest place."},
		{Method: AverageTable, Source: standard.AverageTableSource, Meaning: "The even R that a table gives for the average R."},
		{Method: AreaU, Source: standard.AreaUSource, Meaning: "The average of U over the area: what the roof lets through."},
		{Method: AverageThickness, Source: standard.AverageThicknessSource, Meaning: "The R of the average thickness. It is more than the roof has."},
	}
}

// field sums up the thickness over the facets on which it is known.
type field struct {
	area, total float64
	mean        float64
	least, most float64
	steepest    float64 // taper, rise over run
	transmit    float64 // integral of U
	rAt         func(t float64) float64
}

// resistanceOf works out the R of the roof by every method.
func resistanceOf(r *Result, chosen Method) Resistance {
	out := Resistance{Films: standard.AirFilms, Chosen: chosen}
	if chosen == "" {
		out.Chosen = LeastR
	}
	perMetre, rest, why := r.profile()
	if why != "" {
		out.Why = why
		return out
	}
	f := field{least: math.Inf(1), most: math.Inf(-1), rAt: func(t float64) float64 { return math.Max(rest+float64(perMetre*t), 0) }}
	t := r.finder.in.Surface.TIN
	for k := range int32(t.Facets()) {
		f.add(r, t, k)
	}
	if f.area == 0 {
		out.Why = "too few cores to know the thickness between them"
		return out
	}
	out.Known, out.PerMetre = true, perMetre
	out.Area, out.Share = f.area, f.area/f.total
	out.Mean, out.Least, out.Greatest = f.mean/f.area, f.least, f.most
	out.LeastR, out.GreatestR = f.rAt(f.least), f.rAt(f.most)
	out.rows(&f)
	return out
}

// add takes in one facet: thickness at its corners from the fits, linear between them.
func (f *field) add(r *Result, t *surface.TIN, k int32) {
	var p [3]orb.Point
	var d [3]float64
	for c := range int32(3) {
		v := t.V[3*k+c]
		p[c] = orb.Point{t.X[v], t.Y[v]}
	}
	area := (float64((p[1][0]-p[0][0])*(p[2][1]-p[0][1])) - float64((p[2][0]-p[0][0])*(p[1][1]-p[0][1]))) / 2
	f.total += area
	g := r.regionOf(k, orb.Point{(p[0][0] + p[1][0] + p[2][0]) / 3, (p[0][1] + p[1][1] + p[2][1]) / 3})
	if g == nil {
		return
	}
	for c := range int32(3) {
		d[c] = math.Max(g.thicknessAt(p[c], t.Z[t.V[3*k+c]]), 0)
		if d[c] < f.least {
			f.least = d[c]
		}
		f.most = math.Max(f.most, d[c])
	}
	f.area += area
	f.mean += float64(area * (d[0] + d[1] + d[2]) / 3)
	f.steepest = math.Max(f.steepest, r.taper(g, k))
	var u [3]float64
	for c := range u {
		u[c] = f.rAt(d[c]) + standard.AirFilms
	}
	f.transmit += float64(area * MeanU(u))
}

// regionOf returns the narrowest fitted region that holds a place on a facet; nil where there is none.
func (r *Result) regionOf(facet int32, at orb.Point) *Region {
	for _, i := range r.finder.regions(facet, at) {
		if r.Regions[i].fitted {
			return &r.Regions[i]
		}
	}
	return nil
}

// thicknessAt returns the thickness that a region's fit gives at a place where the surface is at z.
func (g *Region) thicknessAt(p orb.Point, z float64) float64 {
	if g.Kind == OnPlane {
		d, _ := g.deck.at(p)
		return z - d
	}
	t, _ := g.line.at(z)
	return t
}

// taper returns the slope of the insulation on a facet: that of the region's fit, not of the spots' scatter.
func (r *Result) taper(g *Region, facet int32) float64 {
	if g.Kind == OnPlane {
		return g.Thickness.Slope()
	}
	slopes := r.finder.in.Slopes
	return math.Abs(g.Share) * slopes.Planes[slopes.Plane[facet]].Slope
}

// profile returns how R goes with thickness over the cores: R = rest + perMetre * thickness, perMetre being that of what varies. why says
// what is missing.
func (r *Result) profile() (perMetre, rest float64, why string) {
	n := 0.0
	for i := range r.Cores {
		c := &r.Cores[i]
		if !c.HasThickness {
			continue
		}
		if !c.RKnown {
			return 0, 0, "the R of a material is not known"
		}
		n++
	}
	if n == 0 {
		return 0, 0, "no core gives a thickness"
	}
	perMetre, ok := r.perMetre(n)
	if !ok {
		return 0, 0, "no core has insulation in it"
	}
	for i := range r.Cores {
		if c := &r.Cores[i]; c.HasThickness {
			rest += (c.R - float64(perMetre*c.read())) / n
		}
	}
	return perMetre, rest, ""
}

// perMetre returns the resistance per thickness of what varies: the slope of R over the thickness of the n cores that have one, so that
// a taper on flat boards of another insulant counts with its own figure. It lies between the least and the greatest of the
// insulants cut; where the cores are alike it is the mean of the insulation in them. ok is false where there is none.
func (r *Result) perMetre(n float64) (k float64, ok bool) {
	var ins, insR, thick, res float64
	least, most := math.Inf(1), 0.0
	for i := range r.Cores {
		c := &r.Cores[i]
		if !c.HasThickness {
			continue
		}
		thick, res = thick+c.read()/n, res+c.R/n
		for _, l := range c.Layers {
			if l.insulates && l.Thickness > 0 {
				ins, insR = ins+l.Thickness, insR+l.R
				least, most = math.Min(least, l.R/l.Thickness), math.Max(most, l.R/l.Thickness)
			}
		}
	}
	if ins == 0 {
		return 0, false
	}
	var spread, along float64
	for i := range r.Cores {
		if c := &r.Cores[i]; c.HasThickness {
			d := c.read() - thick
			spread += float64(d * d)
			along += float64(d * (c.R - res))
		}
	}
	const alike = 0.01 // standard deviation of the thickness under which cores are alike [m]; own choice: twice what a core is read to
	if spread < float64(n*alike*alike) {
		return insR / ins, true
	}
	return math.Max(least, math.Min(most, along/spread)), true
}

// read returns the thickness of a core as its layers add up.
func (c *Core) read() float64 {
	return gather.Sum(c.Layers, func(l Layer) float64 { return l.Thickness })
}

// rows fills the outcome of every method.
func (out *Resistance) rows(f *field) {
	u := f.transmit / f.area
	trueR := 1/u - standard.AirFilms
	average := f.rAt(out.Mean)
	out.Rows = Methods()
	for i := range out.Rows {
		row := &out.Rows[i]
		row.OK = true
		switch row.Method {
		case LeastR:
			row.R = out.LeastR
		case LeastPlusInch:
			row.R = math.Min(f.rAt(out.Least+standard.VariesBy), out.GreatestR)
		case WithinInch:
			row.R = out.LeastR
			if out.Greatest-out.Least <= standard.VariesBy {
				row.R = trueR
			}
		case AverageTable:
			row.R, row.Why = evenR(average, out.LeastR, f.steepest)
			row.OK = row.Why == ""
		case AreaU:
			row.R = trueR
		case AverageThickness:
			row.R = average
		}
		if row.OK {
			row.U = 1 / (row.R + standard.AirFilms)
		}
	}
}

// evenR returns the even R that the table gives for an average R, straight between its rows; why says where it does not apply.
func evenR(average, least, taper float64) (r float64, why string) {
	const slack = 1e-3
	table := standard.AverageSteps
	a := average / quantity.RUnit
	switch {
	case least < standard.AverageStepsLeast*(1-slack):
		return 0, "less than R-5 at the thinnest place"
	case taper > standard.AverageStepsSlope*(1+slack):
		return 0, "tapers by more than 1/4 in per ft"
	case a < table[0].Average:
		return 0, "less than the least average of the table"
	case a >= table[len(table)-1].Average:
		return table[len(table)-1].Even * quantity.RUnit, ""
	}
	i := 1
	for table[i].Average < a {
		i++
	}
	p, q := table[i-1], table[i]
	return (p.Even + float64((q.Even-p.Even)*(a-p.Average)/(q.Average-p.Average))) * quantity.RUnit, ""
}

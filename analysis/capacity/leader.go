package capacity

import (
	"math"
	"strconv"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// LeaderCapacity returns what a vertical leader takes, by one of LeaderMethods; empty for the usual one, which is
// PipeTable for a round leader and LeaderTable for a rectangular one. A size between those of a table counts as the next
// smaller, a rectangle that is not tabulated as the largest round leader of no more area. Errors: a *MethodError, and a
// *quantity.RangeError for a leader smaller than all of the table.
func LeaderCapacity(s Section, method string) (Link, error) {
	if method == "" && s.Depth > 0 {
		method = LeaderTable
	}
	method, err := pick("leader", method, LeaderMethods())
	if err != nil {
		return Link{}, err
	}
	l, err := leaderBy(s, method)
	if err != nil || method == LeaderFill {
		return l, err
	}
	lower, err := leaderBy(s, LeaderFill)
	l.Lower = &lower
	return l, err
}

func leaderBy(s Section, method string) (Link, error) {
	l := Link{Name: "leader", Method: method}
	if s.Depth > 0 && method != LeaderTable {
		s = Section{Width: s.round()}
		l.Note = "taken as the round leader of its area, " + inchText(s.Width)
	}
	var err error
	switch method {
	case LeaderTable:
		err = l.fromLeaderTable(s)
	case LeaderFill:
		d, cube := inches(float64(s.Width)), cubeRoot(inches(float64(s.Width)))
		fill := cubeRoot(standard.AnnularFill)
		l.Source = standard.LeaderFillSource
		l.Capacity = gpm(standard.AnnularFlow * standard.AnnularFill * float64(fill*fill) * d * d * float64(cube*cube))
	case Rainwater:
		l.Source = standard.RainwaterSource
		l.Capacity = litresPerSecond(rainwaterPipe(millimetres(float64(s.Width))))
	case OlderAreas:
		l.Source = standard.LeaderAreaSource
		l.Note = joined(l.Note, "area at 1 in/h")
		err = l.fromAreas(s.Width, standard.LeaderAreaRows)
	default:
		err = l.fromPipes(s.Width, func(r standard.PipeRow) float64 { return r.VerticalGPM })
	}
	l.Capacity = settled(l.Capacity)
	return l, err
}

// round returns the diameter of the circle of the section's area.
func (s Section) round() quantity.Length { return quantity.Length(math.Sqrt(s.area() / quarterPi)) }

// fromLeaderTable takes a leader from its table: the size itself, else the largest round one of no more area.
func (l *Link) fromLeaderTable(s Section) error {
	l.Source = standard.LeaderSource
	wide, deep := max(s.Width, s.Depth), min(s.Width, s.Depth)
	var sizes, flows []float64
	for _, row := range standard.LeaderRows {
		w, d := quantity.Length(max(row.WidthInches, row.DepthInches))*quantity.Inch, quantity.Length(min(row.WidthInches, row.DepthInches))*quantity.Inch
		switch {
		case near(w, wide) && near(d, deep):
			l.Capacity = gpm(row.FlowGPM)
			if !row.Read {
				l.Source = standard.LeaderRectSource
			}
			return nil
		case row.DepthInches == 0 && row.Read:
			sizes, flows = append(sizes, row.WidthInches), append(flows, row.FlowGPM)
		}
	}
	return l.fromSizes(s.round(), sizes, flows)
}

// near reports whether two sizes are one.
func near(a, b quantity.Length) bool { return math.Abs(float64(a-b)) < float64(sameSize) }

// fromSizes takes the largest tabulated size [in] that is not larger than the diameter.
func (l *Link) fromSizes(diameter quantity.Length, sizes, flows []float64) error {
	found := -1
	for i, size := range sizes {
		if quantity.Length(size)*quantity.Inch <= diameter+sameSize {
			found = i
		}
	}
	if found < 0 {
		return quantity.InRange(l.Name, diameter, quantity.Length(sizes[0])*quantity.Inch, quantity.Length(sizes[len(sizes)-1])*quantity.Inch)
	}
	l.Capacity = gpm(flows[found])
	if size := quantity.Length(sizes[found]) * quantity.Inch; diameter > size+sameSize {
		l.Note = joined(l.Note, "the size is not tabulated: the next smaller, "+inchText(size)+", stands for it")
	}
	return nil
}

// fromPipes takes the flow of the largest size of PipeRows that is not larger than the diameter.
func (l *Link) fromPipes(diameter quantity.Length, flow func(standard.PipeRow) float64) error {
	l.Source = standard.PipeSource
	sizes := gather.Each(standard.PipeRows, func(r standard.PipeRow) float64 { return r.DiameterInches })
	return l.fromSizes(diameter, sizes, gather.Each(standard.PipeRows, flow))
}

// fromAreas takes the flow of the largest tabulated size that is not larger than the diameter from what it drains at 1 in/h.
func (l *Link) fromAreas(diameter quantity.Length, rows []standard.AreaRow) error {
	sizes := gather.Each(rows, func(r standard.AreaRow) float64 { return r.DiameterInches })
	return l.fromSizes(diameter, sizes, gather.Each(rows, func(r standard.AreaRow) float64 {
		return r.SquareFeet * quantity.SquareFoot * float64(quantity.InchPerHour) / float64(quantity.GallonPerMinute)
	}))
}

// rainwaterPipe returns the capacity [L/s] of a vertical rainwater pipe of inner diameter d [mm], 0.33 full:
// 2.5e-4 kb^-0.167 d^2.667 f^1.667.
// Source: standard.RainwaterSource.
func rainwaterPipe(d float64) float64 {
	return standard.RainwaterPipe * power(standard.RainwaterRoughness, -0.167) * power(d, 2.667) * power(standard.RainwaterFill, 1.667)
}

// inchText writes a length in inches: 4 in.
func inchText(l quantity.Length) string {
	return strconv.FormatFloat(quantity.Round(float64(l/quantity.Inch), 2), 'f', -1, 64) + " in"
}

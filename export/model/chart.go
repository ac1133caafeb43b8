package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/ponding"
	"runnel/analysis/study"
	"runnel/export/chart"
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// Chart is a chart with the line over it.
type Chart struct {
	Caption string // what it shows, with its greatest values
	of      *chart.Chart
	high    float64 // [mm]
}

// Draw draws the chart that wide [mm].
func (c Chart) Draw(wide float64) *scene.Scene { return c.of.Draw(wide, c.high) }

// Heights of the charts [mm], and how many of a kind are drawn.
const (
	flowHigh    = 54.0
	volumeHigh  = 48.0
	mostFlows   = 12
	mostVolumes = 8
)

// flows draws for each outlet that takes water in a case that is shown its flow against time, with the rain over it; and
// returns how many more there are. Those with the most flow come first.
func flows(b *record.Book) (charts []Chart, more int) {
	cases := b.StormCases()
	var order []int
	most := make([]float64, len(b.Study.Surface.Outlets))
	for i := range most {
		for _, c := range cases {
			most[i] = max(most[i], c.Outlets[i].PeakFlow)
		}
		if most[i] > 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(most[k], most[i]) })
	end := span(b.Study.Storm, cases)
	for _, i := range order[:min(mostFlows, len(order))] {
		charts = append(charts, flowChart(b, cases, i, most[i], end))
	}
	return charts, len(order) - len(charts)
}

// span returns how long the charts last [s]: until no outlet runs any more, but from one and a quarter to three times the storm.
func span(s *study.Storm, cases []*study.Case) float64 {
	rain := s.Rain.Duration()
	end := 0.0
	for _, c := range cases {
		for i := range c.Outlets {
			end = max(end, c.Outlets[i].Stop)
		}
	}
	return min(max(end, 1.25*rain), 3*rain)
}

// clock returns the axis of a time of so many seconds, and how many seconds its unit has.
func clock(end float64) (chart.Axis, float64) {
	const hour, minute = 3600, 60
	unit, label, steps := float64(hour), "hours after the rain begins", []float64{0.5, 1, 2, 3, 6, 12, 24, 48}
	if end <= 3*hour {
		unit, label, steps = minute, "minutes after the rain begins", []float64{0.5, 1, 2, 5, 10, 15, 20}
	}
	a := chart.Axis{Label: label, Most: end / unit, Step: steps[len(steps)-1]}
	for _, s := range steps {
		if a.Most/s <= 10 {
			a.Step = s
			break
		}
	}
	a.Most = math.Ceil(a.Most/a.Step-1e-9) * a.Step
	return a, unit
}

// flowChart draws outlet i.
func flowChart(b *record.Book, cases []*study.Case, i int, most, end float64) Chart {
	o, u, rain := &b.Study.Surface.Outlets[i], b.Units, b.Study.Storm.Rain
	flow := u.FlowUnit()
	x, second := clock(end)
	c := &chart.Chart{
		Name: fmt.Sprintf("flow-%d", i+1), X: x, Y: chart.Scale("flow, "+flow.Name, most/flow.Size),
		Top: &chart.Steps{Name: "rain, at most " + u.SayRain(rain.Peak()), Rate: rain.Rate},
	}
	for _, t := range rain.Time {
		c.Top.Time = append(c.Top.Time, t/second)
	}
	var peaks, dry []string
	for k, of := range cases {
		r := &of.Outlets[i]
		if r.PeakFlow <= 0 {
			dry = append(dry, of.Name)
			continue
		}
		l := chart.Line{Name: of.Name, Stroke: k}
		for _, s := range r.Samples {
			l.X, l.Y = append(l.X, s.Time/second), append(l.Y, s.Flow/flow.Size)
		}
		c.Lines = append(c.Lines, l)
		peaks = append(peaks, fmt.Sprintf("with %s at most %s, %s after the rain begins, %s in all", of.Name, u.SayFlow(r.PeakFlow), record.SayTime(r.PeakTime), u.SayVolume(r.Volume)))
	}
	if len(dry) > 0 {
		peaks = append(peaks, "nothing with "+strings.Join(dry, " or "))
	}
	caption := o.Label + ", " + o.Duty.String() + ": " + strings.Join(peaks, "; ") + "."
	c.Words = "Flow of outlet " + caption
	return Chart{caption, c, flowHigh}
}

// volumes draws how much water stands at which level: in the ponds that are listed, and in the low places as they fill with every
// primary outlet blocked; and returns how many more there are.
func volumes(b *record.Book) (charts []Chart, more int) {
	s := b.Study
	held := map[[2]float64]bool{} // level and volume of the ponds that are drawn
	add := func(ponds *ponding.Ponds, p int, name, what string) {
		pond := &ponds.Ponds[p]
		if k := [2]float64{pond.Level, pond.Volume}; held[k] {
			return
		} else {
			held[k] = true
		}
		if len(charts) == mostVolumes {
			more++
			return
		}
		charts = append(charts, volumeChart(b, ponds, p, name, what))
	}
	for k, l := range s.Listed {
		add(s.Ponds, int(l.Pond), fmt.Sprintf("pond-%d", k+1), l.ID+", full to its lip")
	}
	if s.RainLoad == nil || s.Drainage.Blocked == nil {
		return charts, more
	}
	ponds := s.Drainage.Blocked.Ponds
	for k := range ponds.Ponds {
		if p := &ponds.Ponds[k]; p.Depth >= s.Criteria.PondDepth && p.Volume > 0 {
			name := fmt.Sprintf("basin-%d", k+1)
			add(ponds, k, name, "Low place near "+b.OutletNear(int(p.Pits[0]))+" with every primary outlet blocked, up to where its water leaves")
		}
	}
	return charts, more
}

// points is how many levels a curve is drawn from.
const points = 64

// volumeChart draws the stage-volume curve of a pond.
func volumeChart(b *record.Book, ponds *ponding.Ponds, p int, name, what string) Chart {
	u, curve := b.Units, ponds.Curve(int32(p))
	deep, water := u.DepthUnit(), u.VolumeUnit()
	most, full := curve.Full-curve.Bottom, curve.Volume(curve.Full)
	l := chart.Line{Name: "water below the level"}
	for i := range points + 1 {
		d := most * float64(i) / points
		l.X, l.Y = append(l.X, curve.Volume(curve.Bottom+d)/water.Size), append(l.Y, d/deep.Size)
	}
	caption := fmt.Sprintf("%s: %s at a depth of %s.", what, u.SayVolume(full), u.SayDepth(most))
	c := &chart.Chart{
		Name: name, Words: "Depth against volume. " + caption, Lines: []chart.Line{l},
		X: chart.Scale("water, "+water.Name, full/water.Size), Y: chart.Scale("depth, "+deep.Name, most/deep.Size),
	}
	return Chart{caption, c, volumeHigh}
}

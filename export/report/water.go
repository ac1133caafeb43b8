package report

import (
	"fmt"
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/flood"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/export/record"
)

// mostStanding is how many vertices a roof has at most whose water is kept moment by moment: some hundred kilobytes.
const mostStanding = 8000

// mostClasses is how many classes of depth the map shows.
const mostClasses = 8

// standing is the storm's water through time, as the map shows it.
type standing struct {
	Cases  []*study.Case // those that are drawn
	Limits []float64     // depths at which classes begin [m]
	Left   string        // why there is none, where there is a storm
}

// standingOf returns nil where there is no storm.
func standingOf(b *record.Book) *standing {
	if s := b.Study.Storm; s == nil {
		return nil
	}
	if n := len(b.Study.Surface.TIN.X); n > mostStanding {
		return &standing{Left: fmt.Sprintf("This roof has %d corners, too many to keep the water of every moment in this page (at most %d).", n, mostStanding)}
	}
	out := &standing{Cases: b.StormCases()}
	deepest := 0.0
	for _, c := range out.Cases {
		deepest = max(deepest, c.Deepest.Depth)
	}
	step := choose.If(b.Units == record.US, standard.LoadBand, standard.LoadBandMetric)
	out.Limits = flood.Steps(deepest, step, mostClasses)
	return out
}

// strength is how dark class k is, 0 to 1.
func (w *standing) strength(k int) float64 {
	return 0.25 + float64(0.65*float64(k+1)/float64(len(w.Limits)))
}

// classes is the key.
func (w *standing) classes(u record.Units) []swatch {
	var out []swatch
	for k, from := range w.Limits {
		text := "over " + u.SayDepth(from)
		if k+1 < len(w.Limits) {
			text = "to " + u.SayDepth(w.Limits[k+1])
		}
		if len(w.Limits) == 1 {
			text = "water"
		}
		out = append(out, swatch{text, fmt.Sprintf("%.2f", w.strength(k))})
	}
	return out
}

// data writes the water: the moments [s]; for each case and moment the levels of its waters, in units of the grid, each as the difference
// from the one before, and for the vertices in turn which water stands over them (0: none) and how many it is over.
func (w *standing) data(b *record.Book) []byte {
	storm := b.Study.Storm
	out := []byte(`{"grid":`)
	out = appendFloats(out, surface.Grid)
	out = append(out, `,"moments":[`...)
	for i, t := range storm.Moments {
		out = appendNext(out, i, int64(math.Round(t)))
	}
	out = append(out, `],"rain":[`...)
	for i, t := range storm.Moments {
		if i > 0 {
			out = append(out, ',')
		}
		out = record.AppendString(out, b.Units.SayRain(rateAt(storm, t)))
	}
	out = append(out, `],"limits":[`...)
	out = appendFloats(out, w.Limits...)
	out = append(out, `],"strength":[`...)
	for i := range w.Limits {
		if i > 0 {
			out = append(out, ',')
		}
		out = appendFloats(out, w.strength(i))
	}
	out = append(out, `],"cases":[`...)
	for i, c := range w.Cases {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(out, '[')
		for k := range storm.Moments {
			if k > 0 {
				out = append(out, ',')
			}
			out = appendMoment(out, b.Study.Surface.TIN, c.Levels[k])
		}
		out = append(out, ']')
	}
	return append(out, ']', '}')
}

// rateAt is the rain that falls up to a moment [m/s].
func rateAt(s *study.Storm, t float64) float64 {
	for i, r := range s.Rain.Rate {
		if t > s.Rain.Time[i] && t <= s.Rain.Time[i+1] {
			return r
		}
	}
	return 0
}

// appendMoment appends the levels of one moment. The corners of the finished facets are the first of those that water runs on.
func appendMoment(out []byte, t *surface.TIN, level []float64) []byte {
	known := map[int64]int64{}
	var levels, runs []int64
	for v, z := range t.Z {
		w := int64(0)
		if level[v] > z {
			n := int64(math.Round(level[v] / surface.Grid))
			if w = known[n]; w == 0 {
				levels = append(levels, n)
				w = int64(len(levels))
				known[n] = w
			}
		}
		if n := len(runs); n > 0 && runs[n-2] == w {
			runs[n-1]++
		} else {
			runs = append(runs, w, 1)
		}
	}
	out = append(out, '[', '[')
	last := int64(0)
	for i, n := range levels {
		out = appendNext(out, i, n-last)
		last = n
	}
	out = append(out, ']', ',', '[')
	for i, n := range runs {
		out = appendNext(out, i, n)
	}
	return append(out, ']', ']')
}

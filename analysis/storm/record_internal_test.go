package storm

import (
	"math"
	"reflect"
	"testing"
)

// The head at which a law gives a flow, between nothing and a metre: of 0.5 m3/s a metre of head, 0.1 is at 0.2 m, and what it does not give there is at 1 m. Without a law, and for no flow, there is none.
func TestHeadFor(t *testing.T) {
	line := &mouth{law: func(head float64) float64 { return 0.5 * head }}
	root := &mouth{law: func(head float64) float64 { return 0.3 * math.Sqrt(head) }}
	for _, c := range []struct {
		x          *mouth
		flow, want float64
	}{{line, 0.1, 0.2}, {line, 0.499, 0.998}, {line, 0.7, 1}, {line, 0, 0}, {line, -1, 0}, {root, 0.15, 0.25}, {&mouth{}, 0.1, 0}} {
		if got := c.x.headFor(c.flow); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("%g m3/s: %g m, want %g", c.flow, got, c.want)
		}
	}
	for _, c := range [][2]float64{{-1, 0}, {0, 0}, {0.4, 0.2}} {
		if got := line.takes(c[0]); got != c[1] {
			t.Errorf("at %g m: %g m3/s, want %g", c[0], got, c[1])
		}
	}
	if falling := (&mouth{law: func(float64) float64 { return -1 }}); falling.takes(1) != 0 {
		t.Error("an outlet gives water back")
	}
	if edge := (&mouth{}); !math.IsInf(edge.takes(0), 1) {
		t.Error("an edge takes what comes")
	}
}

// recording is a run with one outlet of which rain ends after so many seconds.
func recording(ended float64) *run {
	return &run{Model: &Model{}, res: &Result{Ended: ended, Outlets: []Outlet{{Start: -1, Stop: -1}}}, records: make([]record, 1)}
}

// Of an outlet's flow that sample is kept which is the first, which differs from the one kept before by more than a hundredth of the peak so far, or which comes more than a two-hundredth of the rain's time after it while something
// flows; with it the one just before it, where that stood at another flow. By hand, of rain of 1000 s: 5 s are that time.
func TestWhichSamplesAreKept(t *testing.T) {
	for _, c := range []struct {
		name       string
		came, kept []Sample
	}{
		{"the first", []Sample{{0, 0}}, []Sample{{0, 0}}},
		{"nothing new", []Sample{{0, 2}, {1, 2.01}, {2, 1.99}}, []Sample{{0, 2}}},
		{"a rise", []Sample{{0, 0}, {1, 1}}, []Sample{{0, 0}, {1, 1}}},
		{"a rise by 1.9 % and one by 2.1 % of a peak of 2", []Sample{{0, 2}, {1, 2 - 0.019}, {2, 2 - 0.021}}, []Sample{{0, 2}, {1, 1.981}, {2, 1.979}}},
		{"by 0.9 % of it", []Sample{{0, 2}, {1, 2 - 0.018}}, []Sample{{0, 2}}},
		{"a fall", []Sample{{0, 2}, {1, 1}}, []Sample{{0, 2}, {1, 1}}},
		{"after 5 s", []Sample{{0, 2}, {5, 2}}, []Sample{{0, 2}}},
		{"after 5.1 s", []Sample{{0, 2}, {5.1, 2}}, []Sample{{0, 2}, {5.1, 2}}},
		{"after 5.1 s of a small flow", []Sample{{0, 0.02}, {5.1, 0.02}}, []Sample{{0, 0.02}, {5.1, 0.02}}},
		{"long after, while nothing flows", []Sample{{0, 0}, {500, 0}}, []Sample{{0, 0}}},
		{"the one before a rise stands at the flow before it", []Sample{{0, 0}, {3, 0}, {4, 1}}, []Sample{{0, 0}, {3, 0}, {4, 1}}},
		{"the one before it at the same flow", []Sample{{0, 2}, {3, 1.99}, {9, 1.99}}, []Sample{{0, 2}, {9, 1.99}}},
	} {
		r := recording(1000)
		for _, s := range c.came {
			r.sample(0, s.Time, s.Flow, 0.1*s.Flow)
		}
		if got := r.res.Outlets[0].Samples; !reflect.DeepEqual(got, c.kept) {
			t.Errorf("%s: %v, want %v", c.name, got, c.kept)
		}
		most := Sample{}
		for _, s := range c.came {
			if s.Flow > most.Flow {
				most = s
			}
		}
		if o := &r.res.Outlets[0]; o.PeakFlow != most.Flow || o.PeakTime != most.Time || o.PeakHead != 0.1*most.Flow {
			t.Errorf("%s: the peak is %g at %g s under %g m, want %+v", c.name, o.PeakFlow, o.PeakTime, o.PeakHead, most)
		}
	}
}

// An outlet begins once, when it first takes more than a trickle, and ceases when it last does.
func TestBeginsAndCeases(t *testing.T) {
	r := recording(1000)
	o := &r.res.Outlets[0]
	for _, c := range []struct {
		at          float64
		on          bool
		start, stop float64
	}{{1, false, -1, -1}, {2, true, 2, -1}, {3, true, 2, -1}, {4, false, 2, 4}, {5, false, 2, 4}, {6, true, 2, 4}, {7, false, 2, 7}} {
		if r.turn(0, c.at, c.on); o.Start != c.start || o.Stop != c.stop {
			t.Errorf("at %g s: began %g, ceased %g, want %g and %g", c.at, o.Start, o.Stop, c.start, c.stop)
		}
	}
}

// Samples are thinned to a course that stands off none of them by more than a part of the peak, and keeps the first, the last and the peak. By brute force over those left out.
func TestThinned(t *testing.T) {
	var list []Sample
	for k := range 400 {
		list = append(list, Sample{float64(k) + 0.3*math.Sin(float64(k)), 2 * math.Exp(-math.Pow(float64(k-90)/40, 2))})
	}
	peak := 0.0
	for _, s := range list {
		peak = math.Max(peak, s.Flow)
	}
	whole := append([]Sample(nil), list...)
	got := thin(list, peak)
	if len(got) > 100 || got[0] != whole[0] || got[len(got)-1] != whole[399] {
		t.Fatalf("%d of 400 samples, from %+v to %+v", len(got), got[0], got[len(got)-1])
	}
	i, found := 0, false
	for _, s := range whole {
		for i+1 < len(got)-1 && got[i+1].Time <= s.Time {
			i++
		}
		a, b := got[i], got[i+1]
		line := a.Flow + (b.Flow-a.Flow)*(s.Time-a.Time)/(b.Time-a.Time)
		if !(math.Abs(line-s.Flow) <= thinFlow*peak+1e-12) {
			t.Errorf("at %g s the course stands at %g, and the sample at %g", s.Time, line, s.Flow)
		}
	}
	for _, s := range got {
		found = found || s.Flow == peak
	}
	if !found {
		t.Error("the peak is left out")
	}
}

package study

import "runnel/analysis/halt"

// timer books the time of each step.
type timer struct {
	line    *halt.Line
	step    func(name string)
	clock   func() float64
	last    float64
	seconds map[string]float64
}

// timer returns one that times a run with options o.
func (s *Study) timer(o Options) *timer {
	return &timer{line: halt.Of(o.Context), step: o.Step, clock: o.Clock, seconds: s.Seconds}
}

func (t *timer) start() {
	if t.clock != nil {
		t.last = t.clock()
	}
}

func (t *timer) stop(step string) {
	t.line.Ask()
	if t.step != nil {
		t.step(step)
	}
	if t.clock == nil {
		return
	}
	now := t.clock()
	t.seconds[step] += now - t.last
	t.last = now
}

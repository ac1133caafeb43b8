package rainfall

import (
	"errors"

	"runnel/analysis/standard"
)

// day is 24 h [s].
const day = 86400.0

// scs returns a 24-hour curve as it stands, or for a shorter storm its steepest stretch of that length, in which the
// heaviest rain of the day falls. Taking the steepest stretch is runnel's own choice: the curves nest the heavier,
// shorter rains round their peak. Within a half hour of the curve the rate is constant.
// Source: standard.ScsSource.
func scs(s standard.ScsStorm, duration float64) (*Pattern, error) {
	if duration > day*(1+1e-12) {
		return nil, errors.New("the 24-hour curves are for storms of up to 24 h")
	}
	p := &Pattern{Name: s.Name, Source: standard.ScsSource}
	begin := 0.0
	if duration < day*(1-1e-12) {
		begin = steepest(s.Cumulative, duration)
	}
	from, to := fallen(s.Cumulative, begin), fallen(s.Cumulative, begin+duration)
	p.Time, p.Fraction = []float64{0}, []float64{0}
	for i, c := range s.Cumulative {
		if t := float64(i)*standard.ScsStep - begin; t > 1e-6 && t < duration-1e-6 {
			p.Time, p.Fraction = append(p.Time, t/duration), append(p.Fraction, (c-from)/(to-from))
		}
	}
	p.Time, p.Fraction = append(p.Time, 1), append(p.Fraction, 1)
	return p, nil
}

// steepest returns the beginning [s] of the stretch of a duration [s] in which most rain falls (own choice), the first of equals.
// Between ordinates the curve is straight, so such a stretch begins or ends at one.
func steepest(cumulative []float64, duration float64) float64 {
	best, most := 0.0, -1.0
	for i := range cumulative {
		at := float64(i) * standard.ScsStep
		for _, begin := range []float64{at - duration, at} {
			if begin < 0 || begin+duration > day {
				continue
			}
			if rain := fallen(cumulative, begin+duration) - fallen(cumulative, begin); rain > most+1e-12 {
				best, most = begin, rain
			}
		}
	}
	return best
}

// fallen returns the share of the day's rain that has fallen at a time [s].
func fallen(cumulative []float64, at float64) float64 {
	i := min(int(at/standard.ScsStep), len(cumulative)-2)
	part := at/standard.ScsStep - float64(i)
	return cumulative[i] + float64((cumulative[i+1]-cumulative[i])*part)
}

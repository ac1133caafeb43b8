package assembly

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/standard"
)

// sample is what a region is fitted to: thickness, deck, and elevation of the surface at some cores.
type sample struct {
	cores     []int // positions in Result.Cores
	thickness []reading
	deck      []reading
	z         []float64
	flute     []bool    // the deck has flutes and nobody said that the core did not reach one
	sigma     []float64 // standard error of the core
}

// sampleOf gathers what is known at the given cores.
func sampleOf(cores []Core, use []int) *sample {
	s := &sample{cores: use}
	for _, i := range use {
		c := &cores[i]
		s.thickness = append(s.thickness, reading{c.Plan, c.Thickness, c.Sigma})
		s.deck = append(s.deck, reading{c.Plan, c.Deck, c.DeckSigma})
		s.z = append(s.z, c.Surface)
		s.flute = append(s.flute, c.mayBeFlute && c.DeckType != "")
		s.sigma = append(s.sigma, c.Sigma)
	}
	return s
}

// model is a fit of thickness.
type model interface {
	misfit() (chi2 float64, free int)
	predict(s *sample, k int) float64
}

func (f *fit) misfit() (chi2 float64, free int) { return f.chi2, f.n - 3 }

func (f *fit) predict(s *sample, k int) float64 {
	t, _ := f.at(s.thickness[k].at)
	return t
}

func (f *shareFit) misfit() (chi2 float64, free int) { return f.chi2, f.n - 2 }

func (f *shareFit) predict(s *sample, k int) float64 {
	t, _ := f.at(s.z[k])
	return t
}

// Thresholds on chi-squared.
const (
	oddFall   = 12 // fall by which leaving one core out shows it to be odd: 3.5 standard errors
	fluteFall = 8  // the same where a flute would explain it
	fluteOdds = 4  // by which a flute is ahead of what nothing explains: it is the usual reason
	apart     = 8  // by which the best must be ahead of another that would do
	fewDoubt  = 9  // by which a fit of three or four cores may become worse and a flute still be believed
)

// odd returns the position in s of the one core that the others do not agree with; -1 where all agree, and where it cannot be said which one is odd:
// with one degree of freedom a misfit shows that one is, not which.
func (s *sample) odd(solve func(*sample) (model, bool)) int {
	m, ok := solve(s)
	if !ok {
		return -1
	}
	all, free := m.misfit()
	if free < 2 {
		return -1
	}
	best, second, who := 0.0, 0.0, -1
	for k := range s.cores {
		m, ok := solve(s.without(k))
		if !ok {
			continue
		}
		chi2, _ := m.misfit()
		over := s.thickness[k].value - m.predict(s, k)
		fall, least := all-chi2, float64(oddFall)
		if s.flute[k] && fluteWould(over, s.sigma[k]) {
			fall, least = fall+fluteOdds, fluteFall+fluteOdds
		}
		switch {
		case fall < least || chi2 > limit(free-1):
		case fall > best:
			best, second, who = fall, best, k
		case fall > second:
			second = fall
		}
	}
	return choose.If(best-second < apart, -1, who)
}

// fluteWould reports whether a core that is too thick by over may have reached a flute.
func fluteWould(over, sigma float64) bool {
	return over > standard.FluteDepth/3 && over < standard.FluteDepth+float64(sure*sigma)
}

// without returns s less one core.
func (s *sample) without(one int) *sample {
	out := &sample{}
	for k := range s.cores {
		if k != one {
			out.add(s, k)
		}
	}
	return out
}

func (s *sample) add(from *sample, k int) {
	s.cores = append(s.cores, from.cores[k])
	s.thickness = append(s.thickness, from.thickness[k])
	s.deck = append(s.deck, from.deck[k])
	s.z = append(s.z, from.z[k])
	s.flute = append(s.flute, from.flute[k])
	s.sigma = append(s.sigma, from.sigma[k])
}

// lifted returns s with one core as it would be had it reached a flute unsaid: less thick by the flute's depth.
func (s *sample) lifted(one int) *sample {
	out := s.without(-1)
	out.thickness[one].value -= standard.FluteDepth
	out.deck[one].value += standard.FluteDepth
	return out
}

// stands reports whether a verdict would be the same had any one core reached a flute unsaid. A core whose flute would make the
// fit worse did not: a flute that is there makes it better. Three or four cores show little of that, and a flute is believed sooner.
func (s *sample) stands(v Verdict, solve func(*sample) (model, bool), verdict func(model) Verdict) bool {
	m, ok := solve(s)
	if !ok {
		return false
	}
	now, free := m.misfit()
	doubt := choose.If(free < 2, fewDoubt, 0.0)
	for k := range s.cores {
		if !s.flute[k] {
			continue
		}
		m, ok := solve(s.lifted(k))
		if !ok {
			return false
		}
		if then, _ := m.misfit(); then-now <= doubt && verdict(m) != v {
			return false
		}
	}
	return true
}

// whichever returns the verdict that is passed whichever one core is left out, of those that may be the odd one: without them the others agree, or
// nearly as well as without the likeliest. It is NotResolved where there are none or they differ.
func (s *sample) whichever(solve func(*sample) (model, bool), verdict func(model) Verdict) Verdict {
	var left []model
	best := math.Inf(1)
	for k := range s.cores {
		if m, ok := solve(s.without(k)); ok {
			left = append(left, m)
			chi2, _ := m.misfit()
			best = math.Min(best, chi2)
		}
	}
	v := NotResolved
	for _, m := range left {
		if chi2, free := m.misfit(); free < 1 || chi2 > math.Max(limit(free), best+fewDoubt) {
			continue
		}
		w := verdict(m)
		if w == NotResolved || v != NotResolved && w != v {
			return NotResolved
		}
		v = w
	}
	return v
}

// limit is the value that chi-squared with free degrees of freedom exceeds in 1 % of cases.
// Source: Wilson and Hilferty, "The distribution of chi-square", Proceedings of the National Academy of Sciences 17, 1931 (recalled).
func limit(free int) float64 {
	const quantile = 2.326 // of the normal distribution, 1 %
	k := 2 / (9 * float64(free))
	c := 1 - k + float64(quantile*math.Sqrt(k))
	return float64(free) * c * c * c
}

package rainfall

import (
	"fmt"
	"math"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Names of the patterns that need no file. Alternating needs an IDF.
const (
	Uniform     = "uniform"
	Alternating = "alternating"
)

// Pattern is the course of a storm: the share of its rain that has fallen, against the share of its time.
type Pattern struct {
	Name     string
	Source   standard.Source
	Time     []float64 // from 0 to 1, rising
	Fraction []float64 // from 0 to 1, not falling; as many as Time

	// What a file, or the intensities that it is made from, state besides: 0 where they do not.
	Depth    float64 // m
	Duration float64 // s
}

// PatternNames returns the names of the patterns that need no file.
func PatternNames() []string {
	names := []string{Uniform, Alternating}
	for _, s := range standard.ScsStorms {
		names = append(names, s.Name)
	}
	return names
}

// PatternError says that no pattern has such a name.
type PatternError struct{ Name string }

// Error lists the names that are known.
func (e *PatternError) Error() string {
	return fmt.Sprintf("unknown pattern %q: use %s, or a file", e.Name, strings.Join(PatternNames(), ", "))
}

// Named returns the pattern of a name for a storm of a duration [s]. idf is what an alternating one is made from, and
// may be nil for the others. An unknown name is a *PatternError.
func Named(name string, duration float64, idf *IDF) (*Pattern, error) {
	if !(duration > 0) || math.IsInf(duration, 0) {
		return nil, fmt.Errorf("a storm of %v s is no storm", duration)
	}
	switch name {
	case Uniform:
		return Even(), nil
	case Alternating:
		if idf == nil {
			return nil, fmt.Errorf("the pattern %s is made from intensities by duration: give them in a file (none is built in)", Alternating)
		}
		return idf.Blocks(duration)
	}
	for _, s := range standard.ScsStorms {
		if s.Name == name {
			return scs(s, duration)
		}
	}
	return nil, &PatternError{Name: name}
}

// Even returns the pattern of a constant rate.
func Even() *Pattern {
	return &Pattern{
		Name: Uniform, Source: standard.Source{Text: "one rate throughout, as in FHWA HDS-2, 2nd edition, section 6.2.1", Read: true},
		Time: []float64{0, 1}, Fraction: []float64{0, 1},
	}
}

// Storm returns the storm of a depth and a duration [s] in this pattern. 0 stands for what the pattern's file
// states. Figures that differ from the file's by more than 0.5 % do not add up and are refused.
func (p *Pattern) Storm(depth quantity.Length, duration float64) (Hyetograph, error) {
	metres, err := settle("depth", float64(depth), p.Depth, p.Name, func(v float64) string {
		return fmt.Sprintf("%.4g in (%.4g mm)", v/float64(quantity.Inch), v*1000)
	})
	if err != nil {
		return Hyetograph{}, err
	}
	duration, err = settle("duration", duration, p.Duration, p.Name, func(v float64) string { return fmt.Sprintf("%.4g h", v/3600) })
	if err != nil {
		return Hyetograph{}, err
	}
	if !(duration > 0) {
		return Hyetograph{}, fmt.Errorf("the pattern %s needs a duration", p.Name)
	}
	h := Hyetograph{Time: []float64{0}}
	for i := 1; i < len(p.Time); i++ {
		end := duration * p.Time[i]
		last := len(h.Time) - 1
		rate := metres * (p.Fraction[i] - p.Fraction[i-1]) / (end - h.Time[last])
		h.Time, h.Rate = append(h.Time, end), append(h.Rate, rate)
	}
	return h, h.Check()
}

// settle picks what is given, or what the file states, and refuses both where they differ.
func settle(what string, given, stated float64, name string, text func(float64) string) (float64, error) {
	if !(given >= 0) || math.IsInf(given, 0) {
		return 0, fmt.Errorf("a %s of %s is none", what, text(given))
	}
	if stated > 0 && given > 0 && math.Abs(given/stated-1) > 0.005 {
		return 0, fmt.Errorf("%s: its %s adds up to %s, but %s is asked for: leave the %s out, or mend the file",
			name, what, text(stated), text(given), what)
	}
	if given == 0 {
		return stated, nil
	}
	return given, nil
}

package correction_test

import (
	"fmt"
	"math"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
	"runnel/export/sample"
)

// Which level counts as 0 is nobody's business: the same roof 64 m and 96 m lower is mended by the same options, which
// take, leave and ask the same, but for the last bits of the numbers.
func TestAnswersOnAnotherDatum(t *testing.T) {
	told := func(down float64) (words []string, numbers []float64) {
		say := func(format string, args ...any) { words = append(words, fmt.Sprintf(format, args...)) }
		text := func(t finding.Text) string {
			return t.Fill(func(q finding.Quantity) string {
				if q.Dim != finding.Elevation {
					numbers = append(numbers, q.Value)
				}
				return q.Name + " " + q.Word
			})
		}
		r := sample.Local()
		for i := range r.Spots {
			r.Spots[i].Z += 0.0001 * float64(i*i%41-20)
		}
		shape.Raise(r, -down)
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := correction.Of(&correction.Input{Study: s})
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range got.Options {
			say("%s %s %s possible %v, meets %v, leaves %d ponds, %v, and %d planes: %s", o.Kind, o.Answer, o.Gauge, o.Possible, o.Meets, o.PondsLeft, o.Left, o.FlatLeft, text(o.Why))
			numbers = append(numbers, o.Fill, o.Cut, o.Area, o.Opened, o.Greatest, o.Deepest, o.Average, o.Added)
			for _, c := range o.Changes {
				say("  %s for %s %s: %s", c.Kind, c.Finding, c.Pond, text(c.What))
				numbers = append(numbers, c.Opened)
			}
		}
		for _, a := range got.Answers {
			say("%s: option %d, meets %v", a.Name, a.Option, a.Meets)
			for _, q := range a.Questions {
				say("  %s", text(q.Ask))
			}
		}
		return words, numbers
	}
	words, numbers := told(0)
	if len(words) < 20 || len(numbers) < 100 {
		t.Fatalf("little is told: %q", words)
	}
	for _, down := range []float64{64, 96} {
		w, n := told(down)
		if len(w) != len(words) || len(n) != len(numbers) {
			t.Fatalf("%g m lower: %d sentences with %d numbers, not %d with %d", down, len(w), len(n), len(words), len(numbers))
		}
		for i := range w {
			if w[i] != words[i] {
				t.Errorf("%g m lower: %q, not %q", down, w[i], words[i])
			}
		}
		for i := range n {
			if !(math.Abs(n[i]-numbers[i]) <= 1e-4*math.Max(1, math.Abs(numbers[i]))) {
				t.Errorf("%g m lower: %g, not %g", down, n[i], numbers[i])
			}
		}
	}
}

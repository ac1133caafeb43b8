package points_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
	"runnel/importer/points/code"
)

// byTens is a holder of strips ten wide along x, from 0 on: none below 0, and two from 90 on.
func byTens(x, _ float64) int {
	switch {
	case x < 0:
		return points.OnNone
	case x >= 90:
		return points.OnTwo
	}
	return int(x / 10)
}

// deal opens a text in metres and deals it out among nine strips.
func deal(t *testing.T, text string, o points.Options) (d *points.Deal, rest *draft.Draft, problems *roof.Refusal) {
	t.Helper()
	problems = &roof.Refusal{}
	f := points.Open("a.csv", []byte(text), o, problems)
	if f == nil {
		t.Fatal(problems.Err())
	}
	if d = points.NewDeal(f, draft.Setting{Unit: quantity.Metres}); d == nil {
		return nil, nil, problems
	}
	rest = d.Rest(problems)
	d.To(9, byTens)
	return d, rest, problems
}

// dealt says which spots a part has; one without a name has its line for one.
func dealt(d *draft.Draft) string {
	var names []string
	for i := range d.Spots {
		s := &d.Spots[i]
		names = append(names, fmt.Sprintf("%s at %g %g %g", s.Origin.ID, s.Plan[0], s.Plan[1], s.Z))
	}
	return strings.Join(names, "; ")
}

// By hand: rows that say only where a spot lies and how high go to their strip, whatever divides the columns; what has a code, a quote or too many or
// too few fields is read for all roofs together.
func TestDealsPlainRowsAlone(t *testing.T) {
	codes := points.Options{Codes: code.List{}}
	for _, c := range []struct {
		name, text  string
		options     points.Options
		first, last string // strips 0 and 8
		rest        string
		none, two   int
	}{
		{
			"commas", "point,x,y,z,code\nA,1,2,3,\n\nB,-1,2,3,\n# remark\nC,81,2,3.5,spot\nD,95,2,3,SPOT\nE,2,2,3,GRATE\nF,\"3\",2,3,\n",
			points.Options{},
			"A at 1 2 3", "C at 81 2 3.5", "E at 2 2 3; F at 3 2 3", 1, 1,
		},
		{"a decimal comma", "point;x;y;z\nA;1,5;2;3,25\nB;85,5;2;3\n", points.Options{}, "A at 1.5 2 3.25", "B at 85.5 2 3", "", 0, 0},
		{"empty fields behind the last", "point,x,y,z\nA,1,2,3,,\nB,85,2,3\n", points.Options{}, "A at 1 2 3", "B at 85 2 3", "", 0, 0},
		{"blanks", "point x y z code\nA 1 2 3\nB 85 2 3 SPOT\nC 4 2 3 GRATE near it\n", points.Options{}, "A at 1 2 3", "B at 85 2 3", "C at 4 2 3", 0, 0},
		{"no names", "x,y,z\n1,2,3\n\n86,2,3\n", points.Options{}, "L2 at 1 2 3", "L4 at 86 2 3", "", 0, 0},
		{"codes of an office", "point,x,y,z,code\nA,1,2,3,\nB,2,2,3,SPOT\n", codes, "A at 1 2 3", "", "B at 2 2 3", 0, 0},
	} {
		d, rest, problems := deal(t, c.text, c.options)
		if d == nil {
			t.Fatalf("%s: not dealt", c.name)
		}
		for k, want := range map[int]string{0: c.first, 4: "", 8: c.last} {
			if got := dealt(d.Of(k, problems)); got != want {
				t.Errorf("%s: strip %d has %q, want %q", c.name, k, got, want)
			}
		}
		if got := dealt(rest); got != c.rest {
			t.Errorf("%s: the rest has %q, want %q", c.name, got, c.rest)
		}
		if d.None.Count != c.none || d.Two.Count != c.two || problems.Err() != nil {
			t.Errorf("%s: %d on none, %d on two, %v", c.name, d.None.Count, d.Two.Count, problems.Err())
		}
	}
	for name, text := range map[string]string{"taped": "point;from wall;elev\nA;40' from W wall, 30' from S wall;99\n", "the order of x and y is open": "1,2,3,4\n2,5,6,7\n"} {
		var problems roof.Refusal
		f := points.Open("a.csv", []byte(text), points.Options{}, &problems)
		if f != nil && points.NewDeal(f, draft.Setting{Unit: quantity.Metres}) != nil {
			t.Errorf("%s: was dealt out", name)
		}
	}
}

// Of a file of several pieces every plain spot comes back once, in the strip of its place, with its own line and in the order of the file; those that are
// lost are counted, and the first of them named. Lines and places are those that the text was written with.
func TestDealsALongFile(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	type spot struct {
		line int
		at   orb.Point
		z    float64
	}
	rnd := rand.New(rand.NewPCG(3, 9))
	var text strings.Builder
	text.WriteString("x,y,z,note,code\n")
	var want [9][]spot
	var coded, none, two []int
	pad := strings.Repeat("n", 60)
	for line := 2; text.Len() < 5<<20; line++ {
		if rnd.IntN(9) == 0 {
			text.WriteString("# " + pad + "\n")
			continue
		}
		s := spot{line, orb.Point{math.Round(rnd.Float64()*1200-200) / 10, float64(rnd.IntN(50))}, 5 + math.Round(rnd.Float64()*1000)/1000}
		code := ""
		switch rnd.IntN(12) {
		case 0:
			code = "GRATE"
			coded = append(coded, line)
		case 1:
			code = "SPOT"
		}
		fmt.Fprintf(&text, "%v,%v,%v,%s,%s\n", s.at[0], s.at[1], s.z, pad, code)
		switch k := int(math.Floor(s.at[0] / 10)); {
		case code == "GRATE":
		case s.at[0] < 0:
			none = append(none, line)
		case s.at[0] >= 90:
			two = append(two, line)
		default:
			want[k] = append(want[k], s)
		}
	}
	d, rest, problems := deal(t, text.String(), points.Options{})
	for k := range want {
		part := d.Of(k, problems)
		if len(part.Spots) != len(want[k]) {
			t.Fatalf("strip %d has %d spots, want %d", k, len(part.Spots), len(want[k]))
		}
		if len(part.Warnings) > 0 {
			t.Errorf("strip %d says what the whole file says once: %q", k, part.Warnings)
		}
		for i, w := range want[k] {
			if s := &part.Spots[i]; s.Origin.Line != w.line || s.Plan != w.at || s.Z != w.z {
				t.Fatalf("strip %d, spot %d: line %d at %v %g, want line %d at %v %g", k, i, s.Origin.Line, s.Plan, s.Z, w.line, w.at, w.z)
			}
		}
	}
	if len(rest.Spots) != len(coded) || rest.Spots[7].Origin.Line != coded[7] || len(rest.Warnings) == 0 {
		t.Errorf("the rest has %d spots and says %q, want %d", len(rest.Spots), rest.Warnings, len(coded))
	}
	for name, c := range map[string]struct {
		lost  points.Lost
		lines []int
	}{"on none": {d.None, none}, "on two": {d.Two, two}} {
		if c.lost.Count != len(c.lines) || len(c.lost.First) != 16 || c.lost.First[15] != fmt.Sprintf("a.csv line %[1]d (L%[1]d)", c.lines[15]) {
			t.Errorf("%s: %d, %q, want %d", name, c.lost.Count, c.lost.First, len(c.lines))
		}
	}
	if err := problems.Err(); err != nil {
		t.Error(err)
	}
}

// By hand: ten lost spots are named all; of seventeen, of which sixteen names are kept, the first ten, and seven more are counted.
func TestLostSpotsAreCounted(t *testing.T) {
	lost := func(from, to int) (out points.Lost) {
		for i := from; i <= to; i++ {
			out.Count, out.First = out.Count+1, append(out.First, fmt.Sprint("s", i))
		}
		return out
	}
	var l points.Lost
	l.Add(lost(1, 9))
	l.Add(lost(10, 10))
	if got, want := l.String(), "10 (s1, s2, s3, s4, s5, s6, s7, s8, s9, s10)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	l.Add(lost(11, 15))
	l.Add(lost(16, 17))
	if got, want := l.String(), "17 (s1, s2, s3, s4, s5, s6, s7, s8, s9, s10 and 7 more)"; got != want || len(l.First) != 16 || l.First[15] != "s16" {
		t.Errorf("%q, want %q; first %q", got, want, l.First)
	}
}

package points_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
)

// What the code of an outline says of the roof is read, and refused with its place where it is none of the words.
func TestWhatAnOutlineSays(t *testing.T) {
	with := func(keys string) string {
		return "x,y,z,code\n0,0,1,OUTLINE " + keys + "\n9,0,1,OUTLINE\n9,9,1,OUTLINE\n"
	}
	for keys, want := range map[string]roof.Elevations{"": roof.Measured, "elevations=measured": roof.Measured, "elevations=drawn": roof.Drawn, "elevations=tops": roof.WallTops} {
		if d := mustRead(t, with(keys), points.Options{}); d.Outlines[0].Elevations != want {
			t.Errorf("%q: %v, want %v", keys, d.Outlines[0].Elevations, want)
		}
	}
	for keys, want := range map[string]roof.EdgeType{"": roof.Wall, "edge=wall": roof.Wall, "edge=gutter": roof.Gutter, "edge=free": roof.Free} {
		if d := mustRead(t, with(keys), points.Options{}); d.Outlines[0].Edge != want || d.Outlines[0].EdgeAssumed != (keys == "") {
			t.Errorf("%q: %v, assumed %v", keys, d.Outlines[0].Edge, d.Outlines[0].EdgeAssumed)
		}
	}
	for keys, want := range map[string]string{
		"edge=parapet":         "a.csv line 2 (outline) at (0, 0): unknown edge type",
		"elevations=some":      "a.csv line 2 (outline) at (0, 0): ",
		"wall_runoff=third":    "a.csv line 2 (outline) at (0, 0): wall_runoff: unknown rule for the runoff of walls \"third\": use half, 50-35-0, quarter, none; correct the code",
		"member_direction=N":   "a.csv line 2 (outline) at (0, 0): member_direction 1e+09 is no bearing",
		"member_span=0":        "a.csv line 2 (outline) at (0, 0): member_span is zero; write its size, or leave it out",
		"load_limit=25":        "a.csv line 2 (outline) at (0, 0): load_limit: ",
		"member_spacing=-1 ft": "a.csv line 2 (outline) at (0, 0): member_spacing is negative; write its size",
	} {
		_, problems := read(with(keys), points.Options{})
		if err := problems.Err(); err == nil || !strings.HasPrefix(err.Error(), want) || len(problems.Problems) != 1 {
			t.Errorf("%q: %v, want %q", keys, err, want)
		}
	}
}

// An outlet's sizes by each of their names: 4 in are 101.6 mm, 2 in 50.8 mm, 10 in 254 mm.
func TestNamesOfSizes(t *testing.T) {
	for code, size := range map[string]func(o *draft.Outlet) quantity.Length{
		"DRAIN d=4in":                func(o *draft.Outlet) quantity.Length { return o.Diameter },
		"DRAIN diameter=4in":         func(o *draft.Outlet) quantity.Length { return o.Diameter },
		"DRAIN bowl=4in":             func(o *draft.Outlet) quantity.Length { return o.Bowl },
		"DRAIN dam=4in":              func(o *draft.Outlet) quantity.Length { return o.DamHeight },
		"DRAIN dam_height=4in":       func(o *draft.Outlet) quantity.Length { return o.DamHeight },
		"DRAIN dam_diameter=4in":     func(o *draft.Outlet) quantity.Length { return o.DamDiameter },
		"SCUPPER w=4in":              func(o *draft.Outlet) quantity.Length { return o.Width },
		"SCUPPER width=4in":          func(o *draft.Outlet) quantity.Length { return o.Width },
		"SCUPPER h=4in":              func(o *draft.Outlet) quantity.Length { return o.OpeningHeight },
		"SCUPPER height=4in":         func(o *draft.Outlet) quantity.Length { return o.OpeningHeight },
		"SCUPPER opening_height=4":   func(o *draft.Outlet) quantity.Length { return o.OpeningHeight / 12 },
		"SCUPPER crest_breadth=4in":  func(o *draft.Outlet) quantity.Length { return o.CrestBreadth },
		"SCUPPER conductor_head=4in": func(o *draft.Outlet) quantity.Length { return o.ConductorHead },
		"DRAIN leader=4in":           func(o *draft.Outlet) quantity.Length { return o.Leader.Diameter },
		"DRAIN pipe=4in":             func(o *draft.Outlet) quantity.Length { return o.Pipe },
	} {
		d := mustRead(t, "x,y,z,code\n1,1,,"+code+"\n", points.Options{})
		if got := float64(size(&d.Outlets[0])); !(math.Abs(got-0.1016) <= 1e-12) { // 4 ft are twelve times 4 in
			t.Errorf("%s: %g m", code, got)
		}
		if !d.Imperial && strings.HasSuffix(code, "in") {
			t.Errorf("%s: inches are not noticed", code)
		}
	}
	for code, says := range map[string]string{
		"DRAIN bowl=0": "bowl is zero; write its size, or leave it out", "SCUPPER w=0": "w is zero", "DRAIN d=0": "", "SCUPPER h=0": "", "DRAIN dam=0": "", "DRAIN pipe=0": "pipe is zero", "DRAIN d=-1in": "d is negative; write its size",
		"SCUPPER crest=round": "crest: ", "DRAIN crest=sharp": `code DRAIN has no key "crest"`, "DRAIN pipe_slope=steep": "pipe_slope: ", "DRAIN leader=3x4x5in": "leader: ", "DRAIN invert=high": "invert: ", "DRAIN invert=-9999": "no roof stands at",
		"SCUPPER duty=spare": "unknown duty", "OVERFLOW scupper dam=2in": "",
	} {
		_, problems := read("x,y,z,code\n1,1,,"+code+"\n", points.Options{})
		err := problems.Err()
		if (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", code, err, says)
		}
	}
}

// A file of points is read as well where its columns are in any order, and each kind of column says by its name what is wrong in it.
func TestNamesOfColumnsInMessages(t *testing.T) {
	for heads, want := range map[string]string{
		"Easting (ft),Northing (ft),RL (ft)": "column Easting (ft): ", "x,y,z": "column x: ", "E,N,Elev": "column E: ", "lon,lat,z": "column lon: ",
	} {
		_, problems := read(heads+"\nhigh,1,2\n", points.Options{})
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "a.csv line 2 (L2): "+want+`"high" is not a finite number; write the measured number`) {
			t.Errorf("%s: %v", heads, err)
		}
	}
	for row, want := range map[string]string{"1,high,2": "column northing: ", "high,1,2": "column easting: ", "1,2,high": "column elevation: "} {
		var problems roof.Refusal
		f := points.Open("a.csv", []byte("1,2,3\n4,5,6\n"+row+"\n"), points.Options{}, &problems)
		if _, ok := f.Decide(func(p orb.Point) bool { return p[0] < p[1] }, false, &problems); !ok {
			t.Fatal(problems.Err())
		}
		f.Read(draft.Setting{Unit: quantity.Feet}, &problems)
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "a.csv line 3 (L3): "+want) {
			t.Errorf("%s: %v, want %s", row, err, want)
		}
	}
	_, problems := read("x,y,z,sigma_mm\n1,2,3,wide\n", points.Options{})
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), `column sigma_mm: "wide" is not a finite number`) {
		t.Errorf("%v", err)
	}
}

// Of ten rows nine must lie on the outline for an order of the columns to be taken: with two that do not it stays open.
func TestHowManyPointsTellTheColumnsApart(t *testing.T) {
	inside := func(p orb.Point) bool { return p[0] > 0 && p[0] < 60 && p[1] > 0 && p[1] < 10 }
	for off, ok := range map[int]bool{0: true, 1: true, 2: false} {
		text := ""
		for i := range 10 {
			if i < off {
				text += "999,999,100\n"
			} else {
				text += "5,50,100\n" // northing first
			}
		}
		var problems roof.Refusal
		f := points.Open("a.csv", []byte(text), points.Options{}, &problems)
		said, taken := f.Decide(inside, false, &problems)
		if taken != ok || taken && said != "a.csv: the columns are taken as north,east,elevation, because only so the points lie on the outline." {
			t.Errorf("%d of 10 off the outline: %v, %q, %v", off, taken, said, problems.Err())
		}
		if taken && f.Undecided() {
			t.Error("it is taken, and open")
		}
	}
	// In degrees the columns are called longitude and latitude.
	var problems roof.Refusal
	f := points.Open("a.csv", []byte("7,45,-93,100,SPOT\n"), points.Options{}, &problems)
	said, ok := f.Decide(func(p orb.Point) bool { return p[0] == -93 }, true, &problems)
	if !ok || said != "a.csv: the columns are taken as point,lat,lon,elevation,code, because only so the points lie on the outline." {
		t.Errorf("%q, %v", said, problems.Err())
	}
}

// A line that is begun again is another one, and closing comes back to its first point; by the places of each.
func TestLinesOfTheSameNumber(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n0,0,1,WALL 1\n1,0,1,WALL 1\n2,0,1,WALL 1 end\n5,5,1,WALL 1\n6,5,1,WALL 1\n7,7,1,wall 1 begin\n8,7,1,WALL1\n0,9,1,GUTTER 1\n1,9,1,GUTTER 1\n1,8,1,GUTTER 1 close\n3,3,1,CURB 2\n4,3,1,CURB-2\n4,4,1,Curb 2 close\n", points.Options{})
	var got []string
	for _, e := range d.Edges {
		text := e.Type.String() + ":"
		for _, p := range e.Line {
			text += fmt.Sprintf(" %g,%g", p.Plan[0], p.Plan[1])
		}
		got = append(got, text)
	}
	want := "wall: 0,0 1,0 2,0|wall: 5,5 6,5|wall: 7,7 8,7|gutter: 0,9 1,9 1,8 0,9"
	if strings.Join(got, "|") != want {
		t.Errorf("%s, want %s", strings.Join(got, "|"), want)
	}
	if c := d.Curbs; len(c) != 1 || len(c[0].Ring) != 4 || c[0].Ring[0] != c[0].Ring[3] || c[0].Label != "2" {
		t.Errorf("%+v", c)
	}
}

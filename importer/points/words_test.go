package points_test

import (
	"encoding/csv"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
)

// Walls that do not close are said by where they end, by hand from the walls: a centimetre off is none.
func TestWallsThatMissSayWhere(t *testing.T) {
	for walls, want := range map[string]string{
		"E 110', N 60', W 120', S 60'": `the walls do not close: the last one ends 10' 0" too far west; up to`,
		"E 130', N 60', W 120', S 60'": `the walls do not close: the last one ends 10' 0" too far east; up to`,
		"E 120', N 75', W 120', S 60'": `the walls do not close: the last one ends 15' 0" too far north; up to`,
		"E 120', N 45', W 120', S 60'": `the walls do not close: the last one ends 15' 0" too far south; up to`,
		"E 130', N 75', W 120', S 60'": `the walls do not close: the last one ends 10' 0" too far east and 15' 0" too far north; up to`,
		"E 110', N 45', W 120', S 60'": `the walls do not close: the last one ends 10' 0" too far west and 15' 0" too far south; up to`,
		"E 9 m, N 9 m, W 14 m, S 9 m":  "the walls do not close: the last one ends 16' 4-7/8\" too far west; up to",
	} {
		_, problems := read(taped(`;;;;OUTLINE walls="`+walls+`"`), points.Options{})
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "measure ") {
			t.Errorf("%s: %v, want %s", walls, err, want)
		}
	}
	// An opposite pair gone wrong by two slips: none explains it alone.
	_, problems := read(taped(`;;;;OUTLINE walls="E 100', N 57.3', W 83.1', S 60'"`), points.Options{})
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "no single slip of one wall would explain it") {
		t.Errorf("%v", err)
	}
}

// Each slip in the words of who measures again.
func TestSlipsInWords(t *testing.T) {
	for walls, want := range map[string]string{
		"E 120', N 60', E 120', S 60'":                      "if it runs the other way",
		"E 12', N 60', W 120', S 60'":                       `wall 1 (east 12' 0"), if it is 120' 0"`,
		"E 120', N 60', W 120'":                             `a wall of 60' 0" south left out before wall 1`,
		"E 120', N 60', W 120', S 60', S 60'":               "if it is the one before it said twice",
		"E 36.576', N 60', W 120', S 60'":                   `if it is 120' 0"`, // metres written as feet: 120 ft are 36.576 m
		"E 120 ft, N 60 ft, W 95 ft, S 60 ft":               `if it is 95' 0"`,
		"E 45', N 62', W 54', S 62'":                        "if its digits changed places and it is 54' 0\"",
		"E 120', N 60', W 40', N 10', W 80', S 60', S 9.9'": "", // within a tape's error
	} {
		_, problems := read(taped(`;;;;OUTLINE walls="`+walls+`"`), points.Options{})
		if err := problems.Err(); (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", walls, err, want)
		}
	}
}

// The outline begins in the corner of the box round it that lies south-west, wherever the walls begin and however they turn.
func TestOutlineBeginsAtItsBox(t *testing.T) {
	for walls, clockwise := range map[string]bool{
		"E 12 m, N 9 m, W 12 m, S 9 m": false, "S 9 m, E 12 m, N 9 m, W 12 m": false, "W 12 m, S 9 m, E 12 m, N 9 m": false,
		"N 9 m, E 12 m, S 9 m, W 12 m": true, "S 9 m, W 12 m, N 9 m, E 12 m": true,
	} {
		d := mustRead(t, "place;code\n;OUTLINE walls=\""+walls+"\"\n9 m from W wall, 2 m from S wall;DRAIN RD-1 d=100mm\n", points.Options{})
		ring := orb.Ring{}
		for _, p := range d.Outlines[0].Rings[0] {
			ring = append(ring, orb.Point{p.Plan[0] * foot, p.Plan[1] * foot})
		}
		if b := ring.Bound(); !(math.Abs(b.Min[0])+math.Abs(b.Min[1])+math.Abs(b.Max[0]-12)+math.Abs(b.Max[1]-9) <= 1e-9) {
			t.Errorf("%s: lies in %v", walls, b)
		}
		if p := d.Outlets[0].Plan; !(math.Abs(p[0]*foot-9)+math.Abs(p[1]*foot-2) <= 1e-9) {
			t.Errorf("%s: drain at %v", walls, p)
		}
		if d.Tape.Clockwise != clockwise || !d.Tape.Walls || !d.Tape.Placed {
			t.Errorf("%s: %+v", walls, d.Tape)
		}
	}
}

// Two lengths as people write them, in feet: the unit may stand once at the end, or with each.
func TestSidesAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string][2]float64{
		"120x60ft": {120, 60}, "120'x60'": {120, 60}, "120X60": {120, 60}, "120×60": {120, 60}, "36.576 x 18.288 m": {120, 60}, "1440x720in": {120, 60}, "120ftx18.288m": {120, 60}, "120' 6\"x60'": {120.5, 60}, "120.5x60.25ft": {120.5, 60.25},
		"120 by 60 ft": {120, 60},
	} {
		d, problems := read("place;code\n;OUTLINE rect=\""+text+"\"\n", points.Options{})
		if err := problems.Err(); err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if p := d.Outlines[0].Rings[0][2].Plan; !(math.Abs(p[0]-want[0])+math.Abs(p[1]-want[1]) <= 1e-9) {
			t.Errorf("%s: %v, want %v", text, p, want)
		}
	}
	for _, text := range []string{"0x60ft", "120x0ft", "120x-5ft", "axb", "120x", "x60"} {
		if _, problems := read("place;code\n;OUTLINE rect="+text+"\n", points.Options{}); problems.Err() == nil {
			t.Errorf("%s was taken", text)
		}
	}
	if _, problems := read("place;code\n;OUTLINE rect=9x9m walls=\"E 9 m, N 9 m, W 9 m, S 9 m\"\n", points.Options{}); problems.Err() == nil || !strings.Contains(problems.Err().Error(), "said twice") {
		t.Errorf("%v", problems.Err())
	}
}

// What the columns leave unsaid is said once, with the columns' names.
func TestColumnsInWarnings(t *testing.T) {
	for head, want := range map[string]string{
		"x_ft,y_ft,z":              "a.csv: columns that state no unit are taken to be in ft, as other columns of the file say: z.",
		"x,y,z_ft":                 "a.csv: columns that state no unit are taken to be in ft, as other columns of the file say: x, y.",
		"x_ft,y_ft,z_ft":           "",
		"x,y,z":                    "",
		"x_m,y_m,z":                "", // the caller's unit overrules the heading
		"x_ft,y_ft,z_ft,crew":      "a.csv: columns not read: crew.",
		"x_ft,y_ft,z_ft,crew,-":    "a.csv: columns not read: crew.",
		"x_ft,y_ft,z_ft,crew,time": "a.csv: columns not read: crew, time.",
	} {
		row := strings.Repeat("1,", strings.Count(head, ",")) + "1\n"
		d := mustRead(t, head+"\n"+row, points.Options{})
		got := strings.Join(d.Warnings, "\n")
		if got != want {
			t.Errorf("%s: %q, want %q", head, got, want)
		}
	}
	d := mustRead(t, "x,y,z,code\n1,1,1,IGNORE\n2,2,2,TREE\n3,3,3,TREE\n4,4,4,MAST\n5,5,5,IGNORE\n", points.Options{})
	if got, want := strings.Join(d.Warnings, "\n"), "a.csv: points left out because their code says IGNORE: 2.\na.csv: points with a code that is not known, taken as spots: 3 (MAST 1, TREE 2)."; got != want || len(d.Spots) != 3 {
		t.Errorf("%q", got)
	}
}

// Lines begin, end and close where the codes say so, and are told apart by number.
func TestLinesBeginAndEnd(t *testing.T) {
	rows := "x,y,z,code\n0,0,1,RIDGE 1\n9,0,1,RIDGE 1 end\n0,5,1,RIDGE 1\n9,5,1,RIDGE 1\n0,9,1,ridge 1 begin\n9,9,1,RIDGE 1\n1,1,1,VALLEY 1\n2,2,1,VALLEY 2\n3,3,1,VALLEY 1\n4,4,1,VALLEY 2\n" +
		"1,0,1,BREAK\n"
	_, problems := read(rows, points.Options{})
	if problems.Err() == nil { // BREAK is no word of ours, but GRADE-BREAK is
		d := mustRead(t, rows, points.Options{})
		var got [][2]float64
		for _, l := range d.Breaklines {
			got = append(got, [2]float64{l.Line[0].Plan[1], float64(len(l.Line))})
		}
		if want := [][2]float64{{0, 2}, {5, 2}, {9, 2}, {1, 2}, {2, 2}}; !reflect.DeepEqual(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
	} else {
		t.Error(problems.Err())
	}
	d := mustRead(t, "x,y,z,code\n0,0,1,CRICKET 1\n9,0,1,CRICKET 1\n9,9,1,CRICKET 1 close\n0,0,1,HIP\n1,1,1,HIP close\n0,0,1,GRADE-BREAK\n5,5,1,GRADE-BREAK\n", points.Options{})
	if l := d.Breaklines; len(l) != 3 || len(l[0].Line) != 4 || l[0].Line[3].Plan != l[0].Line[0].Plan || len(l[1].Line) != 2 || l[0].Type != roof.Cricket || l[1].Type != roof.Hip || l[2].Type != roof.GradeBreak {
		t.Errorf("%+v", l)
	}
	// An outline whose first point was measured again at its end is closed once.
	d = mustRead(t, "x,y,z,code\n0,0,1,OUTLINE edge=gutter name=Shed\n9,0,1,OUTLINE\n9,9,1,OUTLINE\n0,0,1,OUTLINE\n", points.Options{})
	if o := d.Outlines[0]; len(o.Rings[0]) != 4 || o.Name != "Shed" || o.Edge != roof.Gutter || o.EdgeAssumed {
		t.Errorf("%+v", o)
	}
	d = mustRead(t, "x,y,z,code\n0,0,1,WALL adjoining=5 h=2 label=north\n9,0,1,WALL\n0,9,1,FREE duty=overflow\n9,9,1,FREE\n", points.Options{})
	if e := d.Edges; e[0].Type != roof.Wall || e[0].Height != 2*quantity.Foot || e[0].AdjoiningHeight != 5*quantity.Foot || e[0].Label != "north" || e[0].Duty != roof.Primary || e[1].Type != roof.Free || e[1].Duty != roof.Overflow {
		t.Errorf("%+v", e)
	}
}

// What an outlet is follows from its code and what is measured of it; one that may be either stays open.
func TestKindsOfOutlets(t *testing.T) {
	for code, want := range map[string]struct {
		kind   roof.OutletType
		duty   roof.Duty
		open   bool
		width  float64 // [in]
		across float64 // [in]
	}{
		"DRAIN d=4in":                {roof.Drain, roof.Primary, false, 0, 4},
		"DRAIN d=4in overflow":       {roof.Drain, roof.Overflow, false, 0, 4},
		"SCUPPER w=8in":              {roof.Scupper, roof.Primary, false, 8, 0},
		"SCUPPER":                    {roof.Scupper, roof.Primary, false, 8, 0}, // as assumed
		"SCUPPER duty=overflow":      {roof.Scupper, roof.Overflow, false, 8, 0},
		"OVERFLOW d=4in":             {roof.Drain, roof.Overflow, false, 0, 4},
		"OVERFLOW dam=2in":           {roof.Drain, roof.Overflow, false, 0, 0},
		"OVERFLOW bowl=12in":         {roof.Drain, roof.Overflow, false, 0, 0},
		"OVERFLOW w=6in":             {roof.Scupper, roof.Overflow, false, 6, 0},
		"OVERFLOW h=3in":             {roof.Scupper, roof.Overflow, false, 8, 0},
		"OVERFLOW":                   {roof.Drain, roof.Overflow, true, 8, 0},
		"OVERFLOW scupper w=6in":     {roof.Scupper, roof.Overflow, false, 6, 0},
		"DRAIN d=4in invert=99.5 ft": {roof.Drain, roof.Primary, false, 0, 4},
	} {
		d := mustRead(t, "x,y,z,code\n1,1,,"+code+"\n", points.Options{})
		o := &d.Outlets[0]
		if o.Type != want.kind || o.Duty != want.duty || o.TypeOpen != want.open || !(math.Abs(float64(o.Width)/0.0254-want.width) <= 1e-9) || !(math.Abs(float64(o.Diameter)/0.0254-want.across) <= 1e-9) {
			t.Errorf("%s: %+v, want %+v", code, o, want)
		}
		if strings.Contains(code, "invert") != o.HasInvert || o.HasInvert && !(math.Abs(o.Invert-99.5*foot) <= 1e-9) {
			t.Errorf("%s: invert %v", code, o.Invert)
		}
		if assumed := want.width > 0 && !strings.Contains(code, "w="); o.WidthAssumed != assumed {
			t.Errorf("%s: width assumed %v", code, o.WidthAssumed)
		}
	}
}

// Heights that were measured twice may differ by 3 mm; more is refused.
func TestInvertAgrees(t *testing.T) {
	for invert, ok := range map[string]bool{"100.009": true, "99.991": true, "100.011": false, "99.98": false} { // feet: 0.009 are 2.7 mm, 0.011 are 3.4 mm
		_, problems := read("x,y,z,code\n1,1,100,DRAIN invert="+invert+"\n", points.Options{})
		if (problems.Err() == nil) != ok {
			t.Errorf("%s: %v", invert, problems.Err())
		}
	}
}

// Rows are added in the columns of the file, quoted as CSV wants it (RFC 4180), also after a last line without its end.
func TestAppendRows(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string // the row as another reader has it
	}{
		{"point,x,y,z,code\n1,2,3,4,SPOT\n", []string{"", "7.5", "8", "", `DRAIN RD-9 label="a, b"`}},
		{"point,x,y,z,code\n1,2,3,4,SPOT", []string{"", "7.5", "8", "", `DRAIN RD-9 label="a, b"`}},
		{"code;y;x;z\nSPOT;1;2;3\n", []string{`DRAIN RD-9 label="a, b"`, "8", "7.5", ""}},
		{"place;elev;code\n2' from W wall, 3' from S wall;5;SPOT\n", []string{"2 m from N wall, 1 m from E wall", "", `DRAIN RD-9 label="a, b"`}},
	} {
		out, err := points.Append("a.csv", []byte(c.text), []points.Added{{Code: `DRAIN RD-9 label="a, b"`, X: "7.5", Y: "8", Place: "2 m from N wall, 1 m from E wall"}})
		if err != nil || !strings.HasPrefix(string(out), c.text) {
			t.Errorf("%q: %v %q", c.text, err, out)
			continue
		}
		r := csv.NewReader(strings.NewReader(string(out)))
		if strings.Contains(c.text, ";") {
			r.Comma = ';'
		}
		rows, err := r.ReadAll()
		if err != nil || len(rows) != 3 || !reflect.DeepEqual(rows[2], c.want) {
			t.Errorf("%v %q, want %q", err, rows, c.want)
		}
		if points.Taped("a.csv", []byte(c.text)) != strings.HasPrefix(c.text, "place") {
			t.Errorf("%q: taken for the other kind of file", c.text)
		}
	}
	for text, want := range map[string]string{"x,y,z\n1,2,3\n": "no heading names a column for the code", "x y z code\n1 2 3 SPOT\n": "blanks separate", "1,2,3,SPOT\n": "no heading", "": "the file has no rows"} {
		if _, err := points.Append("a.csv", []byte(text), nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// A table with heads, such as a level book: names without units, a row that does not fit named with its line.
func TestTables(t *testing.T) {
	var problems roof.Refusal
	table := points.OpenTable("a.csv", []byte("# book\nStation;BS (ft);Elevation_m\n\nA;1,5;\nB;2;3;;\n"), &problems)
	if table == nil || problems.Err() != nil || !table.Comma || !reflect.DeepEqual(table.Names, []string{"station", "bs", "elevation"}) || !reflect.DeepEqual(table.Units, []quantity.Unit{quantity.Unstated, quantity.Feet, quantity.Metres}) {
		t.Fatalf("%+v %v", table, problems.Err())
	}
	if !reflect.DeepEqual(table.Rows, [][]string{{"A", "1,5", ""}, {"B", "2", "3"}}) || !reflect.DeepEqual(table.Lines, []int{4, 5}) {
		t.Errorf("%q at %v", table.Rows, table.Lines)
	}
	if table.Column("fs", "bs") != 1 || table.Column("station") != 0 || table.Column("is") != -1 {
		t.Error("columns are not found by their names")
	}
	for _, c := range []struct {
		field string
		unit  quantity.Unit
		want  float64 // [m]; NaN: refused
	}{{"1,5", quantity.Metres, 1.5}, {"3", quantity.Feet, 3 * foot}, {"3", quantity.Unstated, math.NaN()}, {"3 ft", quantity.Unstated, 3 * foot}, {"x", quantity.Feet, math.NaN()}} {
		if got, err := table.Length(c.field, c.unit); (err != nil) != math.IsNaN(c.want) || err == nil && !(math.Abs(float64(got)-c.want) <= 1e-9) {
			t.Errorf("%s: %v %v, want %v", c.field, got, err, c.want)
		}
	}
	for text, want := range map[string]string{
		"": "the file has no rows", "1;2;3\n": "line 1: the first row does not name the columns", "a;b\n1;2\n\n1\n": "line 4: the row has 1 field where 2 belong", "a;b\n1;2;3\n": "line 2: the row has 3 fields where 2 belong", "PK\x03\x04": "workbook",
	} {
		problems = roof.Refusal{}
		points.OpenTable("a.csv", []byte(text), &problems)
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// What was noted of a visit has no place; what is too long or no number is refused.
func TestVisits(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n,,,\"VISIT surveyed=2026-05-02 weather=\"\"light rain\"\" hours_since_rain=50 age_years=12\"\n1,1,1,SPOT\n", points.Options{})
	if v := d.Visit; v == nil || v.Surveyed != "2026-05-02" || v.Weather != "light rain" || !v.HasHours || v.Hours != 50 || v.Age != 12 || len(d.Spots) != 1 {
		t.Errorf("%+v", d.Visit)
	}
	for text, want := range map[string]string{"VISIT age_years=old": "age_years", "VISIT weather=" + strings.Repeat("x", 990) + " leaks=" + strings.Repeat("y", 990): "characters"} {
		if _, problems := read("x,y,z,code\n,,,"+text+"\n", points.Options{}); problems.Err() == nil || !strings.Contains(problems.Err().Error(), want) {
			t.Errorf("%.20s: %v", text, problems.Err())
		}
	}
}

// In files of coordinates an answer stands where it holds; one about the whole roof at none.
func TestPlacesOfAnswers(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n5,6,,ANSWER question=deck_sound answer=yes by=E on=2026-05-02 number=3\n,,,ANSWER question=load_limit answer=\"20 psf\" by=E on=2026-05-02 covers=x\n", points.Options{})
	if a := d.Answers; len(a) != 2 || !a[0].Placed || a[0].Plan != (orb.Point{5, 6}) || a[0].Number != 3 || !a[0].Yes || a[1].Placed || a[1].Covers != "x" || !(math.Abs(a[1].Amount-20*47.88) <= 0.1) {
		t.Errorf("%+v", d.Answers)
	}
}

// Water that was seen on coordinates, with the level's readings.
func TestWaterByCoordinates(t *testing.T) {
	d := mustRead(t, "x,y,z,depth_in,code\n1,1,,,WATERLINE P2 outlets=blocked hours=0\n5,1,99,,WATERLINE 2\n5,4,,,WATERLINE 2 level=99.2\n3,2,,1.5,SOUNDING 2\n3,3,,,SOUNDING 2 depth=20mm\n1,9,98,,INLET RD-1\n1,8,98,,INLET of=RD-2\n", points.Options{})
	w := d.Tape.Waters
	if len(w) != 1 || w[0].Number != "2" || w[0].Outlets != roof.OutletsBlocked || w[0].HoursSinceRain != 0 || !w[0].HasLevel || !(math.Abs(w[0].Level-99.2*foot) <= 1e-9) || len(w[0].Soundings) != 2 {
		t.Fatalf("%+v", w)
	}
	if s := w[0].Soundings; !(math.Abs(float64(s[0].Depth)-0.0381) <= 1e-9) || !(math.Abs(float64(s[1].Depth)-0.02) <= 1e-9) {
		t.Errorf("%+v", s)
	}
	if p := d.Tape.Probes; p[0].Of != "RD-1" || p[1].Of != "RD-2" || p[0].Kind != roof.InletProbe {
		t.Errorf("%+v", p)
	}
	const heads = "x,y,z,depth,code\n"
	for text, want := range map[string]string{
		heads + "1,1,,1in,SOUNDING\n":                                                           "pond 1 has a depth and no edge",
		heads + "1,1,,,WATERLINE 1\n2,1,,,WATERLINE 1\n":                                        "WATERLINE 1 has 2 marks, too few for an edge",
		heads + "1,1,,,WATERLINE 1\n":                                                           "WATERLINE 1 has 1 mark, too few",
		heads + "1,1,,,WATERLINE 1 hours=-1\n2,1,,,WATERLINE 1\n2,2,,,WATERLINE 1\n":            "is no number of hours",
		heads + "1,1,,,WATERLINE 1 hours=+Inf\n2,1,,,WATERLINE 1\n2,2,,,WATERLINE 1\n":          "is no number of hours",
		heads + "1,1,,,WATERLINE 1 outlets=half\n2,1,,,WATERLINE 1\n2,2,,,WATERLINE 1\n":        "write clear or blocked",
		heads + "1,1,,-1in,SOUNDING\n1,1,,,WATERLINE 1\n2,1,,,WATERLINE 1\n2,2,,,WATERLINE 1\n": "no roof holds water of that depth",
		heads + "1,1,,3.1m,SOUNDING\n1,1,,,WATERLINE 1\n2,1,,,WATERLINE 1\n2,2,,,WATERLINE 1\n": "no roof holds water of that depth",
		heads + "5,5,,1in,POND 1 size=4x2\n6,6,,1in,POND 1 size=4x2\n":                          "the edge of pond 1 is given twice",
		heads + "5,5,,,SLOPE level=4ft gap=-1in toward=E\n":                                     "does not go with the length of the level",
		heads + "5,5,,,SLOPE level=0ft gap=0in toward=E\n":                                      "does not go with the length of the level",
		heads + "5,5,,,SLOPE level=4ft gap=1in toward=up\n":                                     "toward: ",
		heads + "5,5,,,SLOPE level=4ft\n":                                                       "SLOPE has no gap",
		heads + "5,5,,,SILL kind=door-sill\n":                                                   "the sill has no elevation",
	} {
		if _, problems := read(text, points.Options{}); problems.Err() == nil || !strings.Contains(problems.Err().Error(), want) {
			t.Errorf("%q: %v, want %q", text, problems.Err(), want)
		}
	}
	// Depths up to 3 m are taken, and marks that lie nearly on a line are not.
	if _, problems := read(heads+"1,1,,3m,SOUNDING\n1,1,,,WATERLINE 1\n2,1,,,WATERLINE 1\n2,2,,,WATERLINE 1\n", points.Options{}); problems.Err() != nil {
		t.Error(problems.Err())
	}
	for y, ok := range map[string]bool{"0.09": false, "0.11": true, "-0.11": true} { // of a line of 10: a hundredth is 0.1
		_, problems := read(heads+"0,0,,,WATERLINE 1\n10,0,,,WATERLINE 1\n5,"+y+",,,WATERLINE 1\n", points.Options{})
		if (problems.Err() == nil) != ok {
			t.Errorf("a mark %s off a line of 10: %v", y, problems.Err())
		}
	}
}

// A file may begin with the column of rods.
func TestRodsFirst(t *testing.T) {
	d := mustRead(t, "rod,x,y\n4,1,2\n", points.Options{HI: "20"})
	if s := d.Spots[0]; !(math.Abs(s.Z-16*foot) <= 1e-9) || !s.HasRod || !(math.Abs(float64(s.Rod)-4*foot) <= 1e-9) {
		t.Errorf("%+v", s)
	}
}

// Degrees have no size of a pond, and are not compared with lengths.
func TestSizesNeedAGrid(t *testing.T) {
	var problems roof.Refusal
	f := points.Open("a.csv", []byte("lon,lat,z,depth,code\n5,41,1,1in,POND 1 size=4x2ft\n"), points.Options{}, &problems)
	f.Read(draft.Setting{Unit: quantity.Feet, Geographic: true}, &problems)
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "a size has no place among degrees") || !strings.Contains(err.Error(), "WATERLINE 1") {
		t.Error(err)
	}
}

// Places on a roof that another file outlines are found from its walls and its names.
func TestPlacesAlongAnotherFile(t *testing.T) {
	var problems roof.Refusal
	f := points.Open("a.csv", []byte("place;elev;code\n2' from W wall, 3' from S wall;5;SPOT\n1' E of HATCH;6;SPOT\n4' from S wall, 1' from E wall;;DRAIN d=4in\n"), points.Options{}, &problems)
	f.Along(draft.Known{Ring: orb.Ring{{0, 0}, {30, 0}, {30, 20}, {0, 20}, {0, 0}}, Names: []draft.Name{{Text: "HATCH", At: orb.Point{9, 9}}, {Text: "d1", At: orb.Point{1, 1}}}})
	d := f.Read(draft.Setting{Unit: quantity.Feet}, &problems)
	if problems.Err() != nil || len(d.Spots) != 2 || d.Spots[0].Plan != (orb.Point{2, 3}) || d.Spots[1].Plan != (orb.Point{10, 9}) || d.Outlets[0].Plan != (orb.Point{29, 4}) || d.Outlets[0].Label != "D2" {
		t.Errorf("%v %+v", problems.Err(), d)
	}
	// Half a metre off the walls a tape is taken for wrong.
	for text, ok := range map[string]bool{"1.5' from S wall, -1.5' from W wall": false, "5' from S wall, 31.5' from W wall": true, "5' from S wall, 31.7' from W wall": false} {
		problems = roof.Refusal{}
		f := points.Open("a.csv", []byte("place;elev;code\n"+text+";5;SPOT\n"), points.Options{}, &problems)
		f.Along(draft.Known{Ring: orb.Ring{{0, 0}, {30, 0}, {30, 20}, {0, 20}, {0, 0}}})
		f.Read(draft.Setting{Unit: quantity.Feet}, &problems)
		if (problems.Err() == nil) != ok {
			t.Errorf("%s: %v", text, problems.Err())
		}
	}
}

package points_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/soak"
	"runnel/importer/draft"
	"runnel/importer/draft/drafttest"
	"runnel/importer/points"
	"runnel/importer/points/code"
)

// read reads rows in feet on a site grid.
func read(text string, o points.Options) (*draft.Draft, *roof.Refusal) {
	var problems roof.Refusal
	f := points.Open("a.csv", []byte(text), o, &problems)
	if f == nil {
		return nil, &problems
	}
	return f.Read(draft.Setting{Unit: quantity.Feet}, &problems), &problems
}

func mustRead(t *testing.T, text string, o points.Options) *draft.Draft {
	t.Helper()
	d, problems := read(text, o)
	if err := problems.Err(); err != nil {
		t.Fatalf("%.60q: %v", text, err)
	}
	return d
}

const foot = 0.3048

// A spreadsheet ends rows with separators for cells that hold nothing: however many, the row is read as if they were not there.
func TestEmptyCellsBehindARow(t *testing.T) {
	for cells := range 4 {
		d := mustRead(t, "x,y,z,code\n1,1,100,\n2,5,101.5,SPOT"+strings.Repeat(",", cells)+"\n", points.Options{})
		if len(d.Spots) != 2 || d.Spots[1].Plan[1] != 5 || !(math.Abs(d.Spots[1].Z-101.5*foot) <= 1e-9) {
			t.Errorf("%d empty cells: %+v", cells, d.Spots)
		}
	}
}

// By hand: 12' 6" = 12.5 ft, 3.25 ft, 38 mm; a bare number is in the unit that the others are written in.
func TestPlacesAreReadInFeetAndInches(t *testing.T) {
	text := "point,x,y,elev,code\n7,12' 6\",\"3' 3\"\"\",101 1/2 ft,\n8,20,4 ft,100,\n"
	var problems roof.Refusal
	if f := points.Open("a.csv", []byte(text), points.Options{}, &problems); f == nil || f.Units != quantity.Feet {
		t.Fatalf("%+v, %v", f, problems.Err())
	}
	d := mustRead(t, text, points.Options{})
	for i, want := range []orb.Point{{12.5, 3.25}, {20, 4}} {
		if got := d.Spots[i].Plan; !(math.Abs(got[0]-want[0]) <= 1e-12) || !(math.Abs(got[1]-want[1]) <= 1e-12) {
			t.Errorf("spot %d lies at %v ft, want %v", i, got, want)
		}
	}
	if z := d.Spots[0].Z; !(math.Abs(z-101.5*foot) <= 1e-12) || !d.Imperial || len(d.Warnings) != 1 || !strings.Contains(d.Warnings[0], "taken to be in ft") {
		t.Errorf("%g m, %q", z, d.Warnings)
	}
	f := points.Open("a.csv", []byte("lon,lat,z\n12' 6\",3,1\n"), points.Options{}, &problems)
	if f.Read(draft.Setting{Unit: quantity.Metres, Geographic: true}, &problems); problems.Err() == nil {
		t.Error("degrees in feet and inches are taken")
	}
}

// By hand: every text holds the points (12.5, 3.25, 101.5) and (20, 4, 100) in feet.
func TestReadsEveryLayout(t *testing.T) {
	named := points.Options{Columns: []string{"point", "north", "east", "elevation", "code"}}
	tests := []struct {
		name, text string
		options    points.Options
	}{
		{"comma", "point,x,y,z,code\n1,12.5,3.25,101.5,\n2,20,4,100,SPOT\n", points.Options{}},
		{"semicolon and decimal comma", "id;east;north;elev\n1;12,5;3,25;101,5\n2;20;4;100,0\n", points.Options{}},
		{"tab", "Point Number\tNorthing\tEasting\tElevation\tDescription\n1\t3.25\t12.5\t101.5\t\n2\t4\t20\t100\tSPOT near hatch\n", points.Options{}},
		{"blanks", "point  x    y    z\n1   12.5 3.25 101.5\n  2  20 4 100\n", points.Options{}},
		{"blanks and decimal comma", "1 12,5 3,25 101,5\n2 20,0 4,0 100,0\n", points.Options{Columns: []string{"point", "e", "n", "rl"}}},
		{"windows", "\ufeffpoint,x,y,z\r\n1,12.5,3.25,101.5\r\n\r\n2,20,4,100\r\n", points.Options{}},
		{"old line ends", "point,x,y,z\r1,12.5,3.25,101.5\r2,20,4,100", points.Options{}},
		{"comments", "# surveyed in spring\n\npoint,x,y,z\n# first row\n1,12.5,3.25,101.5\n2,20,4,100", points.Options{}},
		{"quotes", "point,x,y,z,code\n\"1\",\"12.5\",3.25,101.5,\"SPOT, wet\"\n2,20,4,100,\n", points.Options{}},
		{"exponents and signs", "x,y,z\n+1.25e1,3.25,1015e-1\n20,4,100\n", points.Options{}},
		{"units in names", "x_ft,y_ft,elev (in)\n12.5,3.25,1218\n20,4,1200\n", points.Options{}},
		{"units in words", "note in ft,Easting in ft,North in feet,Elevation in in\n-,12.5,3.25,1218\n-,20,4,1200\n", points.Options{}},
		{"a line for spreadsheets", "\ufeffSEP=;\r\nid;east;north;elev\r\n1;12,5;3,25;101,5\r\n2;20;4;100\r\n", points.Options{}},
		{"comments above that line", "# from the office\nsep=,\nx,y,z\n12.5,3.25,101.5\n20,4,100\n", points.Options{}},
		{"units in cells", "x,y,z\n12.5,3.25,101' 6\"\n20,4,100\n", points.Options{}},
		{"trailing separators", "x,y,z\n12.5,3.25,101.5,,\n20,4,100,,\n", points.Options{}},
		{"no header, columns named", "1,3.25,12.5,101.5,\n2,4,20,100,SPOT\n", named},
		{"no header, no codes", "1,3.25,12.5,101.5\n2,4,20,100\n", named},
		{"blanks without the code", "1 3.25 12.5 101.5\n2 4 20 100 SPOT\n", named},
		{"a column that is not read", "1,x,3.25,12.5,101.5\n2,y,4,20,100\n", points.Options{Columns: []string{"point", "-", "n", "e", "z"}}},
		{"rod readings", "x,y,rod\n12.5,3.25,4.5\n20,4,6\n", points.Options{HI: "106"}},
	}
	for _, tt := range tests {
		d := mustRead(t, tt.text, tt.options)
		if len(d.Spots) != 2 {
			t.Errorf("%s: %d spots, want 2", tt.name, len(d.Spots))
			continue
		}
		for i, want := range [][3]float64{{12.5, 3.25, 101.5}, {20, 4, 100}} {
			s := d.Spots[i]
			if s.Plan != (orb.Point{want[0], want[1]}) || !(math.Abs(s.Z-want[2]*foot) <= 1e-9) {
				t.Errorf("%s: spot %d is %v, %v m; want %v", tt.name, i, s.Plan, s.Z, want)
			}
		}
	}
}

func TestReadsEveryCode(t *testing.T) {
	d := mustRead(t, strings.Join([]string{
		"point,x,y,z,sigma,code",
		"1,0,0,100,,OUTLINE edge=gutter name=Depot",
		"2,0,40,100,,outline",
		"3,60,40,,,Outline",
		"4,60,0,100,,OUTLINE",
		"5,5,5,101,0.01,SPOT",
		"6,6,5,101,,TREE",
		"7,7,5,101,,SPOT sigma=3mm",
		"8,10,10,102,,RIDGE 1",
		"9,10,30,102,,RIDGE 2 begin",
		"10,20,10,102,,RIDGE1 end",
		"11,20,30,102,,ridge-2",
		"12,30,10,,,CRICKET 1",
		"13,32,10,99,,CRICKET 1",
		"14,32,12,99,,CRICKET 1 close",
		"15,40,10,99,,VALLEY 1",
		"16,50,10,99,,VALLEY 1",
		"17,40,12,99,,HIP 1",
		"18,50,12,99,,HIP 1",
		"19,40,20,,,CURB 3 h=12in",
		"20,40,24,,,CURB 3",
		"21,44,24,,,CURB 3",
		"22,0,0,100,,GUTTER 1",
		"23,0,40,100,,GUTTER 1",
		"24,0,0,,,WALL 1 h=2",
		"25,60,0,,,WALL 1",
		"26,60,0,,,FREE 1",
		"27,60,40,,,FREE 1",
		"28,30,20,99.5,,DRAIN D1 d=4in bowl=1.5 dam=2\"",
		"29,60,20,99.6,,SCUPPER w=10in h=4 in",
		"30,0,20,,,OVERFLOW w=6in",
		"31,31,20,99.7,,OVERFLOW d=4in",
		"32,32,20,99.7,,OVERFLOW",
		"33,32,21,99.7,,DRAIN overflow",
		"34,33,21,101,,CORE deck=steel",
		"35,33,22,,,CONTROL lon=-93.5 lat=45.25",
		"36,90,22,10,,IGNORE",
	}, "\n"), points.Options{})
	if n := len(d.Spots); n != 3 || !(math.Abs(float64(d.Spots[0].Sigma)-0.01*foot) <= 1e-12) || !(math.Abs(float64(d.Spots[2].Sigma)-0.003) <= 1e-12) {
		t.Errorf("spots %+v", d.Spots)
	}
	if string(d.Spots[1].Properties) != `{"code":"TREE"}` {
		t.Errorf("properties %s", d.Spots[1].Properties)
	}
	o := d.Outlines[0]
	if o.Name != "Depot" || o.Edge != roof.Gutter || o.EdgeAssumed || len(o.Rings[0]) != 5 || o.Rings[0][1].Plan != (orb.Point{60, 0}) {
		t.Errorf("outline %+v", o)
	}
	var lines []string
	for _, b := range d.Breaklines {
		lines = append(lines, fmt.Sprintf("%s %d %d", b.ID, b.Type, len(b.Line)))
	}
	want := "ridge-1 1 2, ridge-2 1 2, cricket-1 4 4, valley-1 2 2, hip-1 3 2"
	if got := strings.Join(lines, ", "); got != want {
		t.Errorf("breaklines %s, want %s", got, want)
	}
	if b := d.Breaklines[2]; b.Line[0].HasZ || !b.Line[1].HasZ || b.Line[3].Plan != b.Line[0].Plan {
		t.Errorf("cricket %+v", b.Line)
	}
	if c := d.Curbs[0]; !(math.Abs(float64(c.Height)-0.3048) <= 1e-12) || c.Label != "3" || len(c.Ring) != 4 {
		t.Errorf("curb %+v", c)
	}
	if len(d.Edges) != 3 || d.Edges[0].Type != roof.Gutter || d.Edges[1].Type != roof.Wall || !(math.Abs(float64(d.Edges[1].Height)-2*foot) <= 1e-12) || d.Edges[2].Type != roof.Free {
		t.Errorf("edges %+v", d.Edges)
	}
	checkOutlets(t, d.Outlets)
	if c := d.Cores[0]; c.Deck != "steel" || !(math.Abs(c.Z-101*foot) <= 1e-12) {
		t.Errorf("core %+v", c)
	}
	if c := d.Controls[0]; c.Lon != -93.5 || c.Lat != 45.25 || c.Plan != (orb.Point{33, 22}) {
		t.Errorf("control %+v", c)
	}
	if got := strings.Join(d.Warnings, " "); !strings.Contains(got, "not known, taken as spots: 1 (TREE 1)") || !strings.Contains(got, "IGNORE: 1") {
		t.Errorf("warnings %q", got)
	}
	var codes []string
	for i := range d.Spots {
		codes = append(codes, d.Spots[i].Code)
	}
	if strings.Trim(strings.Join(codes, " "), " ") != "TREE" {
		t.Errorf("codes that are not known: %q", codes)
	}
	drafttest.Finite(t, d)
}

func checkOutlets(t *testing.T, outlets []draft.Outlet) {
	t.Helper()
	type outlet struct {
		kind                  roof.OutletType
		duty                  roof.Duty
		open, hasInvert       bool
		invert, width, height float64
		diameter, bowl, dam   float64
		label                 string
	}
	const in = 0.0254
	want := []outlet{
		{roof.Drain, roof.Primary, false, true, 99.5 * foot, 0, 0, 4 * in, 1.5 * foot, 2 * in, "D1"},
		{roof.Scupper, roof.Primary, false, true, 99.6 * foot, 10 * in, 4 * in, 0, 0, 0, ""},
		{roof.Scupper, roof.Overflow, false, false, 0, 6 * in, 0, 0, 0, 0, ""},
		{roof.Drain, roof.Overflow, false, true, 99.7 * foot, 0, 0, 4 * in, 12 * in, 0, ""},
		{roof.Drain, roof.Overflow, true, true, 99.7 * foot, 8 * in, 0, 0, 12 * in, 0, ""},
		{roof.Drain, roof.Overflow, false, true, 99.7 * foot, 0, 0, 0, 12 * in, 0, ""},
	}
	if len(outlets) != len(want) {
		t.Fatalf("%d outlets, want %d", len(outlets), len(want))
	}
	for i, w := range want {
		o := outlets[i]
		if o.Type != w.kind || o.Duty != w.duty || o.TypeOpen != w.open || o.HasInvert != w.hasInvert || o.Label != w.label {
			t.Errorf("outlet %d is %+v, want %+v", i, o, w)
		}
		for _, v := range [][2]float64{
			{o.Invert, w.invert},
			{float64(o.Width), w.width},
			{float64(o.OpeningHeight), w.height},
			{float64(o.Diameter), w.diameter},
			{float64(o.Bowl), w.bowl},
			{float64(o.DamHeight), w.dam},
		} {
			if !(math.Abs(v[0]-v[1]) <= 1e-12) {
				t.Errorf("outlet %d is %+v, want %+v", i, o, w)
			}
		}
	}
}

// In ISO 8859-1 the byte 0xBD is one half.
func TestTextOfOldInstrumentsIsRead(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n1,2,100,SCUPPER w=4\xbd\"\n3,4,100,caf\xe9\n", points.Options{})
	if !(math.Abs(float64(d.Outlets[0].Width)-4.5*0.0254) <= 1e-12) || string(d.Spots[0].Properties) != `{"code":"café"}` || !strings.Contains(strings.Join(d.Warnings, " "), "ISO 8859-1") {
		t.Errorf("%+v", d)
	}
}

func TestCodeListMapsAnOfficesCodes(t *testing.T) {
	var problems roof.Refusal
	list := code.ParseList("codes.csv", []byte("code,role\n# ours\nRD,DRAIN d=4in\n101,RIDGE\nBM,IGNORE\nEP,GUTTER edge\n"), &problems)
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), `line 6`) {
		t.Errorf("a code list with a wrong row: %v", err)
	}
	d := mustRead(t, "x,y,z,code\n1,1,9,RD\n2,2,10,101 1\n3,3,10,101 1\n4,4,10,bm\n5,5,10,rd 2\n", points.Options{Codes: list})
	if len(d.Outlets) != 2 || d.Outlets[1].Label != "2" || len(d.Breaklines) != 1 || len(d.Spots) != 0 {
		t.Errorf("%+v", d)
	}
}

// Behind a drain a bare size is its diameter, not its label: 4 in are 101.6 mm.
func TestSizeBehindADrain(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n1,1,9,DRAIN 3 4IN\n2,2,9,DRAIN3 150mm overflow\n3,3,9,\"DRAIN 6\"\"\"\n4,4,9,DRAIN 4\n5,5,9,DRAIN 7 d=3in\n6,6,9,DRAIN 40in\n", points.Options{})
	for i, want := range []struct {
		label    string
		diameter float64
	}{{"3", 0.1016}, {"3", 0.15}, {"", 0.1524}, {"4", 0}, {"7", 0.0762}, {"40in", 0}} {
		if o := &d.Outlets[i]; o.Label != want.label || !(math.Abs(float64(o.Diameter)-want.diameter) <= 1e-12) {
			t.Errorf("line %d: label %q, diameter %g, not %q, %g", i+2, o.Label, float64(o.Diameter), want.label, want.diameter)
		}
	}
}

func TestElevationsOfZeroAreNotUsed(t *testing.T) {
	text := "point,x,y,z,code\n1,1,1,100,\n2,2,2,0,\n3,3,3,0,DRAIN\n4,4,4,0,RIDGE 1\n5,5,5,101,RIDGE 1\n"
	d := mustRead(t, text, points.Options{})
	if len(d.Spots) != 1 || d.Outlets[0].HasInvert || d.Breaklines[0].Line[0].HasZ || !d.Breaklines[0].Line[1].HasZ {
		t.Errorf("%+v", d)
	}
	want := "a.csv: elevations of exactly 0 among others that are not were not used: 3; spots left out: line 3 (2). Say --keep-zero if they were measured."
	if len(d.Warnings) != 1 || d.Warnings[0] != want {
		t.Errorf("warnings %q", d.Warnings)
	}
	d = mustRead(t, text, points.Options{KeepZero: true})
	if len(d.Spots) != 2 || !d.Outlets[0].HasInvert || len(d.Warnings) != 0 {
		t.Errorf("kept: %+v", d)
	}
	if d := mustRead(t, "x,y,z\n1,1,0\n2,2,0\n", points.Options{}); len(d.Spots) != 2 {
		t.Errorf("all zero: %+v", d)
	}
}

func TestTheOutlineTellsTheColumnsApart(t *testing.T) {
	const rows = "1,3.25,12.5,101.5,\n2,4,50,100,SPOT\n"
	inside := func(p orb.Point) bool { return p[0] > 0 && p[0] < 60 && p[1] > 0 && p[1] < 10 }
	tests := []struct {
		name, rows string
		inside     func(orb.Point) bool
		says       string
	}{
		{"northing first", rows, inside, ""},
		{"easting first", "12.5 3.25 101.5\n50 4 100\n", inside, ""},
		{"no outline", rows, nil, "there is no outline to tell by: row 1 is east 3.25, north 12.5, or north 3.25, east 12.5; say --columns point,east,north,elevation,code or --columns point,north,east,elevation,code"},
		{"both", rows, func(orb.Point) bool { return true }, "both orders put"},
		{"neither", rows, func(orb.Point) bool { return false }, "neither order puts"},
	}
	for _, tt := range tests {
		var problems roof.Refusal
		f := points.Open("a.csv", []byte(tt.rows), points.Options{}, &problems)
		if f == nil || !f.Undecided() {
			t.Fatalf("%s: decided, %v", tt.name, problems.Err())
		}
		said, ok := f.Decide(tt.inside, false, &problems)
		if tt.says != "" {
			if ok || problems.Err() == nil || !strings.Contains(problems.Err().Error(), tt.says) {
				t.Errorf("%s: %v, want %q", tt.name, problems.Err(), tt.says)
			}
			continue
		}
		if !ok || !strings.Contains(said, "only so the points lie on the outline") {
			t.Errorf("%s: %q, %v", tt.name, said, problems.Err())
		}
		d := f.Read(draft.Setting{Unit: quantity.Feet}, &problems)
		if problems.Err() != nil || d.Spots[0].Plan != (orb.Point{12.5, 3.25}) || d.Spots[1].Plan != (orb.Point{50, 4}) {
			t.Errorf("%s: %v %+v", tt.name, problems.Err(), d.Spots)
		}
	}
}

func TestTheHeaderStatesUnitAndFrame(t *testing.T) {
	tests := []struct {
		header string
		unit   quantity.Unit
		frame  string
	}{
		{"x,y,z", quantity.Unstated, ""},
		{"east,north,elev_ft", quantity.Feet, "local"},
		{"lon,lat,elevation", quantity.Unstated, "wgs84"},
		{"x_m,y_m,elev_mm", quantity.Metres, ""},
		{"E (US ft),N (US ft),Z (US ft)", quantity.USSurveyFeet, "local"},
		{"Easting (us survey feet),Northing (us survey feet),RL", quantity.USSurveyFeet, "local"},
	}
	for _, tt := range tests {
		var problems roof.Refusal
		f := points.Open("a.csv", []byte(tt.header+"\n1,2,3\n"), points.Options{}, &problems)
		if f == nil || f.Units != tt.unit || f.Frame != tt.frame {
			t.Errorf("%s: %+v, %v", tt.header, f, problems.Err())
		}
	}
}

func TestRefuses(t *testing.T) {
	const header = "point,x,y,z,code\n"
	tests := []struct{ name, text, says string }{
		{"short row", header + "1,2,3,4,\n2,2,3,4\n", "a.csv line 3: the row has 4 fields where 5 belong"},
		{"long row", header + "1,2,3,4,SPOT,dry\n", "6 fields where 5 belong"},
		{"another separator", header + "1,2,3,4,\n2;2;3;4;\n", "separated by semicolons, the rows before by commas"},
		{"two separators in a row", header + "1,2;3,4,5,\n", `column x: "2;3" is not a finite number`},
		{"missing elevation", header + "1,2,3,,\n", "a.csv line 2 (1) at (2, 3): the spot has no elevation"},
		{"missing place", header + "1,,3,4,\n", "column x is empty; write the measured number, or take the row out"},
		{"a row of units", "point,x,y,z,code\n,ft,ft,ft,\n1,2,3,4,\n", `line 2 (L2): column x: "ft" is not a finite number; write the unit behind the names of the columns, such as x_ft, and take this row out`},
		{"two units of a column", "point,x_ft,y_ft,elev_ft_m\n1,2,3,4\n", `a.csv line 1: column "elev_ft_m" states two units; leave one of them out`},
		{"text for a number", header + "1,2,3,high,\n", `column z: "high" is not a finite number`},
		{"NaN", header + "1,2,3,NaN,\n", `"NaN" is not a finite number`},
		{"inf", header + "1,2,3,inf,\n", `"inf" is not a finite number`},
		{"1e400", header + "1,2,3,1e400,\n", `"1e400" is not a finite number`},
		{"null", header + "1,2,3,null,\n", `"null" is not a finite number`},
		{"hexadecimal", header + "1,0x10,3,4,\n", `"0x10" is not a finite number`},
		{"no-data", header + "1,2,3,-9999,\n", "no roof stands at"},
		{"thousands", "x;y;z\n1,234.5;2;3\n", "not a finite number"},
		{"two decimal signs", "x;y;z\n1,5;2;3\n1.5;2;3\n", "line 2 another"},
		{"too large", header + "1,1e12,3,4,\n", "too large for any site grid"},
		{"no place", "point,z\n1,2\n", "no columns for the place"},
		{"no elevation column", "point,x,y\n1,2,3\n", "no column for the elevation"},
		{"two elevation columns", "x,y,z,elev\n1,2,3,4\n", "two columns say the same"},
		{"rod and elevation", "x,y,z,rod\n1,2,3,4\n", "one for rod readings"},
		{"lon and y", "lon,y,z\n1,2,3\n", "do not belong together"},
		{"mixed units", "x_m,y_ft,z\n1,2,3\n", "different units"},
		{"rod without height", "x,y,rod\n1,2,3\n", "say --hi"},
		{"two fields", "1,2\n", "too few for a point"},
		{"unknown key", header + "1,2,3,4,DRAIN s=4in\n", `code DRAIN has no key "s": it takes d, diameter`},
		{"wrong value", header + "1,2,3,4,SCUPPER w=8on\n", `"on" is no unit`},
		{"value cut apart", header + "1,2,3,4,SCUPPER w=8 on\n", `"on" in the code is not understood`},
		{"negative", header + "1,2,3,4,DRAIN bowl=-1\n", "bowl is negative"},
		{"four feet of drain", header + "1,2,3,4,DRAIN d=4\n", "over 24 in across"},
		{"duty", header + "1,2,3,4,DRAIN duty=spare\n", "use primary, overflow"},
		{"one point of a ridge", header + "1,2,3,4,RIDGE 1\n", "RIDGE-1 has one point only"},
		{"two points of a curb", header + "1,2,3,4,CURB 1\n2,3,3,4,CURB 1\n", "the curb-1 has fewer than three corners"},
		{"crossing outline", header + "1,0,0,4,OUTLINE\n2,9,9,4,OUTLINE\n3,9,0,4,OUTLINE\n4,0,9,4,OUTLINE\n", "at (4.5, 4.5): the outline crosses or touches itself"},
		{"control", header + "1,2,3,4,CONTROL lon=5\n", "no usable lat"},
		{"workbook", "PK\x03\x04abc", "workbook"},
		{"UTF-16", "\xff\xfex\x00", "UTF-16"},
		{"binary", "x,y\x00z", "not text"},
		{"comments only", "# a\n# b\n", "no rows"},
		{"long name", header + strings.Repeat("7", 1001) + ",2,3,4,DRAIN\n", "(77777777777777777777): the name of the point has 1001 characters; the most that is read is 1000"},
		{"long label", header + "1,2,3,4,DRAIN label=" + strings.Repeat("é", 991) + "\n", "line 2 (1): the code has 1003 characters"},
		{"long line", header + strings.Repeat("1", 1<<20+1) + "\n", "longer than a megabyte"},
	}
	for _, tt := range tests {
		_, problems := read(tt.text, points.Options{})
		err := problems.Err()
		if err == nil {
			t.Errorf("%s: accepted", tt.name)
			continue
		}
		if !strings.Contains(err.Error(), tt.says) || strings.Count(err.Error(), "; ") == 0 {
			t.Errorf("%s: %q does not say %q with a mend", tt.name, err, tt.says)
		}
	}
	if _, problems := read("1,2,3\n", points.Options{Columns: []string{"x", "y", "up"}}); problems.Err() == nil || !strings.Contains(problems.Err().Error(), `"up" is no name of a column`) {
		t.Errorf("--columns: %v", problems.Err())
	}
}

func reading() *soak.Target {
	g := soak.New("FuzzRead", "OUTLINE", "SPOT", "RIDGE 1", "VALLEY 1", "CURB 1", "DRAIN d=4in", "SCUPPER w=8in", "OVERFLOW", "CORE", "CONTROL lon=1 lat=2", "SILL", "GUTTER 1", "FREE 1", "WALL 1", "IGNORE", "begin", "close", "end", "sigma", "rod", "lon", "lat", "elev_ft", "northing", "edge=free", "invert=", "label=")
	g.Add([]byte("point,x,y,z,code\n1,2,3,4,RIDGE 1 begin\n2,3,3,4,RIDGE 1 close\n"))
	g.Add([]byte("1;2,5;3;4\n2;3;3;4,0\n"))
	g.Add([]byte("x y rod code\n1 2 3 DRAIN d=4 in\n5 6 7 OVERFLOW w=8in h=1' 2\"\n"))
	g.Add([]byte("lon,lat,elev_ft,sigma,desc\n1,2,3,0.1,\"CURB 1\"\n1,3,3,,CURB 1\n2,3,3,,CURB 1\n"))
	g.Add([]byte("x,y,z,code\n0,0,1,OUTLINE\n9,0,1,OUTLINE\n9,9,0,OUTLINE edge=free\n1,1,1,CONTROL lon=1 lat=2 sigma=1\n"))
	g.Add([]byte("x,y,z,code\n0,0,1,OUTLINE member_direction=20 load_limit=1 kPa\n9,0,1,OUTLINE\n9,9,0,OUTLINE\n1,1,1,SILL kind=curb-top\n2,2,1,SCUPPER leader=3x4 in pipe_slope=1%\n"))
	g.Property = func(t *testing.T, data []byte) {
		t.Helper()
		for _, set := range []draft.Setting{{Unit: quantity.Feet}, {Unit: quantity.Metres, Geographic: true}} {
			var problems roof.Refusal
			file := points.Open("a.csv", data, points.Options{HI: "10 m"}, &problems)
			if file == nil {
				if problems.Err() == nil {
					t.Fatal("nothing read and nothing said")
				}
				return
			}
			if file.Undecided() {
				if _, ok := file.Decide(func(p orb.Point) bool { return p[0] < p[1] }, set.Geographic, &problems); !ok {
					return
				}
			}
			drafttest.Finite(t, file.Read(set, &problems))
		}
	}
	return g
}

func FuzzRead(f *testing.F) { reading().Fuzz(f) }

func TestSoakRead(t *testing.T) { reading().Soak(t) }

func BenchmarkRead(b *testing.B) {
	for _, n := range []int{1000, 1000000} {
		var text strings.Builder
		text.WriteString("point,east,north,elev_m,code\n")
		for i := range n {
			fmt.Fprintf(&text, "%d,%.3f,%.3f,%.4f,\n", i+1, 5000+float64(i%1000)*0.731, 2000+float64(i/1000)*0.517, 100+float64(i%97)*0.013)
		}
		data := []byte(text.String())
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				var problems roof.Refusal
				d := points.Open("a.csv", data, points.Options{}, &problems).Read(draft.Setting{Unit: quantity.Metres}, &problems)
				if len(d.Spots) != n {
					b.Fatal(problems.Err())
				}
			}
		})
	}
}

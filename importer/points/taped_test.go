package points_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/draft/drafttest"
	"runnel/importer/points"
)

// lWalls is an L of 120 by 60 ft with 80 by 10 ft cut off its north-west corner: two walls face north, two west.
const lWalls = `OUTLINE walls="E 120', N 60', W 40', S 10', W 80', S 50'" name=Shed edge=wall`

func taped(rows ...string) string {
	return "point;place;elev;depth;code\n" + strings.Join(rows, "\n") + "\n"
}

// By hand, in feet from the south-west corner.
func TestPlacesAreFoundFromWalls(t *testing.T) {
	for _, tt := range []struct {
		place string
		want  orb.Point
	}{
		{"12' from wall 6, 30' from S wall", orb.Point{12, 30}},
		{"30' from the south wall and 12' from wall 6", orb.Point{12, 30}},
		{"12 from wall 6,30 from wall 1", orb.Point{12, 30}},
		{`12' 6" from E wall, 5' from wall 3`, orb.Point{107.5, 55}},
		{"8' from wall 4; 5' from wall 3", orb.Point{88, 55}},
		{"1.5 m from wall 1 and 3,05 m from E wall", orb.Point{120 - 3.05/foot, 1.5 / foot}},
		{"2' from RD-1 toward wall 6", orb.Point{38, 30}},
		{"2' from RD-1 toward P1", orb.Point{42, 30}},
		{"5' from P1 towards corner 1", orb.Point{50 - 5*50/math.Hypot(50, 30), 30 - 5*30/math.Hypot(50, 30)}},
		{`6' E of RD-1`, orb.Point{46, 30}},
		{"6' E of rd-1 and 2' north of RD-1", orb.Point{46, 32}},
		{"4' NE of RD-1", orb.Point{40 + 4/math.Sqrt2, 30 + 4/math.Sqrt2}},
		{"corner 4", orb.Point{80, 60}},
		{"RD-1", orb.Point{40, 30}},
		{"at the", orb.Point{}}, // nothing
		{"S wall", orb.Point{}}, // an edge may be a whole wall, a spot is a place
	} {
		text := taped(";"+tt.place+";100;;SPOT", ";;;;"+lWalls, ";40' from wall 6, 30' from S wall;;;DRAIN RD-1 d=4in",
			";50' from wall 6, 30' from S wall;;1in;SOUNDING 1", ";45' from wall 6, 30' from S wall;;;WATERLINE 1",
			";55' from wall 6, 30' from S wall;;;WATERLINE 1", ";50' from wall 6, 35' from S wall;;;WATERLINE 1")
		d, problems := read(text, points.Options{})
		if tt.want == (orb.Point{}) {
			if problems.Err() == nil {
				t.Errorf("%q accepted", tt.place)
			}
			continue
		}
		if err := problems.Err(); err != nil {
			t.Errorf("%q: %v", tt.place, err)
			continue
		}
		if got := d.Spots[0].Plan; !(math.Hypot(got[0]-tt.want[0], got[1]-tt.want[1]) <= 1e-9) {
			t.Errorf("%q: %v, want %v", tt.place, got, tt.want)
		}
	}
}

func TestColumnsOfWallsGivePlaces(t *testing.T) {
	d := mustRead(t, "W wall,S wall ft,depth_in,code\n,,,OUTLINE rect=36.576x18.288m\n12,30,,DRAIN RD-1\n20' 6\",9,0.75,POND 1 size=6x2ft\n", points.Options{})
	if got := d.Outlets[0].Plan; !(math.Abs(got[0]-12)+math.Abs(got[1]-30) <= 1e-9) {
		t.Errorf("drain at %v", got)
	}
	w := d.Tape.Waters[0]
	if got := w.Soundings[0]; !(math.Abs(got.Plan[0]-20.5)+math.Abs(got.Plan[1]-9) <= 1e-9) || !(math.Abs(float64(got.Depth)-0.75*0.0254) <= 1e-12) {
		t.Errorf("sounding %+v", got)
	}
	if got := w.Edge[0].Plan; !(math.Abs(got[0]-23.5)+math.Abs(got[1]-9) <= 1e-9) || !w.Oval {
		t.Errorf("edge begins at %v", got)
	}
	if ring := d.Outlines[0].Rings[0]; !(math.Abs(ring[2].Plan[0]-120) <= 1e-9) || !(math.Abs(ring[2].Plan[1]-60) <= 1e-9) {
		t.Errorf("outline %v", ring)
	}
}

func TestRowsOfTapeLevelAndChalkAreKept(t *testing.T) {
	d := mustRead(t, taped(";;;;OUTLINE rect=120x60ft", "A;40' from W wall, 30' from S wall;99.5;;DRAIN RD-1 d=4in",
		";2' from RD-1 toward P2;99.6;;BEFORE RD-1", ";46' from W wall, 30' from S wall;99.4;;LOW 2", ";55' from W wall, 30' from S wall;99.7;;LIP P2 sigma=2mm",
		";44' from W wall, 30' from S wall;99.45;;WATERLINE 2 hours=50 outlets=clear note=\"soft here\"", ";50' from W wall, 30' from S wall;;;WATERLINE 2",
		";47' from W wall, 33' from S wall;;;WATERLINE 2", ";47' from W wall, 30' from S wall;;5/8in;SOUNDING 2",
		";10' from W wall, 10' from S wall;;;SLOPE level=4ft gap=1/2in toward=E", ";10' from W wall, 20' from S wall;;;CURB 1 rect=6x4ft h=8in label=RTU-1",
		";N wall;;;GUTTER 1"), points.Options{})
	w := d.Tape.Waters[0]
	if w.Number != "2" || w.ID != "P2" || len(w.Edge) != 3 || !w.Edge[0].HasZ || w.Edge[1].HasZ || w.HoursSinceRain != 50 || w.Outlets != roof.OutletsClear || w.Note != "soft here" {
		t.Errorf("water %+v", w)
	}
	if got := float64(w.Soundings[0].Depth); !(math.Abs(got-0.015875) <= 1e-12) {
		t.Errorf("depth %g", got)
	}
	p := d.Tape.Probes
	if len(p) != 3 || p[0].Kind != roof.BeforeProbe || p[0].Of != "RD-1" || p[1].Kind != roof.LowProbe || p[1].Of != "2" || p[2].Kind != roof.LipProbe || p[2].Of != "2" || p[2].Sigma != 2*quantity.Millimetre {
		t.Errorf("probes %+v", p)
	}
	if got := p[0].Plan; !(math.Abs(got[0]-42)+math.Abs(got[1]-30) <= 1e-9) { // P2 is where LOW 2 is
		t.Errorf("before RD-1: %v", got)
	}
	if g := d.Tape.Gaps[0]; g.Level != 4*quantity.Foot || g.Gap != quantity.Inch/2 || g.Toward != [2]float64{1, 0} {
		t.Errorf("gap %+v", g)
	}
	if c := d.Curbs[0]; c.Label != "RTU-1" || len(c.Ring) != 5 || !(math.Abs(c.Ring[2].Plan[0]-16) <= 1e-9) || !(math.Abs(c.Ring[2].Plan[1]-24) <= 1e-9) {
		t.Errorf("curb %+v", c)
	}
	if e := d.Edges[0]; e.Type != roof.Gutter || len(e.Line) != 2 || e.Line[0].Plan != (orb.Point{120, 60}) || e.Line[1].Plan != (orb.Point{0, 60}) {
		t.Errorf("edge %+v", e)
	}
	if len(d.Spots) != 0 || len(d.Outlets) != 1 || !d.Outlets[0].HasInvert {
		t.Errorf("%d spots, outlets %+v", len(d.Spots), d.Outlets)
	}
}

// The lowest place is read at the pond that was sounded: "P1" stands for the place of its sounding, in whatever order the rows come.
func TestLowestPlaceReadAtItsPond(t *testing.T) {
	const outline, pond, drain = ";;;;OUTLINE rect=120x60ft", ";50' from W wall, 30' from S wall;;0.75in;POND 1 size=12x6ft", ";40' from W wall, 30' from S wall;;;DRAIN RD-1"
	for _, rows := range [][]string{{pond, ";P1;99.4;;LOW 1"}, {";at p1;99.4;;LOW P1", pond}} {
		d := mustRead(t, taped(append(append([]string{outline}, rows...), drain, ";2' from RD-1 toward P1;99.6;;BEFORE RD-1")...), points.Options{})
		if p := d.Tape.Probes; len(p) != 2 || !(math.Abs(p[0].Plan[0]-50)+math.Abs(p[0].Plan[1]-30) <= 1e-9) || !(math.Abs(p[1].Plan[0]-42)+math.Abs(p[1].Plan[1]-30) <= 1e-9) {
			t.Errorf("%q: probes %+v", rows, p)
		}
	}
}

func TestTapedFilesAreRefusedWithAMend(t *testing.T) {
	const rect = ";;;;OUTLINE rect=120x60ft"
	for _, tt := range []struct{ text, says string }{
		{taped(";;;;"+lWalls, ";8' from W wall, 2' from S wall;;;DRAIN RD-1"), `2 walls face west; say which: wall 4 (west, 10' 0"), wall 6 (west, 50' 0")`},
		{taped(";;;;"+lWalls, ";8' from SW wall, 2' from S wall;;;DRAIN RD-1"), "no wall faces south-west"},
		{taped(rect, ";8' from W wall, 2' from E wall;;;DRAIN RD-1"), "too nearly alike"},
		{taped(rect, ";8' from W wall;;;DRAIN RD-1"), "one distance, and a place needs two"},
		{taped(rect, ";8' from W wall, 80' from S wall;;;DRAIN RD-1"), "off the roof"},
		{taped(rect, ";2' from RD-7 toward E;;;DRAIN RD-1"), `nothing on the roof is called "RD-7"`},
		{taped(rect, ";2' from RD-1;1;;SPOT", ";8' from W wall, 8' from S wall;;;DRAIN RD-1"), "a direction is missing"},
		{taped(rect, ";2' X of RD-1;1;;SPOT", ";8' from W wall, 8' from S wall;;;DRAIN RD-1"), `"X" is no direction`},
		{taped(";8' from W wall, 8' from S wall;;;DRAIN RD-1"), "nothing says where the walls are"},
		{taped(";;;;OUTLINE rect=120ft"), "is not two lengths"},
		{taped(`;;;;OUTLINE walls="E 120', N 60'"`), "fewer than three walls"},
		{taped(`;;;;OUTLINE walls="E 120', Q 60', W 120', S 60'"`), "is no direction"},
		{taped(`;;;;OUTLINE walls="E 120', N 60', W 110', S 60'"`), `the last one ends 10' 0" too far east`},
		{taped(`;;;;OUTLINE walls="E 20', N 20', E 20', S 20', W 40'"`, ";1' from W wall, 1' from S wall;;;DRAIN RD-1"), "crosses or touches itself"},
		{taped(rect, ";8' from W wall, 8' from S wall;;2in;SOUNDING 1"), "a depth and no edge"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;WATERLINE 1"), "too few for an edge"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;SOUNDING 1"), "the depth of the water is missing"},
		{taped(rect, ";8' from W wall, 8' from S wall;;40in;POND 1"), "the pond has no size"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;SLOPE"), "SLOPE has no level"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;WATERLINE 1", ";9' from W wall, 9' from S wall;;;WATERLINE 1", ";12' from W wall, 12' from S wall;;;WATERLINE 1"), "lie on one line"},
		{taped(rect, ";8' from W wall, 8' from S wall;;20ft;POND 1 size=6x4ft"), "no roof holds water of that depth"},
		{taped(rect, ";8' from W wall, 8' from S wall;;0.75;POND 1 size=6x4ft"), "has no unit"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;POND 1 size=6x4ft depth=0.75"), "has no unit"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;SLOPE level=4 gap=1in toward=E"), "level=4 has no unit"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;LOW 1"), "LOW has no elevation"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;SLOPE level=4ft gap=6ft toward=E"), "does not go with the length"},
		{taped(rect, ";8' from W wall, 8' from S wall;;;SLOPE level=4ft gap=1in"), "has no toward"},
		{"place code\n", "a place has blanks of its own"},
		{"place,x,y,z,code\n", "columns for coordinates and columns for distances"},
		{"place,elev\n", "no column for the code"},
	} {
		_, problems := read(tt.text, points.Options{})
		err := problems.Err()
		if err == nil || !strings.Contains(err.Error(), tt.says) || strings.Count(err.Error(), "; ") == 0 {
			t.Errorf("%q:\n%v\ndoes not say %q with a mend", tt.text, err, tt.says)
		}
	}
}

// The walls that a slip is planted in are named, with the length that closes them.
func TestASlipIsNamedWithItsWall(t *testing.T) {
	for _, tt := range []struct{ walls, says string }{
		{"E 121', N 60', W 40', S 10', W 80', S 50'", `wall 1 (east 121' 0"), if it is 120' 0"`},
		{"E 48', N 30', W 84', S 30'", `wall 1 (east 48' 0"), if its digits changed places and it is 84' 0"`},
		{"E 120', N 60', W 40', W 40', S 10', W 80', S 50'", `wall 4 (west 40' 0"), if it is the one before it said twice`},
		{"E 120', N 60', W 40', W 80', S 50'", `a wall of 10' 0" south left out before wall 4`},
	} {
		_, problems := read(taped(`;;;;OUTLINE walls="`+tt.walls+`"`), points.Options{})
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v does not say %s", tt.walls, err, tt.says)
		}
	}
}

// A tape closes to 2 in here: shared out and said, by hand 2 in of 320 ft is allowed (3.84 + 1 in).
func TestTapeErrorIsSharedOutAndSaid(t *testing.T) {
	d := mustRead(t, taped(`;;;;OUTLINE walls="E 100', N 60', W 100' 2", S 60'"`), points.Options{})
	if len(d.Warnings) != 2 || !strings.Contains(d.Warnings[1], `miss closing by 2"`) || !strings.Contains(d.Warnings[1], `up to 4-7/8"`) {
		t.Errorf("%q", d.Warnings)
	}
	if got := d.Outlines[0].Rings[0][1].Plan; !(math.Abs(got[0]-(100+1.0/12)) <= 1e-3) {
		t.Errorf("corner 2 at %v", got)
	}
}

func TestTheUnitFollowsFromWhatIsWritten(t *testing.T) {
	for _, tt := range []struct {
		text string
		want quantity.Unit
	}{
		{taped(";;;;OUTLINE rect=120x60ft"), quantity.Feet},
		{taped(";;;;OUTLINE rect=36x18m", ";2 from W wall, 1 from S wall;;;DRAIN RD-1 d=4in"), quantity.Metres},
		{taped(";;;;OUTLINE rect=120x60", ";2' from W wall, 1 from S wall;;;DRAIN RD-1"), quantity.Feet},
		{taped(";;;;OUTLINE rect=120x60", ";2' from W wall, 1 m from S wall;;;DRAIN RD-1"), quantity.Unstated},
		{taped(";;;;OUTLINE rect=120x60"), quantity.Unstated},
		{"place,elev_m,code\n,,OUTLINE rect=120x60ft\n", quantity.Metres}, // a heading states it
	} {
		var problems roof.Refusal
		f := points.Open("a.csv", []byte(tt.text), points.Options{}, &problems)
		if f == nil || f.Units != tt.want || f.Frame != "local" {
			t.Errorf("%q: %+v %v", tt.text, f, problems.Err())
		}
	}
}

// Rods without the elevation of the line of sight compare with each other: 100 ft less 4' 3".
func TestRodsNeedNoLineOfSight(t *testing.T) {
	text := "place;rod;code\n;;OUTLINE rect=120x60ft\n8' from W wall, 8' from S wall;4' 3\";SPOT\n"
	d := mustRead(t, text, points.Options{})
	if got := d.Spots[0].Z; !(math.Abs(got-95.75*foot) <= 1e-9) || len(d.Warnings) != 2 || !strings.Contains(d.Warnings[1], "100 ft") {
		t.Errorf("%g, %q", got, d.Warnings)
	}
	d = mustRead(t, text, points.Options{HI: "20 ft"})
	if got := d.Spots[0].Z; !(math.Abs(got-15.75*foot) <= 1e-9) || len(d.Warnings) != 1 || !strings.Contains(d.Warnings[0], "taken to be in ft") {
		t.Errorf("%g, %q", got, d.Warnings)
	}
}

func TestCommasWithinAPlaceNeedNoQuotes(t *testing.T) {
	d := mustRead(t, "place,elev,code\n,,OUTLINE walls=\"E 12 ft, N 9 ft, W 12 ft, S 9 ft\" edge=wall\n2' from W wall, 3' from S wall,5,SPOT\n", points.Options{})
	if got := d.Spots[0].Plan; got != (orb.Point{2, 3}) {
		t.Errorf("%v", got)
	}
}

func TestASpreadsheetsQuotesAreRead(t *testing.T) {
	d := mustRead(t, "place,elev,code\n,,\"OUTLINE walls=\"\"E 12' 6\"\", N 9', W 12' 6\"\", S 9'\"\"\"\n\"2' 6\"\" from W wall, 3' from S wall\",5,SPOT\n", points.Options{})
	if got := d.Spots[0].Plan; got != (orb.Point{2.5, 3}) {
		t.Errorf("%v", got)
	}
	if got := d.Outlines[0].Rings[0][1].Plan; !(math.Abs(got[0]-12.5) <= 1e-9) {
		t.Errorf("corner 2 at %v", got)
	}
}

func TestOutletsWithoutALabelGetOne(t *testing.T) {
	d := mustRead(t, taped(";;;;OUTLINE rect=120x60ft", ";8' from W wall, 8' from S wall;;;DRAIN D1", ";18' from W wall, 8' from S wall;;;DRAIN d=4in", ";28' from W wall, 8' from S wall;;;DRAIN d=4in",
		";E wall and 2' from S wall;;;IGNORE", ";120' from W wall, 8' from S wall;;;OVERFLOW w=8in", ";1' from D3 toward W;100;;BEFORE D3"), points.Options{})
	var labels []string
	for _, o := range d.Outlets {
		labels = append(labels, o.Label)
	}
	if got := strings.Join(labels, " "); got != "D1 D2 D3 O1" || !(math.Abs(d.Tape.Probes[0].Plan[0]-27) <= 1e-9) {
		t.Errorf("%s, %v", got, d.Tape.Probes[0].Plan)
	}
}

// An office's own codes POND and SLOPE stay spots where places are coordinates.
func TestCodesOfAnOfficeStaySpots(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n1,2,3,POND\n2,3,4,SLOPE 2\n", points.Options{})
	if len(d.Spots) != 2 || d.Tape != nil || len(d.Warnings) != 1 || !strings.Contains(d.Warnings[0], "POND 1, SLOPE 1") {
		t.Errorf("%d spots, %q", len(d.Spots), d.Warnings)
	}
}

func FuzzTaped(f *testing.F) {
	f.Add([]byte(taped(";;;;"+lWalls, "A;40' from wall 6, 30' from S wall;99.5;;DRAIN RD-1 d=4in", ";2' from RD-1 toward P1;99.6;;BEFORE RD-1",
		";50' from wall 6, 30' from S wall;;0.75in;POND 1 size=12x6ft hours=50", ";10' from wall 1, 10' from E wall;;;SLOPE level=4ft gap=1/2in toward=E")))
	f.Add([]byte("W wall,S wall,rod,code\n,,,OUTLINE rect=12x6m\n1,1,1.2,WATERLINE 1 level=3\n2,1,,WATERLINE 1\n2,2,,WATERLINE 1\n1.5,1.5,,SOUNDING 1 depth=20mm\n1,2,1,LIP 1\n"))
	f.Add([]byte("place,code\n,\"OUTLINE walls=\"\"E 12' 6\"\", N 9', W 12' 6\"\", S 9'\"\"\"\n3' E of RD-1 and 1' N of RD-1,CURB 2 rect=2x1ft\ncorner 2,DRAIN RD-1\nS wall,GUTTER 1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var problems roof.Refusal
		file := points.Open("a.csv", data, points.Options{}, &problems)
		if file == nil {
			if problems.Err() == nil {
				t.Fatal("nothing read and nothing said")
			}
			return
		}
		if !file.Taped() {
			return
		}
		if len(data)%2 == 0 {
			file.Along(draft.Known{Ring: orb.Ring{{0, 0}, {30, 0}, {30, 20}, {0, 20}, {0, 0}}, Clockwise: len(data)%4 == 0, Names: []draft.Name{{Text: "RD-1", At: orb.Point{9, 9}}}})
		}
		drafttest.Finite(t, file.Read(draft.Setting{Unit: quantity.Feet}, &problems))
	})
}

// A decimal comma stands before a unit as well, in cells and in codes, where commas do not stand between fields: 1,5 cm are 15 mm, a drain of 10,5 cm is 105 mm wide, 3,2 m from a wall are 3.2 m.
func TestDecimalCommasWithUnits(t *testing.T) {
	text := "place;depth;code\r\n;;OUTLINE rect=12,5x9m edge=wall\r\n3,2 m from W wall, 4,1 m from S wall;;DRAIN RD-1 d=10,5cm\r\n5 m from W wall, 4 m from S wall;1,5 cm;POND 1 size=2,5x1m\r\n"
	d := mustRead(t, text, points.Options{})
	if len(d.Outlets) != 1 || len(d.Tape.Waters) != 1 || len(d.Tape.Waters[0].Soundings) != 1 {
		t.Fatalf("%+v", d)
	}
	if got := float64(d.Outlets[0].Diameter); !(math.Abs(got-0.105) <= 1e-9) {
		t.Errorf("diameter %v, want 0.105", got)
	}
	if got := float64(d.Tape.Waters[0].Soundings[0].Depth); !(math.Abs(got-0.015) <= 1e-9) {
		t.Errorf("depth %v, want 0.015", got)
	}
	if p := d.Outlets[0].Plan; !(math.Abs(p[0]*foot-3.2) <= 1e-9) || !(math.Abs(p[1]*foot-4.1) <= 1e-9) {
		t.Errorf("%v ft, want 3.2 m and 4.1 m", p)
	}
}

// An oval of 12 by 6 ft about its middle touches the box of that size, and its 24 marks lie on x^2/36 + y^2/9 = 1, so that they enclose 12 sin 15° times 6 times 3, in square feet.
func TestAnOvalHasItsSize(t *testing.T) {
	d := mustRead(t, taped(";;;;OUTLINE rect=120x60ft", ";50' from W wall, 30' from S wall;;0.75in;POND 1 size=12x6ft level=99.5ft hours=0"), points.Options{})
	w := d.Tape.Waters[0]
	ring, low, high := orb.Ring{}, orb.Point{1e9, 1e9}, orb.Point{}
	for _, p := range w.Edge {
		x, y := p.Plan[0]-50, p.Plan[1]-30
		if !(math.Abs(x*x/36+y*y/9-1) <= 1e-9) {
			t.Errorf("%g, %g lies off the oval", x, y)
		}
		low, high = orb.Point{math.Min(low[0], x), math.Min(low[1], y)}, orb.Point{math.Max(high[0], x), math.Max(high[1], y)}
		ring = append(ring, p.Plan)
	}
	ring = append(ring, ring[0])
	for i, want := range []float64{-6, -3, 6, 3} {
		if got := []float64{low[0], low[1], high[0], high[1]}[i]; !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("side %d at %g ft, want %g", i, got, want)
		}
	}
	if got := planar.Area(ring); len(w.Edge) != 24 || !(math.Abs(got-12*math.Sin(math.Pi/12)*6*3) <= 1e-9) {
		t.Errorf("%d marks enclose %g square feet", len(w.Edge), got)
	}
	if !w.Oval || !w.HasLevel || !(math.Abs(w.Level-99.5*foot) <= 1e-9) || w.HoursSinceRain != 0 || len(w.Soundings) != 1 || w.Soundings[0].Plan != (orb.Point{50, 30}) {
		t.Errorf("%+v", w)
	}
}

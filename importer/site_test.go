package importer_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer"
)

// Everything of a file of many outlines goes to the roof that it lies on, or within half a metre of: 1.6 ft, what a scupper in a wall is off. What lies on none is said by its kind.
func TestThingsOfManyRoofsAreSharedOut(t *testing.T) {
	file := collection(`"units":"ft","frame":"local"`, square("A", 0, 0), square("B", 50, 0),
		feature(`"role":"sill","label":"on A","kind":"door-sill"`, "Point", `[5,5,101]`), feature(`"role":"sill","label":"off"`, "Point", `[300,5,101]`),
		feature(`"role":"stain"`, "Polygon", `[[[60,5],[64,5],[64,9],[60,9],[60,5]]]`), feature(`"role":"stain"`, "Polygon", `[[[20,5],[24,5],[24,9],[20,9],[20,5]]]`), feature(`"role":"stain"`, "Polygon", `[[[300,5],[304,5],[304,9],[300,5]]]`),
		feature(`"role":"core","layers":[]`, "Point", `[70,20]`),
		feature(`"role":"outlet","type":"scupper","label":"in the wall of A"`, "Point", `[41.5,20]`),
		feature(`"role":"outlet","type":"scupper","label":"too far"`, "Point", `[42,20]`),
		feature(`"role":"outlet","type":"scupper","label":"nearer to B"`, "Point", `[48.5,20]`),
		feature(`"role":"edge","type":"wall"`, "LineString", `[[50,0],[50,20],[50,40]]`),
		feature(`"role":"answer","question":"deck_sound","answer":"yes","by":"E","on":"2026-05-02"`, "Point", `[60,10]`))
	rows := "point,x,y,z,depth_in,code\n1,55,5,100,,\n2,60,30,100,,\n3,70,10,100,,\n4,5,5,100,,\n5,30,30,100,,\n6,30,5,100,,\n" +
		"7,60,10,,,WATERLINE 1\n8,64,10,,,WATERLINE 1\n9,62,14,,,WATERLINE 1\n10,62,11,,1.5,SOUNDING 1\n11,10,10,99,,LOW 2\n12,20,20,,,SLOPE level=4ft gap=1in toward=E\n13,500,500,99,,LIP 3\n14,,,,,ANSWER question=load_limit answer=20psf by=E on=2026-05-02\n"
	jobs, warnings, err := listed(write(t, "site.geojson", file, "site.csv", rows), importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(warnings, "\n")
	for _, want := range []string{"left out: 1 of role sill.", "left out: 1 of role outlet.", "left out: 1 of role height.", "left out: 1 of role answer.", "left out: 1 of role stain."} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said in %q", want, said)
		}
	}
	if strings.Count(said, "of role") != 5 {
		t.Error(said)
	}
	for range 2 { // reading a roof twice gives the same
		roofs, errs := readAll(jobs)
		var got []string
		for i, r := range roofs {
			if errs[i] != nil {
				t.Fatal(errs[i])
			}
			waters, probes, gaps := 0, 0, 0
			if r.Tape != nil {
				waters, probes, gaps = len(r.Tape.Waters), len(r.Tape.Probes), len(r.Tape.Gaps)
			}
			var outlets []string
			for _, o := range r.Outlets {
				outlets = append(outlets, o.Label)
			}
			got = append(got, fmt.Sprintf("%s: stains %d sills %d cores %d edges %d answers %d waters %d heights %d slopes %d outlets %s", r.Name, len(r.Stains), len(r.Sills), len(r.Cores), len(r.Edges), len(r.Answers), waters, probes, gaps, strings.Join(outlets, ", ")))
		}
		if want := "A: stains 1 sills 1 cores 0 edges 0 answers 0 waters 0 heights 1 slopes 1 outlets in the wall of A\nB: stains 1 sills 0 cores 1 edges 1 answers 1 waters 1 heights 0 slopes 0 outlets nearer to B"; strings.Join(got, "\n") != want {
			t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), want)
		}
		// By hand: the middle of B is (70, 20), the sounding at (62, 11), so 8 ft west and 9 ft south of it.
		if s := roofs[1].Tape.Waters[0].Soundings[0]; !(math.Abs(s.Plan[0]+8*0.3048)+math.Abs(s.Plan[1]+9*0.3048) <= 1e-9) || !(math.Abs(float64(s.Depth)-0.0381) <= 1e-9) {
			t.Errorf("%+v", s)
		}
	}
}

// A spot within 20 mm of an outline is on it, one farther off on none; one within 20 mm of two on both.
func TestSpotsBesideOutlines(t *testing.T) {
	outlines := collection(`"units":"m","frame":"local"`,
		feature(`"role":"outline","name":"A"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`), feature(`"role":"outline","name":"B"`, "Polygon", `[[[10.03,0],[20,0],[20,10],[10.03,10],[10.03,0]]]`))
	for at, want := range map[string]string{"5,-0.019": "A", "5,-0.021": "none", "5,10.019": "A", "5,10.021": "none", "10.009,5": "A", "10.021,5": "B", "10.015,5": "two", "-0.015,-0.01": "A", "20.019,5": "B", "20.021,5": "none", "9.999,5": "A"} {
		rows := "point,x,y,z\na,1,1,9\nb,2,5,9\nc,8,2,9\nd,12,1,9\ne,15,5,9\nf,18,2,9\nX," + at + ",9\n"
		jobs, warnings, err := listed(write(t, "site.geojson", outlines, "site.csv", rows), importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		roofs, errs := readAll(jobs)
		got := ""
		for i, r := range roofs {
			if errs[i] != nil {
				t.Fatal(errs[i])
			}
			for _, s := range r.Spots {
				if s.ID == "X" {
					got += r.Name
				}
			}
		}
		if said := strings.Join(warnings, " "); got == "" && strings.Contains(said, "Spots on no outline, left out: 1") {
			got = "none"
		} else if got == "" && strings.Contains(said, "Spots on more than one outline, left out: 1") {
			got = "two"
		}
		if got != want {
			t.Errorf("%s is on %q, want %q", at, got, want)
		}
	}
}

// Heights that were read on an inlet are its level where none is stated: their mean, as by hand (99.50 + 99.52) / 2.
func TestInletsThatWereRead(t *testing.T) {
	const outline = `"role":"outline","name":"A"`
	file := collection(`"units":"m","frame":"local"`, feature(outline, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`))
	rows := "point,x,y,z,code\n1,1,1,100,\n2,9,1,100,\n3,5,9,100,\n4,5,5,,DRAIN RD-1\n5,5,5,99.50,INLET rd-1\n6,5,5,99.52,INLET RD-1\n7,2,2,99.9,DRAIN RD-2\n8,2,2,99.8,INLET RD-2\n9,3,3,99.7,INLET RD-9\n"
	r, err := importer.Read(write(t, "a.geojson", file, "a.csv", rows), importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if o := r.Outlets; !(math.Abs(o[0].Invert-99.51) <= 1e-9) || !o[0].HasInvert || o[1].Invert != 99.9 {
		t.Errorf("%+v", o)
	}
	said := strings.Join(r.Warnings, "\n")
	for _, want := range []string{"because RD-2 has one already.", `because no outlet is called "RD-9".`} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said in %q", want, said)
		}
	}
	if strings.Count(said, "was left out") != 2 {
		t.Error(said)
	}
}

// An outline wider than any roof is refused with what to say: 5 km on a site grid, 2 km in degrees, where a degree of latitude is some 111 km.
func TestOutlinesWiderThanRoofs(t *testing.T) {
	for _, c := range []struct {
		head string
		size float64
		want string
	}{
		{`"units":"m","frame":"local"`, 4999, ""},
		{`"units":"m","frame":"local"`, 5001, "the outline is 5.001 km wide; state the unit of the file: it was read in m"},
		{`"units":"ft","frame":"local"`, 16000, ""},
		{`"units":"ft","frame":"local"`, 17000, "the outline is 5.182 km wide"},
		{`"units":"m"`, 0.017, ""},
		{`"units":"m"`, 0.019, "km wide as longitude and latitude; if these are site coordinates and no degrees, say --frame local"},
	} {
		file := collection(c.head, feature(`"role":"outline","name":"A"`, "Polygon", fmt.Sprintf("[[[0,0],[%[1]g,0],[%[1]g,%[1]g],[0,%[1]g],[0,0]]]", c.size)))
		rows := fmt.Sprintf("x,y,z\n%[1]g,%[2]g,9\n%[3]g,%[1]g,9\n%[3]g,%[3]g,9\n", c.size/4, c.size/3, c.size/2)
		_, err := importer.Read(write(t, "a.geojson", file, "a.csv", rows), importer.Options{})
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s, %g wide: %v, want %q", c.head, c.size, err, c.want)
		}
	}
}

// Ids that occur twice are made different and stay readable; ids that nobody gave are numbered by kind. An outlet is kept by its label, else by its id.
func TestIDsOfTheirOwn(t *testing.T) {
	file := collection(`"units":"m","frame":"local"`, feature(`"role":"outline","name":"A"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`))
	rows := "point,x,y,z,code\n7,1,1,100,\n7,9,1,100,\n7.2,5,9,100,\n7,2,2,100,\n9,3,3,100,\n8,4,4,100,\n50,5,5,100.4,DRAIN\n51,6,5,100.4,DRAIN 3\n"
	r, err := importer.Read(write(t, "a.geojson", file, "a.csv", rows), importer.Options{Keep: []string{"9", "50", "3"}, Drop: []string{"8"}})
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, s := range r.Spots {
		ids = append(ids, s.ID)
	}
	if got := strings.Join(ids, " "); got != "7 7.3 7.2 7.4 9" || strings.Join(r.Kept, " ") != "9 50 3" || strings.Join(r.Dropped, " ") != "8" {
		t.Errorf("%s; kept %q, dropped %q", got, r.Kept, r.Dropped)
	}
	for _, o := range []importer.Options{{Keep: []string{"99"}}, {Drop: []string{"99"}}} {
		if _, err := importer.Read(write(t, "a.geojson", file, "a.csv", rows), o); err == nil || !strings.Contains(err.Error(), "99: there is no spot with this id") {
			t.Errorf("%+v: %v", o, err)
		}
	}
}

// The engineer's answer about the load takes the place of what the outline states, and is compared with.
func TestAnswersAboutTheWholeRoof(t *testing.T) {
	head := `"role":"outline","name":"A","load_limit":"1 kPa","load_limit_by":"old"`
	file := collection(`"units":"m","frame":"local"`, feature(head, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`))
	rows := "x,y,z,code\n1,1,100,\n9,1,100,\n5,9,100,\n,,,ANSWER question=load_limit answer=2kPa by=new on=2026-05-02\n,,,ANSWER question=gravity_load answer=3kPa by=new on=2026-05-02\n,,,ANSWER question=overflow_height answer=75mm by=new on=2026-05-02\n"
	r, err := importer.Read(write(t, "a.geojson", file, "a.csv", rows), importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s := r.Structure; s.LoadLimit != 2000 || s.LoadLimitBy != "new" || s.GravityLoad != 3000 || !(math.Abs(r.Criteria["overflow_height"]-0.075) <= 1e-9) || !strings.Contains(strings.Join(r.Warnings, " "), "is taken instead of the outline's") {
		t.Errorf("%+v %v %q", s, r.Criteria, r.Warnings)
	}
	same := strings.Replace(strings.Replace(file, "1 kPa", "2 kPa", 1), `"old"`, `"new"`, 1)
	if r, err = importer.Read(write(t, "a.geojson", same, "a.csv", rows), importer.Options{}); err != nil || strings.Contains(strings.Join(r.Warnings, " "), "instead of") {
		t.Errorf("%v %q", err, r.Warnings)
	}
}

// Two control points turn the site grid by 30 degrees: by hand, a place 30 m along the grid's x from the first lies 30 cos 30 = 25.98 m east and 15 m north of it.
func TestTurnedSiteGrid(t *testing.T) {
	const lon, lat = 11.0, 48.0
	far := roof.NewGeographic(orb.Point{lon, lat}).ToFile(orb.Point{100 * math.Cos(math.Pi/6), 50})
	file := collection(`"units":"m","frame":"local"`, feature(`"role":"control","lon":11,"lat":48`, "Point", `[1000,2000]`), feature(fmt.Sprintf(`"role":"control","lon":%.9f,"lat":%.9f`, far[0], far[1]), "Point", `[1100,2000]`))
	ring := ""
	for i, p := range []orb.Point{{-50, -50}, {50, -50}, {50, 50}, {-50, 50}, {-50, -50}} {
		q := roof.NewGeographic(orb.Point{lon, lat}).ToFile(p)
		ring += []string{"", ",", ",", ",", ","}[i] + fmt.Sprintf("[%.9f,%.9f]", q[0], q[1])
	}
	outline := collection(`"frame":"wgs84"`, feature(`"role":"outline","name":"A"`, "Polygon", "[["+ring+"]]"))
	rows := "point,east,north,z\na,1000,2000,9\nb,1030,2000,9\nc,1000,2030,9\n"
	r, err := importer.Read(write(t, "a.geojson", outline, "site.geojson", file, "a.csv", rows), importer.Options{Units: map[string]quantity.Unit{"": quantity.Metres}})
	if err != nil {
		t.Fatal(err)
	}
	a := r.Spots[0].Plan
	for i, want := range []orb.Point{{0, 0}, {30 * math.Cos(math.Pi/6), 15}, {-15, 30 * math.Cos(math.Pi/6)}} {
		if p := r.Spots[i].Plan; !(math.Hypot(p[0]-a[0]-want[0], p[1]-a[1]-want[1]) <= 1e-3) {
			t.Errorf("spot %s lies %v, %v from the first, want %v", r.Spots[i].ID, p[0]-a[0], p[1]-a[1], want)
		}
	}
	if said := strings.Join(r.Warnings, "\n"); !strings.Contains(said, "two control points alone are unchecked") {
		t.Error(said)
	}
}

package points_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"runnel/importer/points"
)

// Columns say the same in whatever order they stand: each of them first once.
func TestColumnsInAnyOrder(t *testing.T) {
	for name, rows := range map[string][]string{
		"on a grid": {
			"point;x;y;z;sigma;code", "1;1;2;100;0.02;", "2;10;5;99.5;;DRAIN D1 d=4in", "4;8;8;101;0.03;SPOT",
		},
		"by tape": {
			"point;place;elev;depth;code", ";;;;" + lWalls, "7;12' from wall 6, 30' from S wall;100;;SPOT", ";40' from wall 6, 30' from S wall;;;DRAIN RD-1 d=4in",
			";50' from wall 6, 20' from S wall;;2in;POND 2 size=4x3ft", ";30' from wall 6, 20' from S wall;;3in;POND 3 size=4x3ft",
		},
		"by distances from two walls": {
			"W wall;S wall;elev;depth;code", ";;;;OUTLINE rect=40x30ft", "10;5;100;;SPOT", "20;15;;;DRAIN RD-1 d=4in", "30;20;;1in;POND 1 size=4x3ft",
		},
	} {
		n := strings.Count(rows[0], ";") + 1
		want := mustRead(t, strings.Join(rows, "\n")+"\n", points.Options{})
		for shift := 1; shift < n; shift++ {
			text := ""
			for _, row := range rows {
				f := strings.Split(row, ";")
				text += strings.Join(append(f[shift:], f[:shift]...), ";") + "\n"
			}
			got, problems := read(text, points.Options{})
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s, from column %d: %v\n%+v\nwant\n%+v", name, shift, problems.Err(), got, want)
			}
		}
	}
}

// Beside P1 of a pond is measured from its deepest sounding: 0.5 ft, not 3 in, though the column of inches has the greater number.
func TestDeepestSoundingIsMeasuredFrom(t *testing.T) {
	d := mustRead(t, strings.Join([]string{
		"point;place;elev;depth (in);code", ";;;;" + lWalls,
		";45' from wall 6, 30' from S wall;;;WATERLINE 1", ";55' from wall 6, 30' from S wall;;;WATERLINE 1", ";50' from wall 6, 35' from S wall;;;WATERLINE 1",
		";50' from wall 6, 31' from S wall;;3;SOUNDING 1", ";52' from wall 6, 32' from S wall;;;SOUNDING 1 depth=0.5ft",
		";1' E of P1;100;;SPOT",
	}, "\n")+"\n", points.Options{})
	if got := d.Spots[0].Plan; !(math.Hypot(got[0]-53, got[1]-32) <= 1e-9) {
		t.Errorf("measured to %v", got)
	}
}

// Three marks of chalk at one place, or on one line, enclose no water; a rectangle without a side bounds no roof.
func TestNothingEnclosed(t *testing.T) {
	mark := ";45' from wall 6, 30' from S wall;;;WATERLINE 1"
	for want, rows := range map[string][]string{
		"the marks of WATERLINE 1 lie on one line": {";;;;" + lWalls, mark, mark, mark, ";45' from wall 6, 30' from S wall;;1in;SOUNDING 1"},
		"rect has a side of no length":             {";;;;OUTLINE rect=0x30ft"},
		"size has a side of no length":             {";;;;" + lWalls, ";40' from wall 6, 30' from S wall;;1in;POND 1 size=4x0ft"},
	} {
		if _, problems := read(taped(rows...), points.Options{}); problems.Err() == nil || !strings.Contains(problems.Err().Error(), want) {
			t.Errorf("%v, want %s", problems.Err(), want)
		}
	}
}

// The pole and the date line have a longitude and a latitude: 180 and 90 degrees, not more.
func TestControlAtTheEndsOfTheEarth(t *testing.T) {
	d := mustRead(t, "x,y,z,code\n1,2,,CONTROL lon=180 lat=-90\n1,3,,CONTROL lon=-180 lat=90\n", points.Options{})
	if len(d.Controls) != 2 || d.Controls[0].Lon != 180 || d.Controls[0].Lat != -90 {
		t.Errorf("%+v", d.Controls)
	}
	for _, far := range []string{"lon=180.1 lat=9", "lon=18 lat=90.1"} {
		if _, problems := read("x,y,z,code\n1,2,,CONTROL "+far+"\n", points.Options{}); problems.Err() == nil {
			t.Error(far, "is taken")
		}
	}
}

package setout_test

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/setout"
)

// Places to shoot next, northing before easting in the frame and unit of the outline, with the height of the roof there: at (17, 2) the sample stands 100.16 - 3 x 0.02 + 4 x 0.005 = 100.12 m
// high, at (3, 9) 100 + 3 x 0.02 + 3 x 0.005 = 100.075 m. In feet divided by 0.3048; a place off the roof has no height.
func TestNextSpotsForTheInstrument(t *testing.T) {
	why := finding.Say("=Why.")
	for name, c := range map[string]struct {
		r    *roof.Roof
		want [][]string
	}{
		"metres": {sample.Local(), [][]string{
			{"point", "northing", "easting", "elevation_now", "for", "why"},
			{"M01", "2002.0000", "1017.0000", "100.120", "pond P01", "'=Why."},
			{"M02", "2009.0000", "1003.0000", "100.075", "the roof", "'=Why."},
			{"M03", "1999.0000", "999.0000", "", "the roof", "'=Why."},
		}},
		"feet": {sample.Feet(), [][]string{
			{"point", "northing", "easting", "elevation_now", "for", "why"},
			{"M01", "6006.5617", "5055.7743", "328.478", "pond P01", "'=Why."},
			{"M02", "6029.5276", "5009.8425", "328.330", "the roof", "'=Why."},
			{"M03", "5996.7192", "4996.7192", "", "the roof", "'=Why."},
		}},
	} {
		b := record.NewBook(sample.Study(c.r), "", record.SI)
		b.NextSpots = []record.NextSpot{{Plan: orb.Point{17, 2}, For: "pond P01", Why: why}, {Plan: orb.Point{3, 9}, For: "the roof", Why: why}, {Plan: orb.Point{-1, -1}, For: "the roof", Why: why}}
		var out bytes.Buffer
		if err := setout.WriteNextSpots(b, &out); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil || !reflect.DeepEqual(rows, c.want) {
			t.Errorf("%s: %v %q", name, err, rows)
		}
	}
	b := record.NewBook(sample.Study(sample.Geographic()), "", record.SI)
	b.NextSpots = []record.NextSpot{{Plan: orb.Point{0, 0}}}
	var out bytes.Buffer
	if err := setout.WriteNextSpots(b, &out); err != nil || !strings.Contains(out.String(), "point,lat,lon,elevation_now,for,why\nM01,41.25000000,-12.50000000,") {
		t.Errorf("%v %s", err, out.String())
	}
	// Where no file states a unit, heights are metres.
	r := sample.Geographic()
	r.Units = quantity.Unstated
	b = record.NewBook(sample.Study(r), "", record.SI)
	b.NextSpots = []record.NextSpot{{Plan: r.Spots[0].Plan}}
	out.Reset()
	if err := setout.WriteNextSpots(b, &out); err != nil || !strings.Contains(out.String(), ","+strconv.FormatFloat(r.Spots[0].Z, 'f', 3, 64)+",") {
		t.Errorf("%v %s", err, out.String())
	}
}

// The sheet says which roof it is of, and when it was surveyed; a building that is called as its roof is not said twice.
func TestHeadOfTheSheet(t *testing.T) {
	r := sample.Local()
	got := text(t, pdf(t, sheet(t, r, record.SI, "")))
	if !strings.Contains(got, "Sample house; surveyed 2026-05-02; ") || !strings.Contains(got, " points") {
		t.Error(got[:300])
	}
	r = sample.Local()
	r.Building, r.Surveyed = r.Name, ""
	got = text(t, pdf(t, sheet(t, r, record.SI, "")))
	if strings.Contains(got, "Sample roof 1; ") || strings.Contains(got, "surveyed ") && strings.Contains(got, "; surveyed") {
		t.Error(got[:300])
	}
	r = sample.Local()
	r.Building = ""
	if got = text(t, pdf(t, sheet(t, r, record.SI, ""))); strings.Contains(got, " ; surveyed") || !strings.Contains(got, "surveyed 2026-05-02; ") {
		t.Error(got[:300])
	}
}

package geojson_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft/drafttest"
)

// By hand: 1 in is 0.0254 m, 1 ft 0.3048 m, 1 psf 47.880259 Pa; a member that bears 290 degrees bears 110 as well.
func TestReadsPipesSillsAndFraming(t *testing.T) {
	square := `[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`
	d, problems := read(t, strings.Join([]string{
		feature(`"role":"outline","wall_runoff":"half","member_direction":290,"member_span":20,"member_spacing":"5 ft","load_limit":"25 psf","load_limit_by":"A. Engineer","rain_primary":"4 in/h"`, "Polygon", square),
		feature(`"role":"edge","type":"wall","adjoining_height":"12 ft"`, "LineString", `[[0,0],[60,0]]`),
		feature(`"role":"outlet","type":"drain","dam_diameter":"10 in","leader":"4 in","pipe":"6 in","pipe_slope":"1/8 in per ft"`, "Point", `[30,20,99.5]`),
		feature(`"role":"outlet","type":"scupper","duty":"overflow","width":"8 in","width_assumed":false,"leader":"3x4 in","conductor_head":"1 ft","crest":"floor-flush","crest_breadth":"1 ft","discharges_to":"Low roof"`, "Point", `[60,20,99.7]`),
		feature(`"role":"outlet","type":"scupper","width":0.75,"width_assumed":true,"leader":0.5,"pipe_slope":0.01`, "Point", `[60,25,99.7]`),
		feature(`"role":"sill","kind":"door sill","label":"DS-1"`, "Point", `[1,1,101]`),
		feature(`"role":"sill","elevation":"100' 6\""`, "Point", `[2,1]`),
	}, ","))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	o := d.Outlines[0]
	s := o.Structure
	if o.WallRunoff != "half" || !s.HasDirection || s.MemberDirection != 110 || !near(s.MemberSpan, feet(20)) || !near(s.MemberSpacing, feet(5)) {
		t.Errorf("outline %q, %+v", o.WallRunoff, s)
	}
	if limit, ok := s.Limit(); !ok || !(math.Abs(limit-25*47.880259) <= 1e-4) || s.LoadLimitBy != "A. Engineer" {
		t.Errorf("limit %v, %v by %q", limit, ok, s.LoadLimitBy)
	}
	if e := d.Edges[0]; !near(e.AdjoiningHeight, feet(12)) {
		t.Errorf("edge %+v", e)
	}
	if p := d.Outlets[0]; !near(p.Leader.Diameter, 4*quantity.Inch) || !near(p.Pipe, 6*quantity.Inch) || !near(p.DamDiameter, 10*quantity.Inch) || !(math.Abs(float64(p.PipeSlope)-1.0/96) <= 1e-12) {
		t.Errorf("drain %+v", p)
	}
	p := d.Outlets[1]
	if !near(p.Leader.Width, 3*quantity.Inch) || !near(p.Leader.Depth, 4*quantity.Inch) || p.Leader.Diameter != 0 || !near(p.ConductorHead, feet(1)) ||
		p.Crest != roof.FloorFlush || !near(p.CrestBreadth, feet(1)) || p.DischargesTo != "Low roof" || p.WidthAssumed {
		t.Errorf("scupper %+v", p)
	}
	if p := d.Outlets[2]; !p.WidthAssumed || !near(p.Width, 8*quantity.Inch) || !near(p.Leader.Diameter, feet(0.5)) || p.PipeSlope != 0.01 {
		t.Errorf("scupper whose width an earlier output assumed %+v", p)
	}
	if a, b := d.Sills[0], d.Sills[1]; a.Kind != roof.DoorSill || a.Label != "DS-1" || a.Plan != (orb.Point{1, 1}) || !(math.Abs(a.Z-101*0.3048) <= 1e-12) ||
		b.Kind != roof.SillUnknown || !(math.Abs(b.Z-100.5*0.3048) <= 1e-12) {
		t.Errorf("sills %+v", d.Sills)
	}
	if !d.Imperial {
		t.Error("sizes in inches were not noticed")
	}
	drafttest.Finite(t, d)
}

func TestLimitWithoutAnAuthorIsSaid(t *testing.T) {
	d, problems := read(t, feature(`"role":"outline","load_limit":"25 psf"`, "Polygon", `[[[0,0],[60,0],[60,40],[0,0]]]`))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if _, ok := d.Outlines[0].Structure.Limit(); ok || !strings.Contains(strings.Join(d.Warnings, " "), "load_limit_by does not say who set it") {
		t.Errorf("a limit without an author counts, or nothing says so: %q", d.Warnings)
	}
}

func TestBadPipesSillsAndFramingAreRefused(t *testing.T) {
	at := func(properties string) string { return feature(properties, "Point", `[30,20,99.5]`) }
	square := `[[[0,0],[60,0],[60,40],[0,0]]]`
	for _, tt := range []struct{ text, want string }{
		{at(`"role":"outlet","type":"drain","leader":"4x"`), "leader: "},
		{at(`"role":"outlet","type":"drain","leader":"3x4x5 in"`), "write it like 4 in or 3x4 in"},
		{at(`"role":"outlet","type":"drain","leader":"0 in"`), "it is zero or negative"},
		{at(`"role":"outlet","type":"drain","leader":-1`), "leader is negative"},
		{at(`"role":"outlet","type":"drain","leader":4`), "the leader is over 24 in across"},
		{at(`"role":"outlet","type":"drain","pipe":6`), "the horizontal pipe is over 48 in across"},
		{at(`"role":"outlet","type":"drain","pipe_slope":2`), "pipe_slope: "},
		{at(`"role":"outlet","type":"drain","crest":"sharp"`), "a drain has no crest"},
		{at(`"role":"outlet","type":"scupper","crest":"round"`), "use sharp, floor-flush"},
		{at(`"role":"sill","kind":"window"`), "use door-sill, curb-top, wall-joint, low-parapet"},
		{feature(`"role":"sill"`, "Point", `[1,1]`), "the sill has no elevation"},
		{feature(`"role":"outline","wall_runoff":"third"`, "Polygon", square), "use half, 50-35-0, quarter, none"},
		{feature(`"role":"outline","member_direction":400`, "Polygon", square), "member_direction 400 is no bearing"},
		{feature(`"role":"outline","member_span":-2`, "Polygon", square), "member_span is negative"},
		{feature(`"role":"outline","load_limit":25`, "Polygon", square), "load_limit: "},
		{feature(`"role":"outline","rain_primary":4`, "Polygon", square), "it has no unit"},
		{feature(`"role":"outline","rain_overflow":"-4 in/h"`, "Polygon", square), "it is negative"},
		{feature(`"role":"edge","type":"free","adjoining_height":2`, "LineString", `[[0,0],[60,0]]`), "an edge that is no wall"},
	} {
		_, problems := read(t, tt.text)
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.text, err, tt.want)
		}
	}
}

// An edge without a wall beside it needs no height of one.
func TestEdgesThatAreNoWalls(t *testing.T) {
	d, problems := read(t, feature(`"role":"edge","type":"free"`, "LineString", `[[0,0],[60,0]]`)+","+feature(`"role":"edge","type":"gutter","adjoining_height":0`, "LineString", `[[0,0],[60,0]]`))
	if err := problems.Err(); err != nil || d.Edges[0].Type != roof.Free || d.Edges[1].Type != roof.Gutter {
		t.Errorf("%+v, %v", d.Edges, err)
	}
}

// Elevations of a line in degrees stand beside its coordinates, as many as positions.
func TestElevationsOfALine(t *testing.T) {
	d, problems := read(t, feature(`"role":"breakline","elevations":"100; -; 101' 6\""`, "LineString", `[[0,0],[5,5],[9,9]]`))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	l := d.Breaklines[0].Line
	if !l[0].HasZ || !(math.Abs(l[0].Z-30.48) <= 1e-12) || l[1].HasZ || !l[2].HasZ || !(math.Abs(l[2].Z-101.5*0.3048) <= 1e-12) {
		t.Errorf("line %+v", l)
	}
	for _, bad := range []string{`"100"`, `100`, `"100;-;high"`, `"100;1;-"`, `"100;-;"`, `["100","-","101"]`} {
		if _, problems := read(t, feature(`"role":"breakline","elevations":`+bad, "LineString", `[[0,0],[5,5,2],[9,9]]`)); problems.Err() == nil {
			t.Errorf("elevations %s were read", bad)
		}
	}
}

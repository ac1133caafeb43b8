package points_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer/draft/drafttest"
	"runnel/importer/points"
)

// By hand: the file is in feet; 1 in is 0.0254 m, 1 psf 47.880259 Pa.
func TestReadsPipesSillsAndFraming(t *testing.T) {
	const in = 0.0254
	d := mustRead(t, strings.Join([]string{
		"point,x,y,z,code",
		"1,0,0,100,OUTLINE wall_runoff=half member_direction=90 member_span=20 member_spacing=60in load_limit=25 psf load_limit_by=A.Engineer",
		"2,60,0,100,OUTLINE", "3,60,40,100,OUTLINE", "4,0,40,100,OUTLINE",
		"5,0,0,,WALL 1 adjoining=12", "6,60,0,,WALL 1",
		"7,30,20,99.5,DRAIN D1 d=4in leader=4in pipe=6in pipe_slope=1%",
		"8,60,20,99.7,SCUPPER overflow w=8in leader=3x4 in conductor_head=1 crest=sharp discharges_to=low-roof",
		"9,60,25,99.7,OVERFLOW h=4in",
		"10,1,1,101,SILL S1 kind=wall-joint", "11,2,1,101,SILL",
	}, "\n"), points.Options{})
	o := d.Outlines[0]
	s := o.Structure
	if o.WallRunoff != "half" || s.MemberDirection != 90 || !(math.Abs(float64(s.MemberSpan)-20*foot) <= 1e-12) || !(math.Abs(float64(s.MemberSpacing)-60*in) <= 1e-12) ||
		!(math.Abs(s.LoadLimit-25*47.880259) <= 1e-4) || s.LoadLimitBy != "A.Engineer" {
		t.Errorf("outline %q, %+v", o.WallRunoff, s)
	}
	if e := d.Edges[0]; !(math.Abs(float64(e.AdjoiningHeight)-12*foot) <= 1e-12) {
		t.Errorf("edge %+v", e)
	}
	drain, scupper, plain := d.Outlets[0], d.Outlets[1], d.Outlets[2]
	if !(math.Abs(float64(drain.Leader.Diameter)-4*in) <= 1e-12) || !(math.Abs(float64(drain.Pipe)-6*in) <= 1e-12) || drain.PipeSlope != 0.01 {
		t.Errorf("drain %+v", drain)
	}
	if scupper.Duty != roof.Overflow || !(math.Abs(float64(scupper.Leader.Width)-3*in) <= 1e-12) || !(math.Abs(float64(scupper.Leader.Depth)-4*in) <= 1e-12) ||
		!(math.Abs(float64(scupper.ConductorHead)-foot) <= 1e-12) || scupper.Crest != roof.SharpCrest || scupper.DischargesTo != "low-roof" || scupper.WidthAssumed {
		t.Errorf("scupper %+v", scupper)
	}
	if !plain.WidthAssumed || !(math.Abs(float64(plain.Width)-8*in) <= 1e-12) {
		t.Errorf("scupper without a width %+v", plain)
	}
	if len(d.Sills) != 2 || d.Sills[0].Kind != roof.WallJoint || d.Sills[0].Label != "S1" || !(math.Abs(d.Sills[0].Z-101*foot) <= 1e-12) {
		t.Errorf("sills %+v", d.Sills)
	}
	drafttest.Finite(t, d)
}

func TestBadPipesSillsAndFramingAreRefused(t *testing.T) {
	for code, want := range map[string]string{
		"DRAIN leader=round":             "leader: ",
		"DRAIN leader=4":                 "the leader is over 24 in across",
		"DRAIN pipe=0":                   "pipe is zero",
		"DRAIN pipe_slope=3":             "pipe_slope: ",
		"DRAIN crest=sharp":              `has no key "crest"`,
		"SCUPPER crest=round":            "use sharp, floor-flush",
		"SILL kind=window":               "use door-sill, curb-top, wall-joint, low-parapet",
		"OUTLINE member_direction=north": "is no bearing",
		"OUTLINE load_limit=25":          "load_limit: ",
		"OUTLINE member_span=-3":         "member_span is negative",
	} {
		_, problems := read("point,x,y,z,code\n1,2,2,100,"+code+"\n2,30,2,100,OUTLINE\n3,30,30,100,OUTLINE\n4,2,30,100,OUTLINE\n", points.Options{})
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", code, err, want)
		}
	}
	_, problems := read("point,x,y,z,code\n1,2,2,,SILL\n", points.Options{})
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "the sill has no elevation") {
		t.Errorf("a sill without an elevation: %v", err)
	}
}

package correction

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// A change is the same one only where its kind, its finding and its place are.
func TestTheSameChange(t *testing.T) {
	c := mend.Change{Kind: mend.Fill, Finding: "dish", At: orb.Point{1, 2}}
	for _, o := range []struct {
		c    mend.Change
		same bool
	}{{c, true}, {mend.Change{Kind: mend.Clear, Finding: "dish", At: c.At}, false}, {mend.Change{Kind: mend.Fill, Finding: "step", At: c.At}, false}, {mend.Change{Kind: mend.Fill, Finding: "dish", At: orb.Point{1, 3}}, false}} {
		if same([]mend.Change{{Kind: mend.Structure}, c}, &o.c) != o.same {
			t.Errorf("%+v: %t", o.c, !o.same)
		}
	}
}

// What only an engineer decides is said with the outlet that it is about, the first one too; where there is nothing to do outlets are not cleared either, and where there is a pond they are.
func TestWhatIsDoneBesidesPonds(t *testing.T) {
	d := designing(t, func(x, y float64) float64 { return 0.02 * math.Max(math.Abs(x-6), math.Abs(y-1.5)) }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	d.Ponds, d.Study.Findings = nil, nil
	o := &Option{}
	if d.finished(o); len(o.Changes) != 0 {
		t.Errorf("%+v", o.Changes)
	}
	d.Ponds = []mend.Pond{{ID: "P1", Outlet: -1, Held: -1}}
	if d.finished(o); len(o.Changes) != 1 || o.Changes[0].Kind != mend.Clear {
		t.Errorf("%+v", o.Changes)
	}
	f := finding.Finding{Kind: forEngineer[0], Severity: finding.Repair, Pond: -1, Outlet: 0, Do: finding.Say("Look at it.")}
	d.Study.Findings = []finding.Finding{f}
	f.Outlet, f.Do = -1, finding.Say("Look at that.")
	d.Study.Findings = append(d.Study.Findings, f)
	d.Surface.Outlets[0].Label = "D7"
	changes, _ := d.others()
	plain := func(finding.Quantity) string { return "n" }
	if len(changes) == 0 || changes[0].What.Fill(plain) != "D7: Look at it." || changes[0].Kind != mend.Structure || changes[0].Decides != finding.Engineer {
		t.Errorf("%+v", changes)
	}
}

// A file in degrees writes eight decimals, the last of which is 1.1 mm to the north: by hand no place moves by more than half of that either way, most do move, and each then is such a number of degrees to a millionth of a decimal. On a site grid nothing
// moves.
func TestPlacesAsFilesInDegreesHaveThem(t *testing.T) {
	r := shape.Pyramid(20, 10, 0.02, 0.3)
	for k := range 40 {
		shape.Spot(r, 1+0.137*float64(k), 2+0.0713*float64(k), 0.5)
	}
	if written(r) != r {
		t.Error("a roof on a site grid was changed")
	}
	r.Frame = roof.NewGeographic(orb.Point{12.3, 47.8})
	n, moved := written(r), 0
	for i := range r.Spots {
		p, q := r.Spots[i].Plan, n.Spots[i].Plan
		if d := vector.Norm(q[0]-p[0], q[1]-p[1]); d > 0.0011/2*math.Sqrt2 {
			t.Errorf("spot %d moves by %g m", i, d)
		} else if d > 1e-4 {
			moved++
		}
		for _, v := range n.Frame.ToFile(q) {
			if v *= 1e8; !(math.Abs(v-math.Round(v)) <= 1e-3) {
				t.Errorf("spot %d mendtest.Lies at %.11f degrees", i, v/1e8)
			}
		}
	}
	if moved < 30 || len(n.Outlets) != 1 || n.Outline.Rings[0][2].Plan == r.Outline.Rings[0][2].Plan {
		t.Errorf("%d spots moved", moved)
	}
}

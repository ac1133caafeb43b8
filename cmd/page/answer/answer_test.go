package answer_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"runnel/cmd/demo"
	"runnel/cmd/page/answer"
	"runnel/export"
	"runnel/export/record"
)

func library(t *testing.T) *answer.Answer {
	t.Helper()
	for _, r := range demo.Roofs() {
		if r.Stem() != "library" {
			continue
		}
		var files []answer.File
		for _, f := range r.Inputs() {
			files = append(files, answer.File{Name: f.Name, Data: f.Bytes})
		}
		a, err := whole(context.Background(), files, nil)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	t.Fatal("there is no library")
	return nil
}

// The library's three planted ponds: P01 behind a rise before RD-2, P02 at RD-1, which is set high, P03 behind something laid on the roof.
func TestPictureShowsThePlantedPonds(t *testing.T) {
	p := library(t).Picture()
	if len(p.Ponds) != 3 || len(p.Outlets) != 8 || len(p.Water) == 0 || len(p.Outline) != 1 {
		t.Errorf("%d ponds, %d outlets, %d bands, %d rings", len(p.Ponds), len(p.Outlets), len(p.Water), len(p.Outline))
	}
	for _, pond := range p.Ponds {
		if pond.Depth == "" || pond.Where == "" || pond.Held == "" || pond.Sure == "" {
			t.Errorf("%s says too little: %+v", pond.ID, pond)
		}
	}
}

// Setting the drain that stands high down to where it was meant to be takes its pond away and leaves the others; blocking it brings more water.
func TestTry(t *testing.T) {
	a := library(t)
	rd1 := -1
	for i, o := range a.Picture().Outlets {
		if o.Label == "RD-1" {
			rd1 = i
		}
	}
	has := func(changes []answer.Change, id string) bool {
		r, err := a.Try(changes)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range r.Ponds {
			if p.ID == id {
				return true
			}
		}
		return false
	}
	down := []answer.Change{{Do: "outlet", Outlet: rd1, By: -0.04}}
	for id, want := range map[string]bool{"P01": true, "P02": false, "P03": true} {
		if !has(nil, id) {
			t.Errorf("without a change %s is gone", id)
		}
		if has(down, id) != want {
			t.Errorf("%s with RD-1 set down: %v", id, !want)
		}
	}
	// the check of the same roof says, by its own trial: "lowering the roof on the water's way out ... leaves 8 mm of water"
	r, err := a.Try([]answer.Change{{Do: "shave", Pond: "P01"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Ponds {
		if p.ID == "P01" && p.Depth != "8 mm" || r.Dug == "" {
			t.Errorf("P01 keeps %s with its rise cut off by %s", p.Depth, r.Dug)
		}
	}
	if has([]answer.Change{{Do: "fill", Pond: "P03"}}, "P03") {
		t.Error("P03 stays when it is filled")
	}
	for _, wrong := range []answer.Change{{Do: "outlet", Outlet: 99}, {Do: "shave", Pond: "P77"}, {Do: "pray"}} {
		if _, err := a.Try([]answer.Change{wrong}); err == nil {
			t.Errorf("%+v was taken", wrong)
		}
	}
}

// What runs to each outlet as found is what the summary says; blocked, a drain's water runs to the overflow beside it, and no square metre is lost.
func TestRuns(t *testing.T) {
	a := library(t)
	files, err := a.Files([]export.Kind{export.JSON})
	if err != nil {
		t.Fatal(err)
	}
	var summary struct {
		Outlets []struct {
			Label     string  `json:"label"`
			Catchment float64 `json:"catchment_m2"`
		} `json:"outlets"`
	}
	if err := json.Unmarshal(files[0].Data, &summary); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, o := range summary.Outlets {
		want[o.Label] = record.SI.SayArea(o.Catchment)
	}
	runs := func(changes ...answer.Change) map[string]answer.Run {
		if _, err := a.Try(changes); err != nil {
			t.Fatal(err)
		}
		list, err := a.Runs()
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]answer.Run{}
		for _, r := range list {
			out[a.Picture().Outlets[r.Outlet].Label] = r
		}
		return out
	}
	found := runs()
	if len(found) != 4 {
		t.Errorf("water runs to %d outlets", len(found))
	}
	for label, r := range found {
		if r.Found != want[label] || r.Now != want[label] || len(r.Rings) == 0 {
			t.Errorf("%s: %s as found, %s now, %s in the summary, %d rings", label, r.Found, r.Now, want[label], len(r.Rings))
		}
	}
	now := runs(answer.Change{Do: "block", Outlet: 0})
	if now["RD-1"].Now != "0 m²" || now["OD-1"].Now != want["RD-1"] || now["OD-1"].Found != "0 m²" || now["RD-3"].Now != want["RD-3"] {
		t.Errorf("with RD-1 blocked: %+v", now)
	}
}

// A cricket between two drains: its size stands in words, the pond between them keeps its name, and one that nothing would run against is refused.
func TestCricket(t *testing.T) {
	a := library(t)
	r, err := a.Try([]answer.Change{{Do: "cricket", Pond: "P01"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Crickets) != 1 || !strings.Contains(r.Crickets[0].Text, "thick at its middle") || r.Built == "" || r.Crickets[0].Tip <= 0 {
		t.Errorf("built %s: %+v", r.Built, r.Crickets)
	}
	for _, c := range r.Compared {
		if c.Found == nil || c.Now == nil || c.Now.Volume == "" {
			t.Errorf("%+v", c)
		}
	}
	if r.Now.Volume == r.Found.Volume {
		t.Error("the boards take no room in the pond that they stand in")
	}
	if _, err := a.Try([]answer.Change{{Do: "cricket", Base: [2]answer.Place{{1, 1}, {1.2, 1}}}}); err == nil || !strings.Contains(err.Error(), "shed nothing") {
		t.Errorf("a cricket a hand wide: %v", err)
	}
	if runs, err := a.Runs(); err != nil || len(runs) == 0 {
		t.Errorf("after a refusal nothing is known of the roof as it was before: %v", err)
	}
}

// The roof falls 2 % from north and south to the line between two drains 12 m apart, and between them, at x = 9 m, lies a place 60 mm deep. A cricket over it follows the
// roof, so that water still stands on its boards, and that is said; once the place is filled it does not.
func TestCricketOverALowPlace(t *testing.T) {
	rows := "x,y,z_m,code\n0,0,,OUTLINE\n18,0,,OUTLINE\n18,12,,OUTLINE\n0,12,,OUTLINE\n3,6,9.98,DRAIN RD-1 d=4in\n15,6,9.98,DRAIN RD-2 d=4in\n"
	for x := 0; x <= 18; x++ {
		for y := 0; y <= 12; y++ {
			z := 10 + 0.02*math.Abs(float64(y)-6)
			if far := math.Hypot(float64(x)-9, float64(y)-7); far < 2 {
				z -= 0.06 * (1 - far/2)
			}
			rows += fmt.Sprintf("%d,%d,%.3f,\n", x, y, z)
		}
	}
	a, err := whole(context.Background(), []answer.File{{Name: "roof.csv", Data: []byte(rows)}}, []string{"--sigma=1mm"})
	if err != nil {
		t.Fatal(err)
	}
	seen := a.Picture()
	low := seen.Ponds[0].ID
	cricket := answer.Change{Do: "cricket", Base: [2]answer.Place{seen.Outlets[0].At, seen.Outlets[1].At}, Tip: 3}
	for said, changes := range map[bool][]answer.Change{true: {cricket}, false: {{Do: "fill", Pond: low}, cricket}} {
		r, err := a.Try(changes)
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Crickets[0].Text; strings.Contains(got, "Water still stands on it ("+low+")") != said {
			t.Errorf("after %d changes, pond %s: %s", len(changes), low, got)
		}
	}
}

func TestFlags(t *testing.T) {
	file := answer.File{Name: "roof.csv", Data: []byte("x,y,z,code\n0,0,0,OUTLINE\n10,0,0,OUTLINE\n10,10,0,OUTLINE\n0,10,0,OUTLINE\n5,5,0,\n")}
	for given, want := range map[string]string{
		"--units":            `--units true: unknown unit`,
		"--units=furlong":    "--units furlong: ",
		"--nothing=1":        "unknown flag: --nothing=1",
		"--units=":           "--units is empty",
		"--next-spots=x":     `--next-spots "x": give a whole number`,
		"--criteria=no.json": "criteria: no.json: there is no such file",
		"--units-out=cubits": `--units-out "cubits": give us or si`,
	} {
		_, err := whole(context.Background(), []answer.File{file}, []string{given})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", given, err, want)
		}
	}
}

// A file that a flag names is no file of the roof, and its criteria count.
func TestCriteriaBeside(t *testing.T) {
	a := library(t)
	files, err := a.Files([]export.Kind{export.JSON})
	if err != nil || len(files) != 1 {
		t.Fatal(err)
	}
	for _, r := range demo.Roofs() {
		if r.Stem() != "library" {
			continue
		}
		in := []answer.File{{Name: "deep.json", Data: []byte(`{"pond_depth": "2 in"}`)}}
		for _, f := range r.Inputs() {
			in = append(in, answer.File{Name: f.Name, Data: f.Bytes})
		}
		b, err := whole(context.Background(), in, []string{"--criteria=deep.json"})
		if err != nil {
			t.Fatal(err)
		}
		if n := len(b.Picture().Ponds); n != 1 { // the one over 100 ft2, which is listed from 1/8 in
			t.Errorf("%d ponds are listed from 2 in", n)
		}
	}
}

// Before the words come, a picture has the water, the outlets and the ponds of the whole answer, each at its place and with its depth, where one figure says it.
func TestGlanceShowsTheWater(t *testing.T) {
	for _, r := range demo.Roofs() {
		var files []answer.File
		for _, f := range r.Inputs() {
			files = append(files, answer.File{Name: f.Name, Data: f.Bytes})
		}
		a, err := answer.Glance(context.Background(), files, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := a.Picture()
		if err := a.Complete(); err != nil {
			t.Fatal(err)
		}
		q := a.Picture()
		if p.Tier != q.Tier || p.Units != q.Units || !reflect.DeepEqual(p.Water, q.Water) || !reflect.DeepEqual(p.Outlets, q.Outlets) || !reflect.DeepEqual(p.Outline, q.Outline) || len(p.Ponds) != len(q.Ponds) {
			t.Errorf("%s: at a glance %+v, then %+v", r.Stem(), p, q)
			continue
		}
		for i := range p.Ponds {
			ranged := strings.Contains(q.Ponds[i].Depth, " to ")
			if p.Ponds[i].ID != q.Ponds[i].ID || p.Ponds[i].At != q.Ponds[i].At || ranged != (p.Ponds[i].Depth == "") || !ranged && p.Ponds[i].Depth != q.Ponds[i].Depth {
				t.Errorf("%s: pond %+v at a glance, then %+v", r.Stem(), p.Ponds[i], q.Ponds[i])
			}
		}
	}
}

// whole checks a roof as far as Complete.
func whole(ctx context.Context, files []answer.File, given []string) (*answer.Answer, error) {
	a, err := answer.Glance(ctx, files, given)
	if err != nil {
		return nil, err
	}
	return a, a.Complete()
}

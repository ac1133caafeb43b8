package geojson

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/layer"
)

// someParts are n parts of which every third is empty; the others have points, more of them in the first. One may break.
func someParts(n, breaks int) []layer.Part {
	var list []layer.Part
	for i := range n {
		list = append(list, func(take func(*layer.Feature)) {
			pen := layer.NewPen(roof.NewGeographic(orb.Point{7, 51}), quantity.Metres, take)
			for k := range (n - i) * 40 {
				if i%3 != 2 {
					pen.Open("spot", fmt.Sprintf("p%d.%d", i, k), "a place")
					pen.Point(orb.Point{float64(i) * 100, float64(k)})
					pen.Close(layer.Style{Name: "x"})
				}
			}
			if i == breaks {
				panic("broken")
			}
		})
	}
	return list
}

// A map that is made in parts side by side has the bytes of one that is made as one part, its bounding box too.
func TestPartsSideBySide(t *testing.T) {
	const n = 11
	collect := func(list []layer.Part) []byte {
		var out bytes.Buffer
		w := newWriter(&out, layer.CampusGrid(false, quantity.Metres))
		if err := w.collection("map", func() { w.parts(list) }); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	one := collect([]layer.Part{func(take func(*layer.Feature)) {
		for _, p := range someParts(n, -1) {
			p(take)
		}
	}})
	if !bytes.Equal(one, collect(someParts(n, -1))) {
		t.Error("the bytes differ")
	}
	var c struct {
		Features []json.RawMessage `json:"features"`
		BBox     [4]float64        `json:"bbox"`
	}
	// parts 0, 1, 3, 4, 6, 7, 9 and 10 have 40 points each for every part from there on, 1,000 m to the east and 439 m to the north at most, where a degree
	// has some 70,197 and 111,250 m
	if err := json.Unmarshal(one, &c); err != nil || len(c.Features) != 40*(11+10+8+7+5+4+2+1) || !(math.Abs(c.BBox[0]-7) <= 1e-4) || !(math.Abs(c.BBox[1]-51) <= 1e-4) || !(math.Abs(c.BBox[2]-7.0142) <= 1e-4) || !(math.Abs(c.BBox[3]-51.0039) <= 1e-4) {
		t.Errorf("%v, %d features, box %v", err, len(c.Features), c.BBox)
	}
}

// A part that breaks breaks the map.
func TestABrokenPart(t *testing.T) {
	defer func() {
		if v := recover(); v != "broken" {
			t.Errorf("recovered %v", v)
		}
	}()
	var out bytes.Buffer
	w := newWriter(&out, layer.CampusGrid(false, quantity.Metres))
	_ = w.collection("map", func() { w.parts(someParts(9, 4)) })
	t.Error("no panic")
}

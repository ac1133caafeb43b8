package geojson_test

import (
	"io"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/export/geojson"
	"runnel/export/record"
)

// BenchmarkFacets writes 2,000,000 facets of a roof of 1,000 by 1,000 cells.
func BenchmarkFacets(b *testing.B) {
	for name, frame := range map[string]roof.Frame{
		"local":   roof.NewLocal(orb.Point{1000, 2000}, quantity.Metres),
		"lon-lat": roof.NewGeographic(orb.Point{-12.5, 41.25}),
	} {
		b.Run(name, func(b *testing.B) {
			book := record.NewBook(gridStudy(1000, frame), "", record.SI)
			b.ReportAllocs()
			for b.Loop() {
				if err := geojson.Write(io.Discard, book, "facet"); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// gridStudy returns a study that has facets only: n by n square cells of 1 m, halved, on a wavy surface.
func gridStudy(n int, frame roof.Frame) *study.Study {
	t := &surface.TIN{}
	for j := range n + 1 {
		for i := range n + 1 {
			z := 100 + math.Round(1e3*math.Sin(float64(i)/7)*math.Cos(float64(j)/5))/1e4
			t.X, t.Y, t.Z = append(t.X, float64(i)), append(t.Y, float64(j)), append(t.Z, z)
			t.GX, t.GY = append(t.GX, int32(i)*100000), append(t.GY, int32(j)*100000)
		}
	}
	s := &study.Study{
		Roof:    &roof.Roof{Name: "Grid", Frame: frame, Units: quantity.Metres},
		Surface: &surface.Surface{TIN: t, Cut: t}, Slopes: &slope.Slopes{Planes: make([]slope.Plane, 100)},
		Ponds: &ponding.Ponds{}, Flow: &flow.Network{}, Catchments: &catchment.Catchments{},
	}
	row := int32(n + 1)
	for j := range int32(n) {
		for i := range int32(n) {
			a := j*row + i
			t.V = append(t.V, a, a+1, a+row+1, a, a+row+1, a+row)
			for k := range 2 {
				t.DX, t.DY = append(t.DX, 0.01), append(t.DY, 0.02)
				s.Slopes.Slope = append(s.Slopes.Slope, 0.01+float64(i)/float64(n)/20)
				s.Slopes.Aspect = append(s.Slopes.Aspect, float64(i*7%360)+float64(k)/3)
				s.Slopes.Plane = append(s.Slopes.Plane, (i+j)%100)
			}
		}
	}
	return s
}

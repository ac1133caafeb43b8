// Package sample builds one small invented roof that has something of everything, for the tests of the
// exports: a roof that is handed over as measured and analysed as any other.
//
// The roof is 20 m by 12 m and falls at 2 % from a ridge at x = 14 to a low line at x = 6, where a drain
// stands 20 mm above the surface and holds a pond, and to a gutter at x = 20. It has an overflow scupper, a
// curb, a core, a stain and a control point.
package sample

import (
	"encoding/json"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// Local returns the sample on a site grid in metres, with its south-west corner at (1000, 2000).
func Local() *roof.Roof {
	r := measured()
	r.Frame = roof.NewLocal(orb.Point{1000, 2000}, quantity.Metres)
	r.Units = quantity.Metres
	return r
}

// Feet returns the sample on a site grid in feet.
func Feet() *roof.Roof {
	r := measured()
	r.Frame = roof.NewLocal(orb.Point{5000, 6000}, quantity.Feet)
	r.Units, r.Imperial = quantity.Feet, true
	return r
}

// Geographic returns the sample in longitude and latitude, elevations in metres.
func Geographic() *roof.Roof {
	r := measured()
	r.Frame = roof.NewGeographic(orb.Point{-12.5, 41.25})
	r.Units = quantity.Metres
	return r
}

// Study analyses r; the sample is known to be good, so an error is a panic.
func Study(r *roof.Roof) *study.Study {
	s, err := study.Run(r, study.Options{})
	if err != nil {
		panic(fmt.Sprintf("sample roof: %v", err))
	}
	return s
}

// Storm analyses r under 75 mm of rain in an hour at one rate, with 100 mm/h stated for its outlets and 200 mm/h for its overflow, which
// stands lower here so that it works before the water runs over the ridge, and a sill beside it.
func Storm(r *roof.Roof) *study.Study {
	const millimetreAnHour = 0.001 / 3600
	if o := &r.Outlets[1]; o.Duty == roof.Overflow {
		o.Invert = 100.125
	}
	r.Sills = append(r.Sills, roof.Sill{
		Feature: feature("L2", `{"role":"sill","kind":"door-sill"}`), Position: roof.Position{Plan: orb.Point{0.2, 7}, Z: 100.25, HasZ: true}, Kind: roof.DoorSill, Label: "DS-2",
	})
	rain, err := rainfall.Even().Storm(0.075, 3600)
	if err != nil {
		panic(fmt.Sprintf("sample storm: %v", err))
	}
	s, err := study.Run(r, study.Options{
		Criteria: standard.Overrides{"rain_primary": 100 * millimetreAnHour, "rain_overflow": 200 * millimetreAnHour},
		Storm:    &study.Design{Pattern: rainfall.Even(), Rain: rain},
	})
	if err != nil {
		panic(fmt.Sprintf("sample roof: %v", err))
	}
	return s
}

// elevation is the surface of the sample.
func elevation(x, y float64) float64 {
	side := 0.005 * math.Abs(y-6)
	return choose.If(x > 14, 100.16-0.02*(x-14)+side, 100+0.02*math.Abs(x-6)+side)
}

func at(x, y float64) roof.Position {
	return roof.Position{Plan: orb.Point{x, y}, Z: elevation(x, y), HasZ: true}
}

func plan(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }

func feature(id, properties string) roof.Feature {
	f := roof.Feature{ID: id, Origin: roof.Origin{File: "sample.geojson", ID: id}}
	if properties != "" {
		f.Properties = json.RawMessage(properties)
	}
	return f
}

func measured() *roof.Roof {
	r := &roof.Roof{
		Name: "Sample roof 1", Building: "Sample house", Surveyed: "2026-05-02",
		Outline: roof.Outline{
			Feature: feature("outline", `{"role":"outline","name":"Sample roof 1","crew":"north","parts":{"a":1}}`),
			Rings:   [][]roof.Position{{plan(0, 0), plan(20, 0), plan(20, 12), plan(0, 12), plan(0, 0)}},
			Edge:    roof.Wall,
		},
		Edges: []roof.Edge{{
			Feature: feature("E1", `{"role":"edge","type":"gutter"}`), Type: roof.Gutter, Label: "east gutter",
			Line: []roof.Position{plan(20, 0), plan(20, 12)},
		}},
		Curbs: []roof.Curb{{
			Feature: feature("K1", `{"role":"curb","height":"0.3 m"}`), Label: "unit 1", Height: 0.3,
			Ring: []roof.Position{plan(10, 5), plan(11, 5), plan(11, 7), plan(10, 7), plan(10, 5)},
		}},
		Breaklines: []roof.Breakline{
			{Feature: feature("B1", ""), Type: roof.Valley, Line: []roof.Position{at(6, 0), at(6, 12)}},
			{Feature: feature("B2", ""), Type: roof.Ridge, Line: []roof.Position{at(14, 0), at(14, 12)}},
		},
		Outlets: []roof.Outlet{
			{
				Feature: feature("D1", `{"role":"outlet","type":"drain","maker":null,"note":"dome missing"}`), Plan: orb.Point{6, 6}, Type: roof.Drain,
				Invert: 100.02, HasInvert: true, Diameter: 0.1, Bowl: 0.3048, Label: "RD-1",
				Leader: roof.Pipe{Diameter: 0.1016}, Pipe: 0.1524, PipeSlope: 0.01,
			},
			{
				Feature: feature("S1", ""), Plan: orb.Point{0, 6}, Type: roof.Scupper, Duty: roof.Overflow,
				Invert: 100.17, HasInvert: true, Width: 0.2032, OpeningHeight: 0.1, Label: "OS-1",
				Crest: roof.FloorFlush, CrestBreadth: 0.3, ConductorHead: 0.3, Leader: roof.Pipe{Width: 0.0762, Depth: 0.1016}, DischargesTo: "Low roof",
			},
		},
		Cores: []roof.Core{{
			Feature: feature("C1", ""), Position: at(3, 3), Deck: "steel", Cutter: "hand", Reached: "rib",
			Layers: []roof.Layer{{Material: "membrane", Thickness: 0.0015}, {Material: "foam", Thickness: 0.1, Condition: "wet"}},
		}},
		Stains: []roof.Stain{{
			Feature: feature("ST1", ""), HoursSinceRain: 50, Depth: 0.02, Note: "seen in spring",
			Ring: []roof.Position{plan(5.5, 5), plan(6.5, 5), plan(6.5, 7), plan(5.5, 7), plan(5.5, 5)},
		}},
		Sills: []roof.Sill{{
			Feature: feature("L1", `{"role":"sill","kind":"door-sill","door":"east"}`), Position: roof.Position{Plan: orb.Point{19, 11.5}, Z: 100.3, HasZ: true}, Kind: roof.DoorSill, Label: "DS-1",
		}},
		Controls: []roof.Control{{Feature: feature("CP1", ""), Plan: orb.Point{0, 0}, Lon: -12.5, Lat: 41.25}},
		Inputs: []roof.Input{{
			Path: "sample.geojson", Format: "geojson", Units: "m", Frame: "local", Counts: map[string]int{"outline": 1, "spot": 77},
		}},
		Warnings: []string{"One feature without a role was left out."},
	}
	for i := range 11 {
		for j := range 7 {
			x, y := float64(2*i), float64(2*j)
			r.Spots = append(r.Spots, roof.Spot{
				Feature:  feature(fmt.Sprintf("%d", len(r.Spots)+1), ""),
				Position: at(x, y), Sigma: 0.002,
			})
		}
	}
	return r
}

package demo

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
)

// format is how a survey is written: in what frame and unit, and into which files.
type format struct {
	units  string    // "m" or "ft", of a local frame; empty: longitude, latitude and metres
	origin orb.Point // file coordinates of the site's own origin
	turn   float64   // of the site's x axis, counter-clockwise from east [rad]
	points string    // "": all in one GeoJSON file; "header", "bare": spots in a point file with or without a header line
	corner bool      // the outline carries the elevations of its corners
	sigma  bool      // spots carry their standard deviation
}

// Where the invented roofs stand on the map: open ocean, far from any land.
var nowhere = orb.Point{-30, 12}

// geographic reports whether files are in longitude and latitude.
func (f format) geographic() bool { return f.units == "" }

// unit returns metres per unit of the file, and the decimals to which its plan and its elevations are booked.
func (f format) unit() (metres float64, plan, level int) {
	switch f.units {
	case "ft":
		return 0.3048, 2, 2
	case "m":
		return 1, 3, 3
	default:
		return 1, 8, 3
	}
}

// place returns file coordinates of a place in the site's own frame.
func (f format) place(p orb.Point) orb.Point {
	sin, cos := math.Sincos(f.turn)
	x, y := float64(p[0]*cos)-float64(p[1]*sin), float64(p[0]*sin)+float64(p[1]*cos)
	if f.geographic() {
		east, north := degrees(f.origin[1])
		return orb.Point{f.origin[0] + x/east, f.origin[1] + y/north}
	}
	m, _, _ := f.unit()
	return orb.Point{f.origin[0] + x/m, f.origin[1] + y/m}
}

// degrees returns metres per degree of longitude and of latitude on the WGS 84 ellipsoid.
func degrees(latitude float64) (east, north float64) {
	const a, e2 = 6378137.0, 6.69437999014e-3
	sin, cos := math.Sincos(latitude * math.Pi / 180)
	w := 1 - e2*sin*sin
	return a / math.Sqrt(w) * cos * math.Pi / 180, a * (1 - e2) / (w * math.Sqrt(w)) * math.Pi / 180
}

// plan writes the place of p as two numbers.
func (f format) plan(p orb.Point) (x, y string) {
	q := f.place(p)
	_, d, _ := f.unit()
	return fixed(q[0], d), fixed(q[1], d)
}

// level writes an elevation.
func (f format) level(z float64) string {
	m, _, d := f.unit()
	return fixed(z/m, d)
}

// position writes a GeoJSON position, with an elevation when z is finite.
func (f format) position(p orb.Point, z float64) string {
	x, y := f.plan(p)
	if math.IsNaN(z) {
		return "[" + x + "," + y + "]"
	}
	return "[" + x + "," + y + "," + f.level(z) + "]"
}

func (f format) positions(shots []shot) string {
	return strings.Join(gather.Each(shots, func(s shot) string { return f.position(s.at, s.z) }), ",")
}

// flat writes places without elevations.
func (f format) flat(points []orb.Point) string {
	return strings.Join(gather.Each(points, func(p orb.Point) string { return f.position(p, math.NaN()) }), ",")
}

// span writes a length in plain units of the trade: inches or millimetres.
func (f format) span(m float64) string {
	return choose.If(f.units == "ft", fmt.Sprintf("%g in", math.Round(m/0.0254)), fmt.Sprintf("%g mm", math.Round(m*1000)))
}

// fixed writes v with the given number of decimals and no negative zero.
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	return choose.If(strings.Trim(s, "-0.") == "", strings.TrimPrefix(s, "-"), s)
}

// number is v as a JSON number with the given decimals.
func number(v float64, decimals int) json.Number { return json.Number(fixed(v, decimals)) }

// unitName names the file's frame and unit in words.
func (f format) unitName() string {
	switch f.units {
	case "ft":
		return "feet, site grid"
	case "m":
		return "metres, site grid"
	default:
		return "longitude and latitude, metres"
	}
}

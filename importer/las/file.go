// Package las reads the points of a laser scan from LAS files, versions 1.0 to 1.4, that are not compressed.
//
// A scan is larger than a roof: what lies on the outlines that the other files hold is taken, and of that the last return of each pulse
// that is neither noise nor a plant nor withheld; where the file says of points on a roof that they are of a building, those alone.
// Within half a metre of an edge or a curb a scan shows the wall as much as the roof: what lies there is left out.
package las

import (
	"errors"
	"fmt"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/tidwall/rtree"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// margin is how near to an edge or a curb points are left out [m]: about the footprint of a laser in the air and the error of outlines
// drawn from pictures. Common practice, no source.
const margin = 0.5

// mostPoints bounds the points that are taken.
const mostPoints = 5_000_000

// File is one file, opened.
type File struct {
	name   string
	data   []byte
	header header
	areas  []area
	index  rtree.RTree // of the areas' bounds
}

// area is an outline to which the scan is cropped, in the scan's own coordinates.
type area struct {
	polygon orb.Polygon
	margin  float64
}

// Open reads the header of a file. Problems are added to problems, and then it is nil.
func Open(name string, data []byte, problems *roof.Refusal) *File {
	h, err := readHeader(data)
	switch {
	case errors.Is(err, errCompressed):
		problems.Add(roof.Problem{
			Origin: roof.Origin{File: name}, Rule: "the points of this scan are compressed",
			Mend: "write it anew as LAS that is not compressed; programs for point clouds and the free libraries for LAZ do that",
		})
		return nil
	case err != nil:
		problems.Add(roof.Problem{Origin: roof.Origin{File: name}, Rule: err.Error(), Mend: "write the scan anew from the program that made it"})
		return nil
	}
	return &File{name: name, data: data, header: h}
}

// Stated returns the unit and the frame that the header states. A scan is never taken for degrees because others are.
func (f *File) Stated() (unit quantity.Unit, frame string) {
	if f.header.degrees {
		return f.header.upright, "wgs84"
	}
	return f.header.unit, "local"
}

// Crop says which places are roofs, each a polygon with its holes in the scan's coordinates, unit metres long.
func (f *File) Crop(roofs []orb.Polygon, unit float64) {
	for _, p := range roofs {
		b := p.Bound()
		f.index.Insert([2]float64(b.Min), [2]float64(b.Max), len(f.areas))
		f.areas = append(f.areas, area{polygon: p, margin: margin / unit})
	}
}

// Read takes the points on the roofs as spots, elevations in metres.
func (f *File) Read(set draft.Setting, problems *roof.Refusal) *draft.Draft {
	d := &draft.Draft{}
	origin := roof.Origin{File: f.name}
	if len(f.areas) == 0 {
		problems.Add(roof.Problem{
			Origin: origin, Rule: "no other file holds an outline in the frame of this scan",
			Mend: "give the outline as GeoJSON in the coordinates of the scan, with \"frame\": \"local\"",
		})
		return d
	}
	upright := set.Unit.Metres()
	if f.header.upright != quantity.Unstated {
		upright = f.header.upright.Metres()
	}
	kept := make([][]int32, len(f.areas)) // the points on each roof that may lie on its surface
	built := make([]int, len(f.areas))    // and how many of them are said to be of a building
	near := 0
	for i := range f.header.count {
		p := f.header.read(f.data[f.header.first+i*f.header.length:])
		k, edge := f.on(p.plan)
		switch {
		case k < 0:
		case edge:
			near++
		case p.surface():
			kept[k] = append(kept[k], int32(i))
			if p.class == building {
				built[k]++
			}
		}
	}
	total, other := 0, 0
	for k, points := range kept {
		for _, i := range points {
			p := f.header.read(f.data[f.header.first+int(i)*f.header.length:])
			if built[k] > 0 && p.class != building {
				other++
				continue
			}
			if total++; total > mostPoints {
				problems.Add(roof.Problem{
					Origin: origin, Rule: fmt.Sprintf("over %d points lie on the roof", mostPoints), Mend: "thin the scan to a point every few centimetres",
				})
				return d
			}
			d.Spots = append(d.Spots, roof.Spot{
				Feature:  roof.Feature{Origin: roof.Origin{File: f.name, Feature: int(i) + 1}},
				Position: roof.Position{Plan: p.plan, Z: float64(p.z * upright), HasZ: true},
			})
		}
	}
	d.Warnings = append(d.Warnings, f.said(total, near, other))
	return d
}

// on returns the first roof on which a place lies, -1 for none, and whether it is too near to an edge of it.
func (f *File) on(at orb.Point) (k int, edge bool) {
	k = -1
	f.index.Search([2]float64(at), [2]float64(at), func(_, _ [2]float64, data any) bool {
		if i, _ := data.(int); (k < 0 || i < k) && planar.PolygonContains(f.areas[i].polygon, at) {
			k = i
		}
		return true
	})
	if k < 0 {
		return k, false
	}
	for _, ring := range f.areas[k].polygon {
		if planar.DistanceFrom(orb.LineString(ring), at) < f.areas[k].margin {
			return k, true
		}
	}
	return k, false
}

// said says what was taken.
func (f *File) said(taken, near, other int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: of %d points of a laser scan %d lie on the roof and were taken.", f.name, f.header.count, taken)
	if near > 0 {
		fmt.Fprintf(&b, " %d within %g m of an edge or a curb were left out, because the laser also hits walls there.", near, margin)
	}
	if other > 0 {
		fmt.Fprintf(&b, " %d that are not classified as building were left out.", other)
	}
	b.WriteString(" A laser sees no outlets and no scuppers.")
	return b.String()
}

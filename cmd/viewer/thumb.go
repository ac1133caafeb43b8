package viewer

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"runnel/export/palette"
)

// longestMap bounds the file of layers of which a thumb-nail is drawn [bytes].
const longestMap = 32 << 20

// thumb draws a roof small: outline, curbs, ponds and outlets, of the file of its layers. Only numbers of that file reach the drawing.
func (f *Folder) thumb(w http.ResponseWriter, r *http.Request, stem string) {
	_, found, ok := f.of(stem)
	if stem == "" || !ok {
		http.NotFound(w, r)
		return
	}
	for _, t := range found.Tables {
		ending := strings.TrimPrefix(t.Name, stem)
		if ending != ".geojson" && ending != ".local.geojson" {
			continue
		}
		opened, _, err := f.open(t.Name)
		if err != nil {
			continue
		}
		data, err := io.ReadAll(io.LimitReader(opened, longestMap+1))
		_ = opened.Close()
		if err != nil || len(data) > longestMap {
			continue
		}
		shapes, err := shapesIn(data)
		if err != nil {
			continue
		}
		drawing := draw(shapes, ending == ".geojson")
		h := w.Header()
		h.Set("Content-Type", types[".svg"])
		h.Set("Content-Security-Policy", drawingPolicy)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(drawing))
		return
	}
	http.NotFound(w, r)
}

// shape is a feature as a thumb-nail shows it; lines are closed rings where area is true.
type shape struct {
	layer string
	point bool
	area  bool
	lines []orb.LineString
}

// shapesIn reads the features of the layers that a thumb-nail shows.
func shapesIn(data []byte) ([]shape, error) {
	var file struct {
		Features []struct {
			Properties struct{ Layer string }
			Geometry   struct {
				Type        string
				Coordinates json.RawMessage
			}
		}
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, err
	}
	var out []shape
	for i := range file.Features {
		f := &file.Features[i]
		s := shape{layer: f.Properties.Layer}
		switch s.layer {
		case "outline", "curb", "pond", "outlet":
		default:
			continue
		}
		var err error
		switch f.Geometry.Type {
		case "Point":
			s.point, s.lines = true, []orb.LineString{make(orb.LineString, 1)}
			err = json.Unmarshal(f.Geometry.Coordinates, &s.lines[0][0])
		case "LineString":
			s.lines = make([]orb.LineString, 1)
			err = json.Unmarshal(f.Geometry.Coordinates, &s.lines[0])
		case "Polygon":
			s.area = true
			err = json.Unmarshal(f.Geometry.Coordinates, &s.lines)
		case "MultiPolygon":
			s.area = true
			var parts [][]orb.LineString
			err = json.Unmarshal(f.Geometry.Coordinates, &parts)
			s.lines = slices.Concat(parts...)
		default:
			continue
		}
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// Size of a thumb-nail, and what is left free round the roof [px].
const thumbWidth, thumbHeight, thumbMargin = 200.0, 150.0, 6.0

// drawn is a thumb-nail in the making.
type drawn struct {
	bytes.Buffer
	bound      orb.Bound
	along      float64 // of a unit to the east, in units to the north
	scale      float64
	left, high float64
}

// draw draws shapes; degrees says that they are in longitude and latitude.
func draw(shapes []shape, degrees bool) []byte {
	d := &drawn{along: 1, bound: orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}}
	for _, s := range shapes {
		if s.layer == "outline" {
			for _, line := range s.lines {
				for _, p := range line {
					d.bound = d.bound.Extend(p)
				}
			}
		}
	}
	_, _ = fmt.Fprintf(d, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f" fill-rule="evenodd">`, thumbWidth, thumbHeight, thumbWidth, thumbHeight)
	if d.bound.Min[0] <= d.bound.Max[0] {
		if degrees {
			d.along = math.Cos(d.bound.Center()[1] * math.Pi / 180)
		}
		width, height := (d.bound.Max[0]-d.bound.Min[0])*d.along, d.bound.Max[1]-d.bound.Min[1]
		d.scale = min((thumbWidth-2*thumbMargin)/max(width, 1e-12), (thumbHeight-2*thumbMargin)/max(height, 1e-12))
		d.left, d.high = (thumbWidth-width*d.scale)/2, (thumbHeight+height*d.scale)/2
		d.layer(shapes, "outline", "#fff", palette.Ink, 2.5)
		d.layer(shapes, "curb", "#bbb", palette.Ink, 1)
		d.layer(shapes, "pond", palette.Water, palette.Water, 1.5)
		d.layer(shapes, "outlet", palette.Primary, palette.Primary, 3)
	}
	d.WriteString("</svg>")
	return d.Bytes()
}

// layer draws the shapes of a layer in one style.
func (d *drawn) layer(shapes []shape, name, fill, stroke string, width float64) {
	for _, s := range shapes {
		switch {
		case s.layer != name:
		case s.point:
			x, y := d.at(s.lines[0][0])
			_, _ = fmt.Fprintf(d, `<circle cx="%.1f" cy="%.1f" r="2.5" fill="%s" stroke="%s"/>`, x, y, fill, stroke)
		default:
			inside, end := fill, "Z"
			if !s.area {
				inside, end = "none", ""
			}
			d.WriteString(`<path d="`)
			for _, line := range s.lines {
				d.line(line, end)
			}
			_, _ = fmt.Fprintf(d, `" fill="%s" stroke="%s" stroke-width="%g"/>`, inside, stroke, width)
		}
	}
}

func (d *drawn) at(p orb.Point) (x, y float64) {
	return d.left + (p[0]-d.bound.Min[0])*d.along*d.scale, d.high - (p[1]-d.bound.Min[1])*d.scale
}

func (d *drawn) line(points orb.LineString, end string) {
	for i, p := range points {
		x, y := d.at(p)
		_, _ = fmt.Fprintf(d, "%c%.1f %.1f", "ML"[min(i, 1)], x, y)
	}
	d.WriteString(end)
}

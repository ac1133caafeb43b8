package demo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
)

// collection gathers GeoJSON features, one a line.
type collection struct{ features []string }

// pair is one property.
type pair struct {
	name  string
	value any
}

// add appends a feature of the given role.
func (c *collection) add(geometry, coordinates string, properties ...pair) {
	c.features = append(c.features, fmt.Sprintf(
		`{"type":"Feature","properties":{%s},"geometry":{"type":%q,"coordinates":%s}}`, joined(properties, ","), geometry, coordinates))
}

// joined writes properties as JSON members.
func joined(properties []pair, separator string) string {
	return strings.Join(gather.Each(properties, func(p pair) string { return quote(p.name) + ":" + quote(p.value) }), separator)
}

// quote writes a value as JSON.
func quote(v any) string {
	switch raw := v.(type) {
	case json.Number:
		return raw.String()
	case json.RawMessage:
		return string(raw)
	}
	text, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("demo: %v cannot be written as JSON: %v", v, err))
	}
	return string(text)
}

// bytes writes the collection, with the members that say its frame and unit.
func (c *collection) bytes(members ...pair) []byte {
	var b bytes.Buffer
	b.WriteString("{\"type\":\"FeatureCollection\",\n")
	for _, m := range members {
		b.WriteString(quote(m.name) + ":" + quote(m.value) + ",\n")
	}
	b.WriteString("\"features\":[\n")
	for i, f := range c.features {
		b.WriteString(f)
		if i+1 < len(c.features) {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
	}
	b.WriteString("]}\n")
	return b.Bytes()
}

// members says the frame and the unit of a file; none for longitude and latitude.
func (f format) members() []pair {
	if f.geographic() {
		return nil
	}
	return []pair{{"frame", "local"}, {"units", f.units}}
}

// drawing writes what a drawing shows: the outline and the types of its edges.
func (r *Roof) drawing(c *collection) {
	s, f := r.survey.site, r.format
	ring := "[[" + f.flat(closed(s.outline)) + "]]"
	if f.corner {
		var corners []shot
		for _, p := range closed(s.outline) {
			for _, w := range r.survey.walls {
				if distance(w.at, p) <= same {
					corners = append(corners, shot{p, w.z})
					break
				}
			}
		}
		ring = "[[" + f.positions(corners) + "]]"
	}
	properties := []pair{{"role", "outline"}, {"name", s.name}, {"building", s.building}, {"edge", s.edge}}
	if s.rain != "" {
		properties = append(properties, pair{"rain_primary", s.rain}, pair{"rain_overflow", s.storm})
	}
	c.add("Polygon", ring, properties...)
	for _, e := range s.edges {
		c.add("LineString", "["+f.flat([]orb.Point{e.a, e.b})+"]", pair{"role", "edge"}, pair{"type", e.kind})
	}
	r.cut(c)
}

// field writes what was surveyed.
func (r *Roof) field(c *collection) {
	s, f := r.survey, r.format
	for i, k := range s.curbs {
		c.add("Polygon", "[["+f.positions(append(append([]shot{}, k...), k[0]))+"]]",
			pair{"role", "curb"}, pair{"label", s.site.curbs[i].label}, pair{"height", f.span(s.site.curbs[i].height)})
	}
	for i, line := range s.folds {
		c.add("LineString", "["+f.positions(line)+"]", pair{"role", "breakline"}, pair{"type", s.kinds[i]})
	}
	for i, o := range s.site.outlets {
		c.add("Point", f.position(o.at, math.NaN()), append([]pair{{"role", "outlet"}}, r.outlet(i)...)...)
	}
	for _, p := range r.points() {
		properties := []pair{{"role", "spot"}, {"id", p.id}}
		if f.sigma {
			m, _, d := f.unit()
			properties = append(properties, pair{"sigma", number(r.method.sigma/m, d+2)})
		}
		c.add("Point", f.position(p.at, p.z), properties...)
	}
}

// outlet returns the properties of outlet i.
func (r *Roof) outlet(i int) []pair {
	s, f := r.survey.site, r.format
	o := s.outlets[i]
	duty := choose.If(o.overflow, "overflow", "primary")
	list := []pair{
		{"type", o.kind},
		{"duty", duty},
		{"invert", json.Number(f.level(s.invert(i)))},
		{"label", o.label},
	}
	if o.leader > 0 {
		list = append(list, pair{"leader", f.span(o.leader)})
	}
	if o.kind == "drain" {
		return append(list, pair{"diameter", f.span(o.size)})
	}
	return append(list, pair{"width", f.span(o.size)}, pair{"opening_height", f.span(o.opening())})
}

// opening returns the height of a scupper's opening [m].
func (o *outlet) opening() float64 { return choose.If(o.height > 0, o.height, o.size/2) }

// point is a numbered spot.
type point struct {
	shot
	id string
}

// points numbers the spots: walls first, then the rest; corners are left out when the outline carries
// their elevations, and so are shots that stand in a line or a curb, unless they lie on such an outline.
func (r *Roof) points() []point {
	s := r.survey
	held := map[orb.Point]bool{}
	onWall := func(p orb.Point) bool { return offsetOf(p, closed(s.site.outline)) <= onto }
	for _, lines := range [][][]shot{s.curbs, s.folds} {
		for _, line := range lines {
			for _, p := range line {
				held[p.at] = !r.format.corner || !onWall(p.at)
			}
		}
	}
	if r.format.corner {
		for _, p := range s.walls {
			for _, q := range s.site.outline {
				held[p.at] = held[p.at] || distance(p.at, q) <= same
			}
		}
	}
	var list []point
	for _, shots := range [][]shot{s.walls, s.spots} {
		for _, p := range shots {
			if !held[p.at] {
				held[p.at] = true
				list = append(list, point{p, fmt.Sprint(101 + len(list))})
			}
		}
	}
	return list
}

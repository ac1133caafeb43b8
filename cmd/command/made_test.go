package command_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// made is an invented roof: a rectangle that falls to its south edge, with what makes its faults.
type made struct {
	name          string
	width, depth  float64 // [m]
	fall          float64 // rise over run towards the south edge
	columns, rows int     // spots
	noise         float64 // of elevations [m]
	seed          uint64

	edge     string  // of the outline: free, wall
	outlets  string  // features, commas before each
	pit      float64 // how far the middle lies below the plane [m]
	pitWide  float64 // its radius [m]
	dam      float64 // how far a strip along the south edge lies above the plane [m]
	damWide  float64 // how long it is [m]
	more     string  // properties of the outline, a comma before each
	surveyed string
}

// text returns the roof as GeoJSON on a site grid.
func (m made) text() string {
	random := rand.New(rand.NewPCG(m.seed, 7)) //nolint:gosec // only numbers
	var b strings.Builder
	edge := m.edge
	if edge == "" {
		edge = "free"
	}
	more := m.more
	if m.surveyed != "" {
		more += fmt.Sprintf(`,"surveyed":%q`, m.surveyed)
	}
	fmt.Fprintf(&b, `{"type":"FeatureCollection","units":"m","frame":"local","features":[{"type":"Feature","properties":{"role":"outline","name":%q,"edge":%q%s},`+
		`"geometry":{"type":"Polygon","coordinates":[[[0,0],[%g,0],[%g,%g],[0,%g],[0,0]]]}}`, m.name, edge, more, m.width, m.width, m.depth, m.depth)
	b.WriteString(m.outlets)
	for i := range m.columns {
		for k := range m.rows {
			x := m.width * (float64(i) + 0.5 + 0.3*(random.Float64()-0.5)) / float64(m.columns)
			y := m.depth * (float64(k) + 0.5 + 0.3*(random.Float64()-0.5)) / float64(m.rows)
			z := 10 + m.fall*y + m.noise*(2*random.Float64()-1)
			if dx, dy := x-m.width/2, y-m.depth/2; dx*dx+dy*dy < m.pitWide*m.pitWide {
				z = min(z, 10+m.fall*(m.depth/2-m.pitWide)-m.pit)
			}
			if y < 2 && math.Abs(x-m.width/2) < m.damWide/2 {
				z += m.dam
			}
			fmt.Fprintf(&b, `,{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[%.3f,%.3f,%.4f]}}`, x, y, z)
		}
	}
	b.WriteString("]}\n")
	return b.String()
}

// usualRoof is one of many: 150 spots, with a pit or without.
func usualRoof(i int) made {
	m := made{name: fmt.Sprintf("roof %05d", i), width: 24, depth: 12, fall: 0.02, columns: 15, rows: 10, noise: 0.002, seed: uint64(i) + 1} //nolint:gosec // small
	m.pit, m.pitWide = float64(i%4)*0.01, 1+float64(i%3)
	m.surveyed = fmt.Sprintf("%d-05-01", 2015+i%10)
	if i%3 == 0 {
		m.edge, m.outlets = "wall", drainAt(0.4)+overflowAt(4, 0, 10.05)
	}
	return m
}

// drainAt is a drain in the middle of a roof 24 m wide, its rim at 10 m.
func drainAt(y float64) string {
	return fmt.Sprintf(`,{"type":"Feature","properties":{"role":"outlet","type":"drain","invert":10},"geometry":{"type":"Point","coordinates":[12,%g]}}`, y)
}

func overflowAt(x, y, invert float64) string {
	return fmt.Sprintf(`,{"type":"Feature","properties":{"role":"outlet","type":"scupper","duty":"overflow","invert":%g,"width":0.3},"geometry":{"type":"Point","coordinates":[%g,%g]}}`, invert, x, y)
}

// spoil are ways in which the file of a roof is broken.
var spoil = []struct {
	what string
	do   func(text string) string
}{
	{"empty", func(string) string { return "" }},
	{"cut off", func(s string) string { return s[:len(s)/2] }},
	{"no JSON", func(string) string { return "hello" }},
	{"an array", func(string) string { return "[1,2]" }},
	{"no GeoJSON", func(string) string { return `{"a":1}` }},
	{"no features", func(string) string { return `{"type":"FeatureCollection","features":[]}` }},
	{"features are none", func(string) string { return `{"type":"FeatureCollection","features":5}` }},
	{"no outline", func(s string) string { return strings.Replace(s, `"role":"outline"`, `"layer":"outline"`, 1) }},
	{"unknown role", func(s string) string { return strings.Replace(s, `"role":"spot"`, `"role":"dot"`, 1) }},
	{"crossing outline", func(s string) string { return strings.Replace(s, "[24,0],[24,12],[0,12]", "[24,12],[24,0],[0,12]", 1) }},
	{"open outline", func(s string) string { return strings.Replace(s, ",[0,12],[0,0]]", ",[0,12]]", 1) }},
	{"a spot that is no number", func(s string) string { return strings.Replace(s, `"coordinates":[0.`, `"coordinates":["x",0.`, 1) }},
	{"not finite", func(s string) string { return strings.Replace(s, `"coordinates":[0.`, `"coordinates":[1e999,0.`, 1) }},
	{"unknown unit", func(s string) string { return strings.Replace(s, `"units":"m"`, `"units":"cubits"`, 1) }},
	{"no unit", func(s string) string { return strings.Replace(s, `"units":"m",`, "", 1) }},
	{"in degrees", func(s string) string { return strings.Replace(s, `,"frame":"local"`, "", 1) }},
	{"all outside", func(s string) string {
		return strings.Replace(s, "[[[0,0],[24,0],[24,12],[0,12],[0,0]]]", "[[[900,0],[924,0],[924,12],[900,12],[900,0]]]", 1)
	}},
	{"no spots", func(s string) string {
		before, _, _ := strings.Cut(s, `,{"type":"Feature","properties":{"role":"spot"`)
		return before + "]}"
	}},
	{"two outlines", func(s string) string {
		i := strings.Index(s, `{"type":"Feature"`)
		k := strings.Index(s, `,{"type":"Feature"`)
		return s[:k] + "," + s[i:k] + s[k:]
	}},
	{"not UTF-8", func(s string) string { return strings.Replace(s, "roof", "r\xff\xfeof", 1) }},
}

// makeCampus writes that many roofs into a folder, a file each; one in a hundred is broken, in each way in turn. It returns how many are.
func makeCampus(tb testing.TB, dir string, roofs int) (broken int) {
	tb.Helper()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		tb.Fatal(err)
	}
	for i := range roofs {
		text := usualRoof(i).text()
		if i%100 == 10 {
			text = spoil[broken%len(spoil)].do(text)
			broken++
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("roof-%05d.geojson", i)), []byte(text), 0o600); err != nil {
			tb.Fatal(err)
		}
	}
	return broken
}

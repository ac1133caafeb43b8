package drawing_test

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/analysis/roof"
	"runnel/cmd/demo"
	"runnel/export/drawing/pdf"
)

// foot [m], by definition.
const foot = 0.3048

// stated returns the scale that a sheet states, as the n of 1:n.
func stated(t *testing.T, texts string) float64 {
	t.Helper()
	found := regexp.MustCompile(`1:(\d+)`).FindStringSubmatch(texts)
	if found == nil {
		t.Fatal("no scale on the sheet")
	}
	return number(t, found[1])
}

// barEnd matches the last figure of a scale bar.
var barEnd = regexp.MustCompile(`^([\d.]+) (m|ft)$`)

// metres returns the length that the last figure of a scale bar states.
func metres(t *testing.T, found []string) float64 {
	t.Helper()
	length := number(t, found[1])
	if found[2] == "ft" {
		length *= foot
	}
	return length
}

// longestSide returns the longest side of the surveyed outline [m].
func longestSide(r *roof.Roof) float64 {
	longest := 0.0
	ring := r.Outline.Rings[0]
	for i := 1; i < len(ring); i++ {
		longest = max(longest, math.Hypot(ring[i].Plan[0]-ring[i-1].Plan[0], ring[i].Plan[1]-ring[i-1].Plan[1]))
	}
	return longest
}

var pair = regexp.MustCompile(`[ML] ?(-?[\d.]+) (-?[\d.]+)`)

// points returns the corners of an SVG path.
func points(t *testing.T, d string) [][2]float64 {
	t.Helper()
	var out [][2]float64
	for _, m := range pair.FindAllStringSubmatch(d, -1) {
		out = append(out, [2]float64{number(t, m[1]), number(t, m[2])})
	}
	return out
}

// TestMeasuresOfSVG measures scale bar and longest side with a ruler, so to say, and compares with the survey.
func TestMeasuresOfSVG(t *testing.T) {
	for _, d := range demo.Roofs() {
		r := read(t, d)
		all := elements(t, svgOf(t, planOf(t, book(t, r))))
		var texts strings.Builder
		zero, side := math.NaN(), 0.0
		for _, e := range all {
			texts.WriteString(e.text + "\n")
			if e.group == "plan-frame" && e.text == "0" {
				zero = number(t, e.attributes["x"])
			}
		}
		scale := stated(t, texts.String())
		bars := 0
		for _, e := range all {
			if found := barEnd.FindStringSubmatch(e.text); found != nil && e.group == "plan-frame" && number(t, e.attributes["y"]) > 150 && e.attributes["transform"] == "" {
				if want := metres(t, found) * 1000 / scale; math.Abs(number(t, e.attributes["x"])-zero-want) < 0.02 {
					bars++
				}
			}
			if e.group == "plan-edges" && side == 0 && e.name == "path" {
				p := points(t, e.attributes["d"])
				for i := range p {
					q := p[(i+1)%len(p)]
					side = max(side, math.Hypot(q[0]-p[i][0], q[1]-p[i][1]))
				}
			}
		}
		if bars != 1 {
			t.Errorf("%s: %d scale bars measure what they state", d.Stem(), bars)
		}
		if want := longestSide(r) * 1000 / scale; !(math.Abs(side-want) <= 0.03) {
			t.Errorf("%s: the longest side measures %.2f mm, want %.2f", d.Stem(), side, want)
		}
	}
}

var (
	word     = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>`)
	path     = regexp.MustCompile(`<path[^>]* d="([^"]*)"[^>]*transform="matrix\(([^)]*)\)"`)
	points72 = 72 / 25.4 // points a millimetre
)

// TestMeasuresOfPDF does the same with the PDF as another program reads it: words by pdftotext, paths by pdftocairo.
func TestMeasuresOfPDF(t *testing.T) {
	for _, d := range demo.Roofs()[:4] {
		r := read(t, d)
		var file bytes.Buffer
		if err := pdf.Write(&file, planOf(t, book(t, r))); err != nil {
			t.Fatal(err)
		}
		text := string(reference.Run(t, "poppler-utils", file.Bytes(), "pdftotext", "-layout", "-", "-"))
		if !strings.Contains(strings.Join(strings.Fields(text), " "), "This does not say that the roof can carry the water.") || !strings.Contains(text, r.Name) {
			t.Errorf("%s: the text of the sheet is %q", d.Stem(), text)
		}
		scale := stated(t, text)
		boxes := string(reference.Run(t, "poppler-utils", file.Bytes(), "pdftotext", "-bbox", "-", "-"))
		words := word.FindAllStringSubmatch(boxes, -1)
		if !barMeasures(t, words, scale) {
			t.Errorf("%s: no scale bar measures what it states", d.Stem())
		}
		drawn := string(reference.Run(t, "poppler-utils", file.Bytes(), "pdftocairo", "-svg", "-noshrink", "-nocenter", "-", "-"))
		want, found := longestSide(r)*1000/scale*points72, false
		for _, m := range path.FindAllStringSubmatch(drawn, -1) {
			found = found || hasSide(t, m[1], m[2], want)
		}
		if !found {
			t.Errorf("%s: no line of %.2f points as the longest side of the roof", d.Stem(), want)
		}
	}
}

// barMeasures looks for "0" and "n m" in one line, whose middles are as far apart as n is on paper.
func barMeasures(t *testing.T, words [][]string, scale float64) bool {
	t.Helper()
	for i := range words[1:] {
		found := barEnd.FindStringSubmatch(words[i][5] + " " + words[i+1][5])
		if found == nil {
			continue
		}
		want := metres(t, found) * 1000 / scale * points72
		for _, w := range words {
			middle := (number(t, w[1]) + number(t, w[3])) / 2
			if w[5] == "0" && math.Abs((number(t, words[i][1])+number(t, words[i+1][3]))/2-middle-want) < 0.1 {
				return true
			}
		}
	}
	return false
}

// hasSide reports whether a path has a side of that length, the largest of them all.
func hasSide(t *testing.T, d, matrix string, want float64) bool {
	t.Helper()
	m := strings.FieldsFunc(matrix, func(r rune) bool { return r == ',' || r == ' ' })
	k, err := strconv.ParseFloat(m[0], 64)
	if err != nil {
		t.Fatal(err)
	}
	p := points(t, d)
	for i := range p {
		q := p[(i+1)%len(p)]
		if len(p) > 3 && math.Abs(math.Hypot(q[0]-p[i][0], q[1]-p[i][1])*math.Abs(k)-want) < 0.1 {
			return true
		}
	}
	return false
}

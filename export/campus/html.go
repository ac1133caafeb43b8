package campus

import (
	"bufio"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"net/url"
	"strconv"
	"strings"
	"sync"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/caution"
	"runnel/export/record"
)

var (
	//go:embed page/campus.html
	htmlBody string
	//go:embed page/campus.css
	htmlStyle string
	//go:embed page/campus.js
	htmlScript string
)

var htmlTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("campus").Parse(htmlBody)) })

// mostInPage is how many roofs the page lists; the table in CSV has all.
const mostInPage = 5000

// htmlPage is what the template shows.
type htmlPage struct {
	Heading, Summary, KeepOff, Rule string
	Classes                         []class
	Map                             *drawnMap
	Bars                            []bars
	Heads                           []string
	Rows                            []htmlRow
	More                            int
	Cautions                        []string
}

// class is what roofs are filtered by: their worst finding.
type class struct {
	Key, Label string
	Count      int
}

type htmlRow struct {
	Number                    int
	Class, Name, Report, What string
	KeepOff                   bool
	Cells                     []htmlCell
}

type htmlCell struct {
	Text   string
	Number bool
	Value  string
}

type bars struct {
	Caption string
	Rows    []barRow
}

type barRow struct {
	Label string
	Count int
	Width float64
}

// WriteHTML writes the page of a campus: one file that opens offline. reports says that each roof's report stands beside it. The rows must be sorted.
func WriteHTML(w io.Writer, rows []Row, u record.Units, reports bool) error {
	out := bufio.NewWriter(w)
	hash := func(text string) string {
		sum := sha256.Sum256([]byte(text))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	put := func(parts ...string) {
		for _, p := range parts {
			_, _ = out.WriteString(p) // bufio keeps the error for Flush
		}
	}
	put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; base-uri 'none'; form-action 'none'; script-src ",
		hash(htmlScript), "; style-src ", hash(htmlStyle), "\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Roofs</title>\n<style>", htmlStyle, "</style>\n</head>\n")
	if err := htmlTemplate().Execute(out, newPage(rows, u, reports)); err != nil {
		return fmt.Errorf("lay out the page of the campus: %w", err)
	}
	put("<script>", htmlScript, "</script>\n</body>\n</html>\n")
	return out.Flush()
}

func newPage(rows []Row, u record.Units, reports bool) *htmlPage {
	p := &htmlPage{
		Rule: strings.Join(strings.Fields(Rule), " "), KeepOff: strings.TrimSpace(keepOff(rows)), Cautions: caution.Texts(inspection.Everywhere()),
		Heads: []string{"roof", "urgent", "repair", "note", "ponds", "deepest pond", "ponds weigh", "load at the deepest", "roof area", "no way out", "surveyed"},
	}
	p.Classes = []class{{"urgent", "urgent", 0}, {"repair", "repair", 0}, {"note", "note", 0}, {"none", "none", 0}, {"failed", "not checked", 0}}
	for i := range rows {
		for k := range p.Classes {
			if p.Classes[k].Key == classOf(&rows[i]) {
				p.Classes[k].Count++
			}
		}
	}
	p.Heading = fmt.Sprintf("%d roofs", len(rows))
	p.Summary = fmt.Sprintf("%d with something urgent, %d to repair, %d with notes only, %d without a finding, %d that could not be checked.",
		p.Classes[0].Count, p.Classes[1].Count, p.Classes[2].Count, p.Classes[3].Count, p.Classes[4].Count)
	p.More = max(0, len(rows)-mostInPage)
	for i := range rows[:min(mostInPage, len(rows))] {
		p.Rows = append(p.Rows, newRow(&rows[i], i+1, u, reports))
	}
	p.Map = mapOf(rows[:min(mostInPage, len(rows))], u)
	p.Bars = distributions(rows, u)
	return p
}

// classOf is the worst finding of a roof.
func classOf(r *Row) string {
	switch {
	case r.Reason != "":
		return "failed"
	case r.Counts[finding.Urgent] > 0:
		return "urgent"
	case r.Counts[finding.Repair] > 0:
		return "repair"
	case r.Counts[finding.Note] > 0:
		return "note"
	}
	return "none"
}

func newRow(r *Row, number int, u record.Units, reports bool) htmlRow {
	row := htmlRow{Number: number, Class: classOf(r), Name: fullName(r), KeepOff: r.KeepOff, What: u.SayText(r.What)}
	if r.Reason != "" {
		row.What = "Not checked: " + r.Reason
		row.Cells = make([]htmlCell, 10)
		return row
	}
	if reports {
		row.Report = url.PathEscape(r.Stem) + ".report.html"
	}
	number2 := func(text string, value float64) htmlCell {
		return htmlCell{text, true, strconv.FormatFloat(value, 'g', 8, 64)}
	}
	count := func(n int) htmlCell { return number2(strconv.Itoa(n), float64(n)) }
	row.Cells = []htmlCell{count(r.Counts[finding.Urgent]), count(r.Counts[finding.Repair]), count(r.Counts[finding.Note]), count(r.Ponds)}
	depth, weight, load := "-", "-", "-"
	if r.Ponds > 0 {
		depth, weight, load = u.SayDepth(r.Depth), u.SayMass(r.Weight), u.SayPressure(r.Load)
	}
	row.Cells = append(row.Cells, number2(depth, r.Depth), number2(weight, r.Weight), number2(load, r.Load), number2(u.SayArea(r.Area), r.Area))
	if r.Undrained > 0 {
		row.Cells = append(row.Cells, number2(u.SayArea(r.Undrained), r.Undrained))
	} else {
		row.Cells = append(row.Cells, number2("-", 0))
	}
	row.Cells = append(row.Cells, htmlCell{Text: r.Surveyed})
	return row
}

// distributions count the roofs by how deep their deepest pond is, what their ponds weigh at the deepest, and the year of their survey.
func distributions(rows []Row, u record.Units) []bars {
	depths := []float64{0.0127, 0.0254, 0.0508, 0.1016}
	loads := []float64{5, 10, 20, 40}
	perLoad := quantity.PoundPerSquareFoot
	if u == record.SI {
		depths, loads, perLoad = []float64{0.01, 0.025, 0.05, 0.1}, []float64{0.25, 0.5, 1, 2}, 1000
	}
	for i := range loads {
		loads[i] *= perLoad
	}
	out := []bars{
		{"Deepest pond", steps(rows, depths, u.SayDepth, func(r *Row) (float64, bool) { return r.Depth, r.Ponds > 0 })},
		{"Load where it is deepest", steps(rows, loads, u.SayPressure, func(r *Row) (float64, bool) { return r.Load, r.Ponds > 0 })},
	}
	if years := surveyYears(rows); len(years) > 0 {
		out = append(out, bars{"Year of the survey", years})
	}
	return out
}

// steps counts roofs by where a figure of theirs lies between limits.
func steps(rows []Row, limits []float64, say func(float64) string, figure func(*Row) (float64, bool)) []barRow {
	out := []barRow{{Label: "no pond"}}
	for i, l := range limits {
		if i == 0 {
			out = append(out, barRow{Label: "to " + say(l)})
		} else {
			out = append(out, barRow{Label: say(limits[i-1]) + " to " + say(l)})
		}
	}
	out = append(out, barRow{Label: "over " + say(limits[len(limits)-1])})
	for i := range rows {
		r := &rows[i]
		if r.Reason != "" {
			continue
		}
		v, ok := figure(r)
		k := 0
		if ok {
			for k = 1; k <= len(limits) && v > limits[k-1]; k++ { //nolint:revive // it only counts
			}
		}
		out[k].Count++
	}
	return scaled(out)
}

// surveyYears counts roofs by the year in which they were surveyed.
func surveyYears(rows []Row) []barRow {
	count := map[string]int{}
	first, last := math.MaxInt, 0
	for i := range rows {
		if y, err := strconv.Atoi(strings.SplitN(rows[i].Surveyed, "-", 2)[0]); err == nil && y > 1900 && y < 3000 {
			count[strconv.Itoa(y)]++
			first, last = min(first, y), max(last, y)
		}
	}
	const most = 15
	var out []barRow
	for y := max(first, last-most); y <= last; y++ {
		out = append(out, barRow{Label: strconv.Itoa(y), Count: count[strconv.Itoa(y)]})
	}
	return scaled(out)
}

func scaled(rows []barRow) []barRow {
	most := 1
	for _, r := range rows {
		most = max(most, r.Count)
	}
	for i := range rows {
		rows[i].Width = math.Round(1200*float64(rows[i].Count)/float64(most)) / 10
	}
	return rows
}

// drawnMap is the map of a campus.
type drawnMap struct {
	Width, Height float64
	Shapes        []drawnRoof
}

type drawnRoof struct {
	Row                int
	Class, Path, Title string
}

// mapWidth is how wide the map is [units of its drawing].
const mapWidth = 1000.0

// mapOf draws the outlines, where they are in longitude and latitude; nil where fewer than two are: roofs on site grids of their own have no place on one map.
func mapOf(rows []Row, u record.Units) *drawnMap {
	west, south, east, north := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	n := 0
	for i := range rows {
		if !onMap(&rows[i]) {
			continue
		}
		n++
		for _, p := range rows[i].Rings[0] {
			at := rows[i].Frame.ToFile(p.Plan)
			west, east, south, north = min(west, at[0]), max(east, at[0]), min(south, at[1]), max(north, at[1])
		}
	}
	if n < 2 {
		return nil
	}
	along := math.Cos((south + north) / 2 * math.Pi / 180)
	scale := (mapWidth - 40) / max((east-west)*along, (north-south)/0.8, 1e-9)
	m := &drawnMap{Width: mapWidth, Height: math.Ceil((north-south)*scale) + 40}
	for i := range rows {
		if !onMap(&rows[i]) {
			continue
		}
		var b strings.Builder
		for k, p := range rows[i].Rings[0] {
			at := rows[i].Frame.ToFile(p.Plan)
			b.WriteByte("ML"[min(k, 1)])
			b.WriteString(strconv.FormatFloat(20+(at[0]-west)*along*scale, 'f', 1, 64) + " " + strconv.FormatFloat(20+(north-at[1])*scale, 'f', 1, 64))
		}
		m.Shapes = append(m.Shapes, drawnRoof{i + 1, classOf(&rows[i]), b.String() + "Z", fullName(&rows[i]) + ": " + headline(&rows[i], u)})
	}
	return m
}

func onMap(r *Row) bool { return len(r.Rings) > 0 && r.Frame.Kind == roof.Geographic }

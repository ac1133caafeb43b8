package campus

import (
	"bufio"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"net/url"
	"slices"
	"strconv"
	"sync"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
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

var htmlTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("campus").Funcs(template.FuncMap{"count": count}).Parse(htmlBody))
})

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

// class is what roofs are filtered by: whether people are to keep off, else their worst finding.
type class struct {
	Key, Label string
	Count      int
}

// classes of roofs, as classOf counts them.
var classes = [...]class{{"off", "keep off", 0}, {"urgent", "urgent", 0}, {"repair", "repair", 0}, {"note", "note", 0}, {"none", "none", 0}, {"blind", "outlets not surveyed", 0}, {"failed", "not checked", 0}}

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

// html is the page of a campus for a browser: one file that opens offline.
type html struct {
	out   io.Writer
	total *Total
	Options
	page   htmlPage
	placed []placed

	gridded int // roofs of the page on site grids
	off     keepOff
	bars    []*histogram
	years   years
}

func newHTML(out io.Writer, total *Total, o Options) *html {
	return &html{out: out, total: total, Options: o, bars: histograms(o.Units), years: years{}}
}

func (h *html) row(e *entry) error {
	r, number := &e.Row, e.number
	h.off.add(r)
	for _, b := range h.bars {
		b.add(r)
	}
	h.years.add(r)
	if number > mostInPage {
		return nil
	}
	h.page.Rows = append(h.page.Rows, newRow(r, number, h.Units, h.Reports))
	if len(r.Rings) > 0 && r.Frame.Kind == roof.Geographic {
		h.placed = append(h.placed, newPlaced(r, number, h.Units))
	} else if len(r.Rings) > 0 {
		h.gridded++
	}
	return nil
}

func (h *html) end() error {
	h.fill()
	out := bufio.NewWriter(h.out)
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
	if err := htmlTemplate().Execute(out, &h.page); err != nil {
		return fmt.Errorf("lay out the page of the campus: %w", err)
	}
	put("<script>", htmlScript, "</script>\n</body>\n</html>\n")
	return out.Flush()
}

// fill sets what the page says beside its rows.
func (h *html) fill() {
	p := &h.page
	p.Rule, p.KeepOff, p.Cautions = h.Rank.Say(), h.off.say(), caution.Texts(inspection.Everywhere())
	p.Heads = []string{"roof", "urgent", "repair", "note", "ponds", "deepest pond", "ponds weigh", "load at the deepest", "load, outlets blocked", "roof area", "no way out", "surveyed"}
	p.Classes = slices.Clone(classes[:])
	for i := range p.Classes {
		p.Classes[i].Count = h.total.Classes[i]
	}
	p.Heading = count(h.total.Roofs) + " roofs"
	if h.total.Roofs == 1 {
		p.Heading = "1 roof"
	}
	of := func(class int) string { return count(p.Classes[class].Count) }
	p.Summary = fmt.Sprintf("%s to keep off, %s more with something urgent, %s to repair, %s with notes only, %s without a finding, %s whose outlets were not surveyed, %s that could not be checked.",
		of(0), of(1), of(2), of(3), of(4), of(5), of(6))
	p.More = max(0, h.total.Roofs-mostInPage)
	if p.Map = mapOf(h.placed); p.Map != nil {
		p.Map.Off = offMap(h.gridded)
	}
	for _, b := range h.bars {
		p.Bars = append(p.Bars, bars{b.caption, scaled(b.rows)})
	}
	if rows := h.years.rows(); len(rows) > 0 {
		p.Bars = append(p.Bars, bars{"Year of the survey", rows})
	}
}

// count writes a whole number with commas between the thousands.
func count(n int) string { return record.Count(float64(n)) }

func newRow(r *Row, number int, u record.Units, reports bool) htmlRow {
	row := htmlRow{Number: number, Class: classes[classOf(r)].Key, Name: fullName(r), KeepOff: r.KeepOff, What: u.SayText(r.What)}
	if r.Reason != "" {
		row.What = "Not checked: " + r.Reason
		return row
	}
	if reports {
		row.Report = url.PathEscape(r.Stem) + ".report.html"
	}
	number2 := func(text string, value float64) htmlCell {
		return htmlCell{text, true, strconv.FormatFloat(value, 'g', 8, 64)}
	}
	counted := func(n int) htmlCell { return number2(count(n), float64(n)) }
	row.Cells = []htmlCell{counted(r.Counts[finding.Urgent]), counted(r.Counts[finding.Repair]), counted(r.Counts[finding.Note]), counted(r.Ponds)}
	depth, weight, load := "-", "-", "-"
	if r.Ponds > 0 {
		depth, weight, load = u.SayDepth(r.Depth), u.SayMass(r.Weight), u.SayPressure(r.Load)
	}
	blocked := choose.If(r.Blocked > 0, u.SayPressure(r.Blocked), "-")
	row.Cells = append(row.Cells, number2(depth, r.Depth), number2(weight, r.Weight), number2(load, r.Load), number2(blocked, r.Blocked), number2(u.SayArea(r.Area), r.Area))
	if r.Undrained > 0 {
		row.Cells = append(row.Cells, number2(u.SayArea(r.Undrained), r.Undrained))
	} else {
		row.Cells = append(row.Cells, number2("-", 0))
	}
	row.Cells = append(row.Cells, htmlCell{Text: r.Surveyed})
	return row
}

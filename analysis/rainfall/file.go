package rainfall

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/textfile"
)

// FileError says what is wrong in a file of rain, where, and what mends it.
type FileError struct {
	File string
	Line int // 0: the file as a whole
	Text string
}

// Error returns "file: line 3: what is wrong".
func (e *FileError) Error() string {
	return choose.If(e.Line == 0, e.File+": "+e.Text, fmt.Sprintf("%s: line %d: %s", e.File, e.Line, e.Text))
}

// maxRows and maxBytes bound a file of rain.
const (
	maxRows  = 100000
	maxBytes = 16 << 20
)

// column is how one heading of a file is read.
type column struct {
	is   string // "time", "duration", "depth", "cumulative", "rate", "fraction"
	size float64
}

// columns are the headings that are read, in small letters with underscores; sizes take their numbers to SI.
var columns = map[string]column{
	"time_s": {"time", 1}, "time_min": {"time", 60}, "time_h": {"time", 3600},
	"duration_s": {"duration", 1}, "duration_min": {"duration", 60}, "duration_h": {"duration", 3600},
	"depth_in": {"depth", float64(quantity.Inch)}, "depth_mm": {"depth", 0.001},
	"cumulative_in": {"cumulative", float64(quantity.Inch)}, "cumulative_mm": {"cumulative", 0.001},
	"rate_in_per_h": {"rate", float64(quantity.InchPerHour)}, "rate_mm_per_h": {"rate", float64(quantity.MillimetrePerHour)},
	"rate_l_per_s_ha": {"rate", 1e-7}, "rate_l_per_s_per_ha": {"rate", 1e-7}, "rate_l_per_s_m2": {"rate", 1e-3}, "rate_l_per_s_per_m2": {"rate", 1e-3},
	"fraction": {"fraction", 1}, "fraction_pct": {"fraction", 0.01},
}

// headings names what a file of a storm and one of intensities may be headed by.
const (
	stormHeadings = "time_min (or _h, _s) and one of cumulative_in, depth_in (_mm), rate_in_per_h (rate_mm_per_h, rate_l_per_s_ha), fraction"
	idfHeadings   = "duration_min (or _h, _s) and one of depth_in (_mm), rate_in_per_h (rate_mm_per_h, rate_l_per_s_ha)"
)

// table is two columns of a file in SI.
type table struct {
	file  string
	is    string // of the second column
	x, y  []float64
	lines []int
}

func (t *table) fail(i int, format string, args ...any) error {
	return &FileError{File: t.file, Line: t.lines[i], Text: fmt.Sprintf(format, args...)}
}

// heading brings a heading to the form of columns: "Rate (in/h)" is rate_in_per_h.
func heading(text string) string {
	text = strings.NewReplacer("/", " per ", "(", " ", ")", " ", "[", " ", "]", " ", "_", " ", "%", " pct ").Replace(strings.ToLower(text))
	return strings.Join(strings.Fields(text), "_")
}

// readTable reads a CSV file with a heading, of which first and any one of second are taken.
func readTable(r io.Reader, file, first string, second []string, wanted string) (*table, error) {
	content, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, &FileError{File: file, Text: err.Error()}
	}
	if len(content) > maxBytes {
		return nil, &FileError{File: file, Text: "it is longer than 16 MB: no rain gauge needs that; look whether it is the right file"}
	}
	if rule, mend := textfile.NotText(content); rule != "" {
		return nil, &FileError{File: file, Text: rule + "; " + mend}
	}
	c := csv.NewReader(bytes.NewReader(content))
	c.Comment, c.TrimLeadingSpace, c.ReuseRecord = '#', true, true
	heads, err := c.Read()
	if err != nil {
		return nil, &FileError{File: file, Text: "it has no heading: " + wanted}
	}
	t := &table{file: file}
	pair, err := t.heads(heads, first, second, wanted)
	if err != nil {
		return nil, err
	}
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, broken(err, file, len(heads))
		}
		line, _ := c.FieldPos(0)
		if err := t.add(line, row, pair, first); err != nil {
			return nil, err
		}
	}
	if len(t.x) < 2 {
		return nil, &FileError{File: file, Text: "it needs two rows or more"}
	}
	return t, nil
}

// broken says how a row that cannot be read is mended.
func broken(err error, file string, columns int) error {
	var bad *csv.ParseError
	switch {
	case !errors.As(err, &bad):
		return &FileError{File: file, Text: err.Error()}
	case errors.Is(bad.Err, csv.ErrFieldCount):
		return &FileError{File: file, Line: bad.Line, Text: fmt.Sprintf("the row has not the %d fields that the heading has: write one value for each column, with points in decimals", columns)}
	}
	return &FileError{File: file, Line: bad.Line, Text: fmt.Sprintf("the quotes do not match at column %d: take them out, numbers need none", bad.Column)}
}

// place is where one of the two columns stands in a row, and its size.
type place struct {
	at   int
	size float64
}

// heads finds the two columns in the headings.
func (t *table) heads(heads []string, first string, second []string, wanted string) (pair [2]place, err error) {
	for i, text := range heads {
		k := columns[heading(strings.TrimPrefix(text, "\ufeff"))]
		switch {
		case k.is == first && pair[0].size == 0:
			pair[0] = place{i, k.size}
		case pair[1].size == 0 && slices.Contains(second, k.is):
			pair[1], t.is = place{i, k.size}, k.is
		default:
			why := fmt.Sprintf("the heading %.20q is not wanted: give %s", text, wanted)
			if strings.ContainsAny(text, ";\t") {
				why += ", with commas between columns and points in decimals"
			}
			return pair, &FileError{File: t.file, Line: 1, Text: why}
		}
	}
	if pair[0].size == 0 || pair[1].size == 0 {
		return pair, &FileError{File: t.file, Line: 1, Text: "the heading must have " + wanted}
	}
	return pair, nil
}

// add takes one row.
func (t *table) add(line int, row []string, pair [2]place, first string) error {
	t.lines = append(t.lines, line)
	last := len(t.lines) - 1
	if last >= maxRows {
		return t.fail(last, "there are more than %d rows", maxRows)
	}
	for j, to := range []*[]float64{&t.x, &t.y} {
		v, err := strconv.ParseFloat(strings.TrimSpace(row[pair[j].at]), 64)
		if err != nil || math.IsNaN(v) || v < 0 || v > 1e9 {
			return t.fail(last, "%.20q is not a number of 0 or more", row[pair[j].at])
		}
		*to = append(*to, v*pair[j].size)
	}
	if last > 0 && t.x[last] <= t.x[last-1] {
		return t.fail(last, "the %s does not rise: sort the rows and leave doubles out", first)
	}
	return nil
}

// ReadPattern reads the course of a storm from a CSV file: time against what has fallen by then (cumulative, or
// fraction of all), what fell since the row before (depth), or the rate from then on until the next row (rate, 0 in the last).
// The heading names the columns with their units. What does not add up is a *FileError with its line and a mend.
func ReadPattern(r io.Reader, file string) (*Pattern, error) {
	t, err := readTable(r, file, "time", []string{"depth", "cumulative", "rate", "fraction"}, stormHeadings)
	if err != nil {
		return nil, err
	}
	if err := t.accumulate(); err != nil {
		return nil, err
	}
	last := len(t.x) - 1
	all, duration := t.y[last], t.x[last]
	if !(all > 0) {
		return nil, &FileError{File: file, Text: "no rain falls in it"}
	}
	if t.is == "fraction" && math.Abs(all-1) > 0.001 {
		return nil, t.fail(last, "the fractions end at %.4g, not at 1: add the rows that are missing, or divide all by %.4g", all, all)
	}
	p := &Pattern{Name: file, Source: standard.Source{Text: "stated by the user: " + file}, Duration: duration}
	if t.is != "fraction" {
		p.Depth = all
	}
	for i := range t.x {
		p.Time, p.Fraction = append(p.Time, t.x[i]/duration), append(p.Fraction, t.y[i]/all)
	}
	return p, nil
}

// accumulate turns the second column into what has fallen by each time, with a first row at time 0.
func (t *table) accumulate() error {
	if t.is == "rate" {
		return t.accumulateRates()
	}
	if t.x[0] == 0 && t.y[0] != 0 {
		return t.fail(0, "rain has fallen at time 0: begin with 0")
	}
	if t.x[0] > 0 {
		t.x, t.y, t.lines = append([]float64{0}, t.x...), append([]float64{0}, t.y...), append([]int{t.lines[0]}, t.lines...)
	}
	for i := 1; i < len(t.y); i++ {
		switch {
		case t.is == "depth":
			t.y[i] += t.y[i-1]
		case t.y[i] < t.y[i-1]:
			return t.fail(i, "less has fallen than in the row before: if these are depths of each step, head the column depth")
		}
	}
	return nil
}

// accumulateRates does so for rates, each of which holds until the next row.
func (t *table) accumulateRates() error {
	last := len(t.y) - 1
	if t.x[0] != 0 {
		return t.fail(0, "the first rate must hold from time 0: begin with a row for 0")
	}
	if t.y[last] != 0 {
		return t.fail(last, "the last rate has no end: close with a row of rate 0 at the time the rain ends")
	}
	fallen := 0.0
	for i, rate := range t.y {
		t.y[i] = fallen
		if i < last {
			fallen += float64(rate * (t.x[i+1] - t.x[i]))
		}
	}
	return nil
}

// ReadIDF reads intensities by duration from a CSV file: duration against depth or rate, with units in the heading.
func ReadIDF(r io.Reader, file string) (*IDF, error) {
	t, err := readTable(r, file, "duration", []string{"depth", "rate"}, idfHeadings)
	if err != nil {
		return nil, err
	}
	for i := range t.y {
		if t.x[i] == 0 {
			return nil, t.fail(i, "rain of no duration has no depth: leave the row out")
		}
		if t.is == "rate" {
			t.y[i] *= t.x[i]
		}
		if i > 0 && t.y[i] < t.y[i-1]*(1-1e-3) {
			return nil, t.fail(i, "the rain of this duration is less deep than the shorter one before: look at the row")
		}
	}
	return &IDF{Duration: t.x, Depth: t.y}, nil
}

package campus

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"runnel/analysis/quantity"
	"runnel/export/record"
)

// histogram counts roofs by where a figure of theirs lies between limits.
type histogram struct {
	caption string
	limits  []float64
	figure  func(*Row) float64
	rows    []barRow
}

// histograms count the roofs by how deep their deepest pond is, by the load there, and by the load with outlets blocked.
func histograms(u record.Units) []*histogram {
	depths := []float64{0.0127, 0.0254, 0.0508, 0.1016}
	loads := []float64{5, 10, 20, 40}
	perLoad := quantity.PoundPerSquareFoot
	if u == record.SI {
		depths, loads, perLoad = []float64{0.01, 0.025, 0.05, 0.1}, []float64{0.25, 0.5, 1, 2}, 1000
	}
	for i := range loads {
		loads[i] *= perLoad
	}
	return []*histogram{
		newHistogram("Deepest pond", "no pond", depths, u.SayDepth, func(r *Row) float64 { return r.Depth }),
		newHistogram("Load where it is deepest", "no pond", loads, u.SayPressure, func(r *Row) float64 { return r.Load }),
		newHistogram("Load with outlets blocked", "none, or not known", loads, u.SayPressure, func(r *Row) float64 { return r.Blocked }),
	}
}

func newHistogram(caption, none string, limits []float64, say func(float64) string, figure func(*Row) float64) *histogram {
	h := &histogram{caption: caption, limits: limits, figure: figure, rows: []barRow{{Label: none}}}
	for i, l := range limits {
		if i == 0 {
			h.rows = append(h.rows, barRow{Label: "to " + say(l)})
		} else {
			h.rows = append(h.rows, barRow{Label: say(limits[i-1]) + " to " + say(l)})
		}
	}
	h.rows = append(h.rows, barRow{Label: "over " + say(limits[len(limits)-1])})
	return h
}

// add counts a roof that could be checked.
func (h *histogram) add(r *Row) {
	if r.Reason != "" {
		return
	}
	k, v := 0, h.figure(r)
	if v > 0 {
		k = 1
		for k <= len(h.limits) && v > h.limits[k-1] {
			k++
		}
	}
	h.rows[k].Count++
}

// years counts roofs by the year in which they were surveyed; 0 stands for those that do not say.
type years map[int]int

// add counts a roof that could be checked.
func (y years) add(r *Row) {
	if r.Reason != "" {
		return
	}
	n, err := strconv.Atoi(strings.SplitN(r.Surveyed, "-", 2)[0])
	if err != nil || n <= 1900 || n >= 3000 {
		n = 0
	}
	y[n]++
}

// mostYears is how many years are shown one by one, the last ones.
const mostYears = 15

// rows returns a bar for each year, one for all years before those, and one for the roofs that do not say; none where none says.
func (y years) rows() []barRow {
	first, last := math.MaxInt, 0
	for n := range y {
		if n > 0 {
			first, last = min(first, n), max(last, n)
		}
	}
	if last == 0 {
		return nil
	}
	var out []barRow
	if from := last - mostYears + 1; first < from {
		before := 0
		for n, count := range y {
			if n > 0 && n < from {
				before += count
			}
		}
		out, first = append(out, barRow{Label: fmt.Sprintf("before %d", from), Count: before}), from
	}
	for n := first; n <= last; n++ {
		out = append(out, barRow{Label: strconv.Itoa(n), Count: y[n]})
	}
	if y[0] > 0 {
		out = append(out, barRow{Label: "not said", Count: y[0]})
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

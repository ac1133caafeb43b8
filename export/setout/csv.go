package setout

import (
	"encoding/csv"
	"io"
	"strconv"

	"runnel/analysis/quantity"
	"runnel/export/caution"
	"runnel/export/cell"
	"runnel/export/record"
)

// columns is the heading of the CSV file.
var columns = []string{
	"point", "kind", "id", "what", "from_wall_a_m", "from_wall_a", "from_wall_b_m", "from_wall_b", "from_corner_m", "from_corner",
	"surface_mm", "surface_eighths", "inlet_mm", "inlet_eighths",
}

// WriteCSV writes the points as CSV: first the two walls and the bench mark, then the points, then the cautions. Distances stand in
// metres and in feet and inches; elevations relative to the bench mark in millimetres, negative below it, and in inches to the nearest eighth.
func (s *Sheet) WriteCSV(out io.Writer) error {
	w := csv.NewWriter(out)
	rows := [][]string{columns}
	note := func(kind, text string) {
		row := make([]string, len(columns))
		row[1], row[3] = kind, cell.Text(text)
		rows = append(rows, row)
	}
	if first, ok := s.book.KeepOff(); ok {
		note("keep-off", first.Say())
	}
	for i := range s.Walls {
		note("wall", s.wallText(i))
	}
	note("bench-mark", s.markText())
	for i := range s.Points {
		rows = append(rows, s.cells(&s.Points[i]))
	}
	note("caution", verify)
	if s.book.Proposed {
		note("caution", caution.Design)
	}
	for _, text := range caution.Texts(s.book.Study.Cautions) {
		note("caution", text)
	}
	for _, row := range rows {
		if err := w.Write(row); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func (s *Sheet) cells(p *Point) []string {
	row := []string{strconv.Itoa(p.Number), string(p.Kind), cell.Text(p.ID), cell.Text(p.What)}
	for _, d := range []float64{p.A, p.B, p.Corner} {
		row = append(row, plain(d, 3), tape(d))
	}
	for _, e := range []struct {
		z   float64
		has bool
	}{{p.Surface, p.HasSurface}, {p.Inlet, p.HasInlet}} {
		if !e.has {
			row = append(row, "", "")
			continue
		}
		z := s.Relative(e.z)
		row = append(row, plain(z*1000, 0), eighths(z))
	}
	return row
}

// plain writes a number with that many decimals at most.
func plain(v float64, decimals int) string { return string(record.AppendNumber(nil, v, decimals)) }

// tape writes a distance as a tape in feet and inches is read; one behind a wall's line says so instead of a sign.
func tape(metres float64) string {
	if text := quantity.FeetInches(quantity.Length(metres)); text[0] != '-' {
		return text
	}
	return quantity.FeetInches(quantity.Length(-metres)) + " behind"
}

// eighths writes an elevation relative to the bench mark in inches to the nearest eighth, above or below it.
func eighths(metres float64) string {
	switch text := quantity.InchesEighths(quantity.Length(metres)); {
	case text[0] == '-':
		return text[1:] + " below"
	case text != `0"`:
		return text + " above"
	}
	return `0"`
}

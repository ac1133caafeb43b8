package setout

import (
	"encoding/csv"
	"io"
	"strconv"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/export/cell"
	"runnel/export/record"
)

// WriteNextSpots writes the places to shoot next as points of a point file in the frame and unit of the outline, in walking order, for the
// instrument: point, northing, easting (or lat, lon), elevation of the roof there as known now, what the spot is for and why.
func WriteNextSpots(b *record.Book, out io.Writer) error {
	r := b.Study.Roof
	head := []string{"point", "northing", "easting", "elevation_now", "for", "why"}
	decimals, unit := 4, r.Units.Metres()
	if r.Frame.Kind == roof.Geographic {
		head, decimals = []string{"point", "lat", "lon", "elevation_now", "for", "why"}, 8
	}
	if unit == 0 {
		unit = 1
	}
	locator := surface.NewLocator(b.Study.Surface.Cut)
	w := csv.NewWriter(out)
	rows := [][]string{head}
	for i := range b.NextSpots {
		n := &b.NextSpots[i]
		at := r.Frame.ToFile(n.Plan)
		z := ""
		if v, ok := locator.HeightAt(n.Plan[0], n.Plan[1]); ok {
			z = strconv.FormatFloat(v/unit, 'f', 3, 64)
		}
		rows = append(rows, []string{
			b.Names.Local(b.Names.NextSpot(i)), strconv.FormatFloat(at[1], 'f', decimals, 64), strconv.FormatFloat(at[0], 'f', decimals, 64), z,
			cell.Text(n.For), cell.Text(b.Units.SayText(n.Why)),
		})
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return w.Error()
}

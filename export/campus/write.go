package campus

import (
	"encoding/csv"
	"io"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/cell"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/staged"
)

const (
	tableName = "campus.csv"
	mapName   = "campus.geojson"
	localName = "campus.local.geojson"
	pageName  = "campus.html"
)

// Names returns the names of the files that Outputs may give.
func Names() []string { return []string{pageName, tableName, mapName, localName} }

// Outputs returns campus.html, campus.csv and campus.geojson, to be staged; reports says that each roof's report is written too. Where roofs are in site coordinates their outlines
// stand in campus.local.geojson.
func Outputs(rows []Row, u record.Units, reports bool) []staged.Output {
	outlines := make([]layer.Outline, len(rows))
	local := false
	for i := range rows {
		outlines[i] = outline(&rows[i], u)
		local = local || len(rows[i].Rings) > 0 && rows[i].Frame.Kind == roof.Local
	}
	files := []staged.Output{
		{Name: pageName, Write: func(w io.Writer) error { return WriteHTML(w, rows, u, reports) }},
		{Name: tableName, Write: func(w io.Writer) error { return writeTable(w, rows, u) }},
		{Name: mapName, Write: func(w io.Writer) error { return geojson.WriteOutlines(w, "campus", outlines, false) }},
	}
	if local {
		files = append(files, staged.Output{Name: localName, Write: func(w io.Writer) error {
			return geojson.WriteOutlines(w, "campus", outlines, true)
		}})
	}
	return files
}

// outline returns what the map says of a row.
func outline(r *Row, u record.Units) layer.Outline {
	o := layer.Outline{
		ID: r.Stem, Frame: r.Frame, Units: r.Units, Rings: r.Rings, Properties: properties(r, u),
		Title: r.Name + ": " + headline(r, u),
	}
	for k, n := range r.Counts {
		if n > 0 {
			o.Worst, o.Any = finding.Severity(k), true
		}
	}
	return o
}

// properties are the headline numbers of a row under the names of the summary.
func properties(r *Row, u record.Units) *record.Object {
	var o record.Object
	o.Text("name", r.Name)
	o.Text("building", r.Building)
	o.Text("surveyed", r.Surveyed)
	o.Text("files", r.Stem)
	o.Text("roof", r.ID)
	if r.Reason != "" {
		o.Text("status", "failed")
		o.Text("reason", r.Reason)
		return &o
	}
	o.Text("status", "done")
	o.Int("urgent", r.Counts[finding.Urgent])
	o.Int("repair", r.Counts[finding.Repair])
	o.Int("note", r.Counts[finding.Note])
	o.Bool("keep_off", r.KeepOff)
	o.Text("worst", r.Worst)
	o.Int("ponds", r.Ponds)
	u.Depth(&o, "depth", r.Depth)
	u.Area(&o, "pond_area", r.Water)
	u.Volume(&o, "volume", r.Volume)
	u.Mass(&o, "weight", r.Weight)
	u.Pressure(&o, "load", r.Load)
	u.Area(&o, "area", r.Area)
	u.Area(&o, "undrained", r.Undrained)
	o.Share("below_min_share", r.BelowMin)
	o.Share("assumed_share", r.Assumed)
	o.Int("outlets", r.Outlets)
	o.Int("spots", r.Spots)
	return &o
}

// writeTable writes the rows as CSV, all with the same columns.
func writeTable(out io.Writer, rows []Row, u record.Units) error {
	w := csv.NewWriter(out)
	full := Row{Name: "x", Building: "x", Surveyed: "x", Stem: "x", ID: "x", Worst: "x"}
	head := properties(&full, u).Names()
	if err := w.Write(append(append([]string{"rank"}, head...), "reason")); err != nil {
		return err
	}
	for i := range rows {
		p := properties(&rows[i], u)
		line := []string{string(record.AppendNumber(nil, float64(i+1), 0))}
		for _, name := range head {
			line = append(line, cell.Text(p.Value(name)))
		}
		if err := w.Write(append(line, cell.Text(p.Value("reason")))); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

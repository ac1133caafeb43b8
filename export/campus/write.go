package campus

import (
	"fmt"
	"io"
	"os"
	"slices"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/geojson"
	"runnel/export/geopackage"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/staged"
)

const (
	tableName   = "campus.csv"
	linesName   = "campus.ndjson"
	mapName     = "campus.geojson"
	localName   = "campus.local.geojson"
	packageName = "campus.gpkg"
	bookName    = "campus.xlsx"
	pageName    = "campus.html"
)

// Names returns the names of the files that Write may give.
func Names() []string {
	return []string{pageName, bookName, tableName, linesName, mapName, localName, packageName}
}

// Store is where files of the whole campus are kept until they go to their places.
type Store interface {
	AddLast(o staged.Output) error
	PathOfLast(name string) string
	Scratch() (*os.File, error)
}

// Options are how the files are written.
type Options struct {
	Rank     Rank
	UnitsOut string // us or si; empty for us where the input of any roof is in feet or inches
	Reports  bool   // each roof's report stands beside them

	Units record.Units // set by Write
}

// Source hands the rows of a campus to take, in any order. An error of take ends it.
type Source func(take func(*Row) error) error

// Write sorts the rows and writes all files side by side, in one pass; page gets the page for reading. It returns what the rows have in common.
func Write(store Store, page io.Writer, rows Source, o Options) (*Total, error) {
	s := NewSorter(o.Rank, store.Scratch)
	defer s.discard()
	total, err := s.take(rows)
	if err != nil {
		return nil, err
	}
	o.Units = record.SI
	if o.UnitsOut == "us" || o.UnitsOut == "" && total.Imperial {
		o.Units = record.US
	}
	w := &writer{store: store, total: total, Options: o}
	return total, w.files(page, s.Each)
}

// sink takes the rows in their order and then ends what it writes.
type sink interface {
	row(e *entry) error
	end() error
}

// maker makes a sink that writes to out; name is that of its file.
type maker struct {
	name string
	make func(out io.Writer) (sink, error)
}

// writer writes all files side by side.
type writer struct {
	Options
	store Store
	total *Total
}

// makers returns what makes the sinks of all files that there are.
func (w *writer) makers() []maker {
	all := []maker{
		{pageName, func(out io.Writer) (sink, error) { return newHTML(out, w.total, w.Options), nil }},
		{tableName, func(out io.Writer) (sink, error) { return newTable(out, w.Units) }},
		{linesName, func(out io.Writer) (sink, error) { return &lines{out: out}, nil }},
		{bookName, func(out io.Writer) (sink, error) { return newBook(out, w.total, w.Options) }},
		{mapName, func(out io.Writer) (sink, error) { return w.newMap(out, false), nil }},
	}
	if w.total.Local {
		all = append(all, maker{localName, func(out io.Writer) (sink, error) { return w.newMap(out, true), nil }})
	}
	return append(all, maker{packageName, w.newPackage})
}

// lines are the rows as JSON, one a line.
type lines struct {
	out  io.Writer
	text []byte
}

func (l *lines) row(e *entry) error {
	l.text = append(e.outline.Properties.Append(l.text[:0]), '\n')
	_, err := l.out.Write(l.text)
	return err
}

func (l *lines) end() error { return nil }

// drawn are the roofs as GeoJSON.
type drawn struct{ *geojson.Roofs }

func (w *writer) newMap(out io.Writer, local bool) sink {
	return &drawn{geojson.NewRoofs(out, "campus", local, w.total.Unit)}
}

func (d *drawn) row(e *entry) error {
	d.Add(e.outline)
	return nil
}

func (d *drawn) end() error { return d.Close() }

// packed are the roofs as GeoPackage.
type packed struct{ *geopackage.Roofs }

func (w *writer) newPackage(io.Writer) (sink, error) {
	path := w.store.PathOfLast(packageName)
	if err := os.RemoveAll(path); err != nil { // of a run that was killed
		return nil, err
	}
	full := fullRow()
	o := outline(&full, 1, w.Units)
	o.Properties.Text("reason", "x")
	r, err := geopackage.NewRoofs(path, o.Properties, w.total.Unit, w.total.Local, w.total.Geographic)
	return &packed{r}, packageError(err)
}

// packageError names the file in what the database says of it.
func packageError(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("write %s: %w; check the room on the disk", packageName, err)
}

func (p *packed) row(e *entry) error {
	return packageError(p.Add(e.outline, len(e.Rings) > 0 && e.Frame.Kind == roof.Local))
}

func (p *packed) end() error { return packageError(p.Close()) }

// outline returns what the map says of a row.
func outline(r *Row, number int, u record.Units) *layer.Outline {
	o := &layer.Outline{
		ID: r.Stem, Frame: r.Frame, Units: r.Units, Rings: r.Rings, Properties: &record.Object{},
		Title: r.Name + ": " + headline(r, u),
	}
	o.Properties.Int("rank", number)
	o.Properties.Join(properties(r, u))
	for k, n := range r.Counts {
		if n > 0 {
			o.Worst, o.Any = finding.Severity(k), true
		}
	}
	return o
}

// fullRow has something of all that a row that was checked may have.
func fullRow() Row {
	return Row{Name: "x", Building: "x", Surveyed: "x", Stem: "x", ID: "x", Worst: "x", Blind: true, Blocked: 1, BlockedAt: 1, What: finding.Say("x")}
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
	o.Bool("outlets_surveyed", !r.Blind)
	o.Text("worst", r.Worst)
	o.Text("what", u.SayText(r.What))
	r.water(&o, u)
	u.Area(&o, "area", r.Area)
	u.Area(&o, "undrained", r.Undrained)
	o.Share("below_min_share", r.BelowMin)
	o.Share("assumed_share", r.Assumed)
	o.Int("outlets", r.Outlets)
	o.Int("spots", r.Spots)
	return &o
}

// water adds what stands on a roof, or would.
func (r *Row) water(o *record.Object, u record.Units) {
	o.Int("ponds", r.Ponds)
	o.Int("ponds_shown", r.Shown)
	u.Depth(o, "depth", r.Depth)
	u.Area(o, "pond_area", r.Water)
	u.Volume(o, "volume", r.Volume)
	u.Volume(o, "volume_least", r.Least)
	u.Volume(o, "volume_most", r.Most)
	u.Mass(o, "weight", r.Weight)
	u.Mass(o, "weight_shown", r.Sure)
	u.Pressure(o, "load", r.Load)
	if r.BlockedAt > 0 {
		u.Depth(o, "blocked_depth", r.BlockedAt)
		u.Pressure(o, "blocked_load", r.Blocked)
	}
	if r.Blind {
		o.Int("low_places", r.Low)
		u.Depth(o, "low_depth", r.LowDepth)
		u.Volume(o, "low_volume", r.LowWater)
	}
}

// columns returns the names of the facts of a row of a table: the reason last.
func columns(u record.Units) []string {
	full := fullRow()
	return slices.Concat([]string{"rank"}, properties(&full, u).Names(), []string{"reason"})
}

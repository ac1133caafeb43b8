package geopackage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"

	"runnel/analysis/quantity"
	"runnel/export/layer"
	"runnel/export/record"
)

// Roofs is a file of the roofs of a campus under construction: a table of those in longitude and latitude, and one of those on site
// grids. It is built on disk, so that there may be any number of roofs.
type Roofs struct {
	db     *sql.DB
	conn   *sql.Conn
	tx     *sql.Tx
	tables [2]*roofTable // in longitude and latitude, on site grids
}

// roofTable is a table of roofs that is being filled.
type roofTable struct {
	gathered
	table *table
	add   *sql.Stmt
	make  func(*layer.Outline)
	rows  int
	err   error
}

// NewRoofs makes the file at path, where none may stand. full has a fact of each name that a roof may have; unit is that of site grids.
func NewRoofs(path string, full *record.Object, unit quantity.Unit, local, geographic bool) (_ *Roofs, err error) {
	ctx := context.Background()
	r := &Roofs{}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("build the GeoPackage: %w", err), r.release())
		}
	}()
	place := url.URL{Scheme: "file", Opaque: url.PathEscape(path), RawQuery: "_pragma=journal_mode(OFF)&_pragma=synchronous(OFF)"}
	if r.db, err = sql.Open("sqlite", place.String()); err != nil {
		return nil, err
	}
	if r.conn, err = r.db.Conn(ctx); err != nil {
		return nil, err
	}
	for _, s := range []string{fmt.Sprintf("PRAGMA application_id = %d", applicationID), fmt.Sprintf("PRAGMA user_version = %d", version)} {
		if _, err = r.conn.ExecContext(ctx, s); err != nil {
			return nil, err
		}
	}
	if r.tx, err = r.conn.BeginTx(ctx, nil); err != nil {
		return nil, err
	}
	if err = insertFrame(ctx, r.tx); err != nil {
		return nil, err
	}
	if geographic || !local {
		if r.tables[0], err = newRoofTable(ctx, r.tx, "roof", full, false, quantity.Metres); err != nil {
			return nil, err
		}
	}
	if local {
		r.tables[1], err = newRoofTable(ctx, r.tx, "roof_local", full, true, unit)
	}
	return r, err
}

func newRoofTable(ctx context.Context, tx *sql.Tx, name string, full *record.Object, local bool, unit quantity.Unit) (*roofTable, error) {
	t := &roofTable{
		gathered: gathered{grid: layer.CampusGrid(local, unit), srs: wgs84},
		table:    &table{name: name, kind: "MULTIPOLYGON", byName: map[string]int{}, used: map[string]bool{"fid": true, "geom": true}},
	}
	if local {
		t.srs = cartesian
	}
	t.about = about(t.grid)
	example := record.Object{}
	example.Text("layer", "outline")
	example.Text("id", "x")
	example.Text("title", "x")
	example.Join(full)
	t.row(t.table, &layer.Feature{Shape: &layer.Shape{}, Facts: &example, Style: layer.Style{Stroke: "x", Fill: "x"}})
	t.table.styles = nil
	var err error
	if t.add, err = t.table.create(ctx, tx); err != nil {
		return nil, err
	}
	columns := len(t.table.columns)
	t.make = layer.Roofs(local, unit, func(f *layer.Feature) {
		t.rows++
		r := t.row(t.table, f)
		if len(t.table.columns) > columns {
			t.err = fmt.Errorf("a roof has the fact %s, which none may have", t.table.columns[columns].name)
		}
		if t.err == nil {
			t.err = t.table.insert(ctx, t.add, t.rows, &r)
		}
	})
	return t, nil
}

// Add adds a roof, to the table of site grids where local says so and to the other one else. A roof whose place is not known goes to
// the one that there is.
func (r *Roofs) Add(o *layer.Outline, local bool) error {
	t := r.tables[0]
	if local || t == nil {
		t = r.tables[1]
	}
	t.make(o)
	return t.err
}

// Close ends the file.
func (r *Roofs) Close() error {
	ctx := context.Background()
	for _, t := range r.tables {
		if t == nil {
			continue
		}
		if err := errors.Join(t.add.Close(), t.finish(ctx, r.tx, t.table)); err != nil {
			return errors.Join(err, r.release())
		}
	}
	err := errors.Join(insertStyles(ctx, r.tx), r.tx.Commit())
	r.tx = nil
	return errors.Join(err, r.release())
}

// Discard lets go of a file that nobody wants any more.
func (r *Roofs) Discard() error { return r.release() }

// release lets go of the file.
func (r *Roofs) release() (err error) {
	if r.tx != nil {
		err = r.tx.Rollback()
	}
	if r.conn != nil {
		err = errors.Join(err, r.conn.Close())
	}
	if r.db != nil {
		err = errors.Join(err, r.db.Close())
	}
	return err
}

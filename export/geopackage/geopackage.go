// Package geopackage writes the features of the map as an OGC GeoPackage 1.3: a table a layer, with the coordinates and facts of the GeoJSON as
// typed columns, and a table of styles.
//
// A layer has one table for each kind of shape that it holds: findings and outlets that are no points stand in tables of their own. Degrees
// are WGS 84. A site grid lies in the undefined Cartesian frame, so that no program takes it for degrees; its unit stands in the
// description of each table. Styles stand in the table "layer_styles", in which viewers look by convention, twice: as OGC SLD 1.1,
// and as QGIS keeps them, with labels and the shapes of marks.
//
// The file is built in memory in one transaction, its dates are fixed, and rows go in in the order of the layers, so that the same roof
// gives the same bytes.
package geopackage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"strings"

	_ "modernc.org/sqlite" // the driver

	"runnel/export/layer"
	"runnel/export/record"
)

// changed is the date of everything in the file: it says nothing.
const changed = "2000-01-01T00:00:00.000Z"

// Frames of the coordinates, by the numbers of the standard.
const (
	cartesian = -1
	wgs84     = 4326
)

// applicationID marks the file ("GPKG"), and version is that of the standard, 1.3.0.
const (
	applicationID = 0x47504B47
	version       = 10300
)

// frame are the tables that every GeoPackage has (OGC 12-128r17, annex C; from memory), and the one of styles.
const frame = `
CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY, organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE, description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL,
  z TINYINT NOT NULL, m TINYINT NOT NULL, CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id));
CREATE TABLE layer_styles (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, f_table_catalog TEXT(256), f_table_schema TEXT(256), f_table_name TEXT(256),
  f_geometry_column TEXT(256), styleName TEXT(30), styleQML TEXT, styleSLD TEXT, useAsDefault BOOLEAN, description TEXT, owner TEXT(30), ui TEXT(30),
  update_time DATETIME);`

// frames are the rows that the standard asks for.
var frames = [][]any{
	{"Undefined Cartesian SRS", -1, "NONE", -1, "undefined", "undefined Cartesian coordinate reference system"},
	{"Undefined geographic SRS", 0, "NONE", 0, "undefined", "undefined geographic coordinate reference system"},
	{
		"WGS 84 geodetic", 4326, "EPSG", 4326,
		`GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],` +
			`PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","4326"]]`,
		"longitude and latitude in degrees",
	},
}

// Write writes the named layers of b to out.
func Write(out io.Writer, b *record.Book, names ...string) error {
	g := gather(b, names)
	data, err := g.build(context.Background())
	if err != nil {
		return fmt.Errorf("build the GeoPackage: %w", err)
	}
	_, err = out.Write(data)
	return err
}

// build returns the bytes of the file.
func (g *gathered) build(ctx context.Context) (data []byte, err error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	conn, err := db.Conn(ctx) // a database in memory is one connection's
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, conn.Close()) }()
	for _, s := range []string{fmt.Sprintf("PRAGMA application_id = %d", applicationID), fmt.Sprintf("PRAGMA user_version = %d", version)} {
		if _, err := conn.ExecContext(ctx, s); err != nil {
			return nil, err
		}
	}
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return nil, err
	}
	if err := g.fill(ctx, tx); err != nil {
		return nil, errors.Join(err, tx.Rollback())
	}
	if err := tx.Commit(); err != nil {
		return nil, err
	}
	err = conn.Raw(func(driver any) error {
		s, ok := driver.(interface{ Serialize() ([]byte, error) })
		if !ok {
			return errors.New("the driver does not hand the file over")
		}
		data, err = s.Serialize()
		return err
	})
	return data, err
}

// fill makes the tables and their rows.
func (g *gathered) fill(ctx context.Context, tx *sql.Tx) error {
	if err := insertFrame(ctx, tx); err != nil {
		return err
	}
	for _, t := range g.tables {
		if err := g.table(ctx, tx, t); err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
	}
	return insertStyles(ctx, tx)
}

// insertFrame makes the tables that every file has.
func insertFrame(ctx context.Context, tx *sql.Tx) error {
	if _, err := tx.ExecContext(ctx, frame); err != nil {
		return err
	}
	for _, r := range frames {
		if err := insert(ctx, tx, "gpkg_spatial_ref_sys", r); err != nil {
			return err
		}
	}
	return nil
}

// insertStyles lists the table of styles in the contents.
func insertStyles(ctx context.Context, tx *sql.Tx) error {
	return insert(ctx, tx, "gpkg_contents", []any{"layer_styles", "attributes", "layer_styles", "how the layers are drawn", changed, nil, nil, nil, nil, nil})
}

// insert adds one row to a table.
func insert(ctx context.Context, tx *sql.Tx, table string, values []any) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO "+table+" VALUES ("+strings.TrimSuffix(strings.Repeat("?,", len(values)), ",")+")", values...)
	return err
}

// quoted writes a name as SQL does.
func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// table makes one table with its rows, its place in the contents, and its style.
func (g *gathered) table(ctx context.Context, tx *sql.Tx, t *table) error {
	add, err := t.create(ctx, tx)
	if err != nil {
		return err
	}
	for i := range t.rows {
		if err := t.insert(ctx, add, i+1, &t.rows[i]); err != nil {
			return errors.Join(err, add.Close())
		}
	}
	if err := add.Close(); err != nil {
		return err
	}
	return g.finish(ctx, tx, t)
}

// create makes a table, and returns what adds a row to it.
func (t *table) create(ctx context.Context, tx *sql.Tx) (*sql.Stmt, error) {
	text := "CREATE TABLE " + quoted(t.name) + " (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom " + t.kind
	for i := range t.columns {
		text += ", " + quoted(t.columns[i].name) + " " + t.columns[i].sqlType()
	}
	if _, err := tx.ExecContext(ctx, text+")"); err != nil {
		return nil, err
	}
	return tx.PrepareContext(ctx, "INSERT INTO "+quoted(t.name)+" VALUES (?,?"+strings.Repeat(",?", len(t.columns))+")")
}

// insert adds one row with that number.
func (t *table) insert(ctx context.Context, add *sql.Stmt, number int, r *row) error {
	values := make([]any, len(t.columns)+2)
	values[0] = number
	if r.shape != nil {
		values[1] = r.shape
	}
	for k, v := range r.values {
		values[k+2] = t.columns[k].stored(v)
	}
	_, err := add.ExecContext(ctx, values...)
	return err
}

// finish adds the place of a table in the contents, and its style.
func (g *gathered) finish(ctx context.Context, tx *sql.Tx, t *table) error {
	box := []any{nil, nil, nil, nil}
	if t.box.any {
		box = []any{t.box.minX, t.box.minY, t.box.maxX, t.box.maxY}
	}
	if err := insert(ctx, tx, "gpkg_contents", append(append([]any{t.name, "features", t.name, g.about, changed}, box...), g.srs)); err != nil {
		return err
	}
	z := 2 // where it is known
	if g.grid.Geographic {
		z = 0
	}
	if err := insert(ctx, tx, "gpkg_geometry_columns", []any{t.name, "geom", t.kind, g.srs, z, 0}); err != nil {
		return err
	}
	return insert(ctx, tx, "layer_styles", []any{nil, "", "", t.name, "geom", t.name, t.qml(), t.sld(), 1, "colours of the report", "", nil, changed})
}

// about says what the coordinates of a file are.
func about(grid *layer.Grid) string {
	if grid.Geographic {
		return "longitude and latitude"
	}
	return "site grid; coordinates and elevations in " + grid.Unit.String()
}

//go:build !js

package export

import (
	"io"

	"runnel/export/geopackage"
	"runnel/export/layer"
	"runnel/export/staged"
)

// packageFiles are the map as a GeoPackage.
func packageFiles(o *order) ([]staged.Output, error) {
	return []staged.Output{{Name: o.Stem + ".gpkg", Write: func(w io.Writer) error {
		return geopackage.Write(w, o.model.Book, layer.Of(o.model.Book, o.Facets)...)
	}}}, nil
}

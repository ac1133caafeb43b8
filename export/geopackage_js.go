package export

import "runnel/export/staged"

// packageFiles are none: the database of a GeoPackage is not to be had in a browser.
func packageFiles(*order) ([]staged.Output, error) { return nil, nil }

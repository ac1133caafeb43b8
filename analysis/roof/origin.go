package roof

import "strconv"

// Origin is where a measured thing was read.
type Origin struct {
	File    string // path as given
	Line    int    // line of a point file, from 1; 0 for GeoJSON
	Feature int    // feature number of a GeoJSON file, from 1; 0 for point files
	ID      string // the thing's own id, may be empty
}

// String returns "file line 12", "file feature 3" or, with an id, "file feature 3 (D1)".
func (o Origin) String() string {
	s := o.File
	switch {
	case o.Line > 0:
		s += " line " + strconv.Itoa(o.Line)
	case o.Feature > 0:
		s += " feature " + strconv.Itoa(o.Feature)
	}
	if o.ID != "" {
		s += " (" + o.ID + ")"
	}
	return s
}

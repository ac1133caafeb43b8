// Package geojson reads a roof from GeoJSON (RFC 7946): a FeatureCollection whose features say by their
// property "role" what they are.
//
// Features are walked as raw text and each number is checked as it is read, because the usual readers turn
// a missing elevation into zero and accept numbers that are not finite. Rings are handed to a geometry
// library for validity; what it finds is reported with its place and never repaired. Own properties of a
// feature are kept as they were written.
package geojson

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/tidwall/gjson"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/textfile"
)

// Document is a GeoJSON file whose text is known to be JSON.
type Document struct {
	Name     string        // path as given
	Units    quantity.Unit // member "units", Unstated when absent
	Frame    string        // member "frame" or "crs", empty when absent
	features gjson.Result  // array of features
}

// Open checks that data is a FeatureCollection (or one Feature) and reads its members. Problems are
// added to problems; a nil Document means that it cannot be read at all.
func Open(name string, data []byte, problems *roof.Refusal) *Document {
	refuse := func(rule, mend string) *Document {
		problems.Add(roof.Problem{Origin: roof.Origin{File: name}, Rule: rule, Mend: mend})
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(data) {
		return refuse("the text is not in UTF-8", "write the file again in UTF-8")
	}
	if err := textfile.JSONFault(data); err != nil {
		return refuse(err.Error(), "write the file again from the program that made it")
	}
	root := gjson.ParseBytes(data)
	if member, found := twice(root); found {
		return refuse(fmt.Sprintf("the collection has the member %.40q twice", member), "leave one of the two out")
	}
	d := &Document{Name: name}
	switch kind := root.Get("type").String(); kind {
	case "FeatureCollection":
		d.features = root.Get("features")
		if !d.features.IsArray() {
			return refuse(`the FeatureCollection has no array "features"`, "write the file again from the program that made it")
		}
	case "Feature":
		d.features = gjson.Parse("[" + root.Raw + "]")
	case "":
		return refuse(`this is JSON but not GeoJSON: it has no "type"`, "give a FeatureCollection")
	default:
		return refuse(fmt.Sprintf("this is a %.40q, not a FeatureCollection", kind), "put the geometry in a Feature of a FeatureCollection")
	}
	if !d.members(root, refuse) {
		return nil
	}
	return d
}

// members reads the members units, frame and crs.
func (d *Document) members(root gjson.Result, refuse func(rule, mend string) *Document) bool {
	if v := root.Get("units"); v.Exists() && v.Type != gjson.Null {
		unit, err := quantity.ParseUnit(v.String())
		if err != nil {
			refuse(`member "units": `+err.Error(), "correct the member")
			return false
		}
		d.Units = unit
	}
	d.Frame = root.Get("frame").String()
	if d.Frame == "" {
		d.Frame = frameOfCRS(root.Get("crs.properties.name").String())
	}
	return true
}

// frameOfCRS turns the name of a coordinate reference system, as older files state it, into a frame. An EPSG code stands last, alone or
// in a URN or URL, after a version or without one.
func frameOfCRS(name string) string {
	parts := strings.FieldsFunc(strings.ToUpper(name), func(r rune) bool { return r == ':' || r == '/' })
	if len(parts) == 0 {
		return ""
	}
	code := parts[len(parts)-1]
	epsg := code != "EPSG" && slices.Contains(parts, "EPSG")
	switch {
	case code == "CRS84", epsg && code == "4326":
		return "wgs84"
	case epsg:
		return "EPSG:" + code
	}
	return name
}

package points

import (
	"fmt"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/separated"
)

// position reads the place of a row and reports whether it can be used.
func (r *reader) position(fields []string) bool {
	r.place = roof.Position{}
	for axis, k := range [2]kind{xColumn, yColumn} {
		v, ok := r.coordinate(fields[r.at[k]], k)
		if !ok {
			return false
		}
		r.place.Plan[axis] = v
	}
	return r.elevation(fields) && r.believable()
}

// believable refuses places and elevations of the row at hand that no roof has.
func (r *reader) believable() bool {
	if rule, mend := r.set.CheckPlace(r.place.Plan); rule != "" {
		r.refuseAt(rule, mend)
		return false
	}
	if r.place.HasZ {
		if rule, mend := draft.CheckElevation(r.place.Z); rule != "" {
			r.refuseAt(rule, mend)
			return false
		}
	}
	return true
}

// coordinate reads a plan coordinate in the column's unit: a number, or on a site grid a length with its own unit.
func (r *reader) coordinate(field string, k kind) (float64, bool) {
	v, sign, ok := separated.Number(field, r.comma)
	if !ok {
		if l, imperial, err := quantity.ReadLength(r.pointed(field), quantity.Unstated); err == nil && !r.set.Geographic {
			r.out.Imperial = r.out.Imperial || imperial
			return float64(l) / r.metres[k], true
		}
		r.refuseCoordinate(field, r.columnName(k))
		return 0, false
	}
	return v, sign == 0 || r.oneSign(sign)
}

// refuseCoordinate refuses a field that is no plan coordinate.
func (r *reader) refuseCoordinate(field, column string) {
	if field == "" {
		r.refuse(column+" is empty", "write the measured number, or take the row out")
		return
	}
	mend := "write the measured number"
	if unit, err := quantity.ParseUnit(field); err == nil {
		mend = fmt.Sprintf("write the unit behind the names of the columns, such as x_%v, and take this row out", unit)
	}
	r.refuse(fmt.Sprintf("%s: %s is not a finite number", column, r.quoted(field)), mend)
}

// oneSign reports whether the file keeps to one decimal sign.
func (r *reader) oneSign(sign byte) bool {
	mine, other := 0, 1
	if sign == ',' {
		mine, other = 1, 0
	}
	if r.signs[mine] == 0 {
		r.signs[mine] = r.number
	}
	if r.signs[other] == 0 {
		return true
	}
	r.refuse(fmt.Sprintf("the row has a decimal %q, line %d another", sign, r.signs[other]), "use one decimal sign in the whole file, and none between thousands")
	return false
}

// elevation reads the elevation of a row, or its rod reading; an empty field is none.
func (r *reader) elevation(fields []string) bool {
	k := choose.If[kind](r.at[rodColumn] >= 0, rodColumn, zColumn)
	if r.at[k] < 0 || fields[r.at[k]] == "" {
		return true
	}
	field := fields[r.at[k]]
	z, ok := r.length(field, k)
	if !ok {
		return false
	}
	if k == rodColumn {
		r.rod = z
		z = r.hi - z
	}
	r.place.Z, r.place.HasZ = z, true
	return true
}

// pointed writes a point for a decimal comma, where a comma does not stand between fields.
func (r *reader) pointed(text string) string {
	if r.comma {
		return separated.DecimalPoint(text)
	}
	return text
}

// length reads a field as a length in metres: a number in the column's unit, or one with its own.
func (r *reader) length(field string, k kind) (float64, bool) {
	if v, sign, ok := separated.Number(field, r.comma); ok {
		return float64(v * r.metres[k]), sign == 0 || r.oneSign(sign)
	}
	if strings.ContainsAny(field, "'\"′″’”ft in m") {
		if l, imperial, err := quantity.ReadLength(r.pointed(field), quantity.Unstated); err == nil {
			r.out.Imperial = r.out.Imperial || imperial
			return float64(l), true
		}
	}
	r.refuse(fmt.Sprintf("%s: %s is not a finite number", r.columnName(k), r.quoted(field)), "write the measured number; take the row out where nothing was measured")
	return 0, false
}

// columnName names a column for messages.
func (r *reader) columnName(k kind) string {
	if name := find(r.columns, k).name; name != "" {
		return "column " + name
	}
	switch k {
	case xColumn:
		return "column easting"
	case yColumn:
		return "column northing"
	case sigmaColumn:
		return "column sigma"
	case ignored, pointColumn, zColumn, codeColumn, rodColumn, placeColumn, depthColumn, wallColumn:
	}
	return "column elevation"
}

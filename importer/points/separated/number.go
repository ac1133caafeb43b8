package separated

import (
	"strconv"
	"strings"
)

// LooksNumeric reports whether a field is written like a number, with a point or one comma.
func LooksNumeric(field string) bool {
	digits := false
	for i := range len(field) {
		switch c := field[i]; {
		case c >= '0' && c <= '9':
			digits = true
		case c == '.' || c == ',' || c == '-' || c == '+':
		case (c == 'e' || c == 'E') && digits && i+1 < len(field):
		default:
			return false
		}
	}
	return digits
}

// Number reads a decimal number. comma says that the decimal sign may be a comma; which sign was
// used, if any, is returned as well. Words such as nan or inf, hexadecimal and 1e400 are refused.
func Number(field string, comma bool) (value float64, sign byte, ok bool) {
	for i := range len(field) {
		switch c := field[i]; {
		case c >= '0' && c <= '9', c == '-', c == '+', c == 'e', c == 'E':
		case c == '.':
			sign = '.'
		case c == ',' && comma && sign == 0:
			sign = ','
		default:
			return 0, 0, false
		}
	}
	if sign == ',' {
		field = strings.ReplaceAll(field, ",", ".")
	}
	value, err := strconv.ParseFloat(field, 64)
	return value, sign, err == nil
}

// DecimalPoint writes a point for a decimal comma.
func DecimalPoint(text string) string {
	if strings.Count(text, ",") == 1 {
		return strings.ReplaceAll(text, ",", ".")
	}
	return text
}

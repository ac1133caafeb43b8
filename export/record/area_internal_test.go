package record

import "testing"

// By hand: an opening of 203 by 102 mm has 0.021 m2, less than a tenth of one, which is not nought.
func TestAreasAsSaid(t *testing.T) {
	for _, c := range []struct {
		u    Units
		area float64
		want string
	}{
		{SI, 0.203 * 0.102, "0.021 m²"},
		{SI, 0.0999, "0.100 m²"},
		{SI, 0.1, "0.1 m²"},
		{SI, 0.0005, "0.001 m²"},
		{SI, 0.0001, "0.0 m²"},
		{SI, 0, "0 m²"},
		{SI, 8.04, "8.0 m²"},
		{SI, 99.94, "99.9 m²"},
		{SI, 100.4, "100 m²"},
		{SI, 12345.6, "12,346 m²"},
		{US, 0.09290304, "1.0 sq ft"},
		{US, 929.0304, "10,000 sq ft"},
		{US, 0, "0 sq ft"},
	} {
		if got := c.u.SayArea(c.area); got != c.want {
			t.Errorf("%g: %q, want %q", c.area, got, c.want)
		}
	}
}

package shape

import (
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Heights returns a walled roof over a grid of elevations: rows[j][i] at (i*step, j*step), the south row first. Every
// place of the grid is a spot, and the outline runs through those on its border.
func Heights(step float64, rows ...[]float64) *roof.Roof {
	m, n := len(rows)-1, len(rows[0])-1
	at := func(i, j int) roof.Position { return At(float64(i)*step, float64(j)*step, rows[j][i]) }
	var corners []roof.Position
	for i := range n {
		corners = append(corners, at(i, 0))
	}
	for j := range m {
		corners = append(corners, at(n, j))
	}
	for i := n; i > 0; i-- {
		corners = append(corners, at(i, m))
	}
	for j := m; j > 0; j-- {
		corners = append(corners, at(0, j))
	}
	r := New("heights", corners...)
	for j, row := range rows {
		for i, z := range row {
			Spot(r, float64(i)*step, float64(j)*step, z)
		}
	}
	return r
}

// Build returns the surface of r and ends the test when there is none.
func Build(tb testing.TB, r *roof.Roof) *surface.Surface {
	tb.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

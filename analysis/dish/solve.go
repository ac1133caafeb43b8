package dish

import (
	"slices"

	"runnel/analysis/geometry/regression"
)

// matrix is a system of linear equations: rows of coefficients with the right side last.
type matrix [][]float64

func newMatrix(rows, columns int) matrix {
	m := make(matrix, rows)
	flat := make([]float64, rows*columns)
	for i := range m {
		m[i] = flat[i*columns : (i+1)*columns]
	}
	return m
}

// solve returns the solution; an unknown that nothing determines is 0. It changes m.
func (m matrix) solve() []float64 {
	x := make([]float64, len(m))
	regression.Solve(m, slices.Repeat([]float64{1}, len(m)), 1e-14, x)
	return x
}

// leastSquares returns the coefficients whose combination of the columns of rows comes nearest to want, held toward 0 by ridge.
func leastSquares(rows [][]float64, want []float64, ridge float64) []float64 {
	n := len(rows[0])
	m := newMatrix(n, n+1)
	for i, row := range rows {
		for a := range n {
			for b := range n {
				m[a][b] += float64(row[a] * row[b])
			}
			m[a][n] += float64(row[a] * want[i])
		}
	}
	for a := range n {
		m[a][a] += ridge
	}
	return m.solve()
}

package dish

import "math"

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

// solve returns the solution by elimination with pivots in the column; an unknown that nothing determines is 0. It changes m.
func (m matrix) solve() []float64 {
	n := len(m)
	for c := range n {
		pivot := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[pivot][c]) {
				pivot = r
			}
		}
		m[c], m[pivot] = m[pivot], m[c]
		if math.Abs(m[c][c]) < 1e-14 {
			continue
		}
		for r := c + 1; r < n; r++ {
			f := m[r][c] / m[c][c]
			if f == 0 {
				continue
			}
			for k := c; k <= n; k++ {
				m[r][k] -= float64(f * m[c][k])
			}
		}
	}
	x := make([]float64, n)
	for r := n - 1; r >= 0; r-- {
		if math.Abs(m[r][r]) < 1e-14 {
			continue
		}
		sum := m[r][n]
		for k := r + 1; k < n; k++ {
			sum -= float64(m[r][k] * x[k])
		}
		x[r] = sum / m[r][r]
	}
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

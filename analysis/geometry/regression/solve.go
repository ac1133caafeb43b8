package regression

import "math"

// Solve solves linear equations, rows of len(x) coefficients with the right side last, by elimination with pivots in the column: each row is measured
// by its scale, so that what counts as nothing does not hang on the unit. An unknown whose pivot is no more than least times the scale of
// its row is 0, and whole is false. The answer goes into x; rows and scale are changed.
func Solve(rows [][]float64, scale []float64, least float64, x []float64) (whole bool) {
	n := len(x)
	whole = true
	nothing := func(i int) bool { return !(math.Abs(rows[i][i]) > least*scale[i]) }
	for i := range n {
		p := i
		for r := i + 1; r < n; r++ {
			if math.Abs(rows[r][i])/scale[r] > math.Abs(rows[p][i])/scale[p] {
				p = r
			}
		}
		rows[i], rows[p] = rows[p], rows[i]
		scale[i], scale[p] = scale[p], scale[i]
		if nothing(i) {
			whole = false
			continue
		}
		for r := i + 1; r < n; r++ {
			f := rows[r][i] / rows[i][i]
			if f == 0 {
				continue
			}
			for c := i; c <= n; c++ {
				rows[r][c] -= float64(f * rows[i][c])
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		if x[i] = 0; nothing(i) {
			continue
		}
		sum := rows[i][n]
		for c := i + 1; c < n; c++ {
			sum -= float64(rows[i][c] * x[c])
		}
		x[i] = sum / rows[i][i]
	}
	return whole
}

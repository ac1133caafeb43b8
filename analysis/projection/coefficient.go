package projection

// polynomial returns c[0] + c[1] x + c[2] x^2 + ...
func polynomial(x float64, c ...float64) float64 {
	sum := 0.0
	for k := len(c) - 1; k >= 0; k-- {
		sum = c[k] + float64(x*sum)
	}
	return sum
}

// forwardSeries returns alpha of Karney 2011, equation 35.
func forwardSeries(n float64) [order]float64 {
	return [order]float64{
		polynomial(n, 0, 1.0/2, -2.0/3, 5.0/16, 41.0/180, -127.0/288, 7891.0/37800),
		polynomial(n, 0, 0, 13.0/48, -3.0/5, 557.0/1440, 281.0/630, -1983433.0/1935360),
		polynomial(n, 0, 0, 0, 61.0/240, -103.0/140, 15061.0/26880, 167603.0/181440),
		polynomial(n, 0, 0, 0, 0, 49561.0/161280, -179.0/168, 6601661.0/7257600),
		polynomial(n, 0, 0, 0, 0, 0, 34729.0/80640, -3418889.0/1995840),
		polynomial(n, 0, 0, 0, 0, 0, 0, 212378941.0/319334400),
	}
}

// inverseSeries returns beta of Karney 2011, equation 36.
func inverseSeries(n float64) [order]float64 {
	return [order]float64{
		polynomial(n, 0, 1.0/2, -2.0/3, 37.0/96, -1.0/360, -81.0/512, 96199.0/604800),
		polynomial(n, 0, 0, 1.0/48, 1.0/15, -437.0/1440, 46.0/105, -1118711.0/3870720),
		polynomial(n, 0, 0, 0, 17.0/480, -37.0/840, -209.0/4480, 5569.0/90720),
		polynomial(n, 0, 0, 0, 0, 4397.0/161280, -11.0/504, -830251.0/7257600),
		polynomial(n, 0, 0, 0, 0, 0, 4583.0/161280, -108847.0/3991680),
		polynomial(n, 0, 0, 0, 0, 0, 0, 20648693.0/638668800),
	}
}

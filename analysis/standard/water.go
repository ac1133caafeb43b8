package standard

// What standing water weighs.
const (
	// WaterDensity is the density of water [kg/m3]. 1000 kg/m3 is the round figure of engineering; with
	// Gravity it gives 5.202 psf per inch of depth, the factor of the published tables of the weight of
	// water on roofs (1,000 ft2 at 1 in: 5,202 lb; read). ASTM D5957-98(2021) uses 5.19 psf per inch at
	// 22 degrees C, building codes 5.2 (both read): the three differ by 0.2 %.
	WaterDensity = 1000.0

	// Gravity is standard gravity [m/s2]: 3rd General Conference on Weights and Measures, 1901, exact by
	// definition (recalled).
	Gravity = 9.80665
)

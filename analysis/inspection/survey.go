package inspection

// Survey says how good the measurements are and what was not measured.
type Survey struct {
	Spots        int     // spots used
	Spacing      float64 // typical distance between neighbouring spots [m]
	Sigma        float64 // typical standard deviation of an elevation [m]; 0 not stated
	SigmaStated  bool    // by the input
	AssumedShare float64 // of the area, on facets with an inferred elevation
	Ties         int     // diagonals chosen by rule, not by measurement

	InvertsAssumed int  // outlets whose invert was not measured
	EdgesAssumed   bool // nothing stated the edge type: walls assumed
	NoRain         bool // no rain given: capacity was not checked
	NoCores        bool // no cores: what lies below the membrane is not known
	NoStains       bool // no standing water was recorded on site
}

package assembly

import "github.com/paulmach/orb"

// Deck returns the elevation of the deck at a place and its standard error [m]: from the fit of the plane of the surface that
// the place lies on, else of its catchment, else of the whole roof. ok is false off the roof, and where the cores do not carry a fit.
func (r *Result) Deck(p orb.Point) (z, sigma float64, ok bool) {
	f, s, ok := r.finder.at(p)
	if !ok {
		return 0, 0, false
	}
	for _, i := range r.finder.regions(f, p) {
		g := &r.Regions[i]
		if !g.fitted {
			continue
		}
		if g.Kind == OnPlane {
			z, sigma = g.deck.at(p)
			return z, sigma, true
		}
		t, sigma := g.line.at(s)
		return s - t, sigma, true
	}
	return 0, 0, false
}

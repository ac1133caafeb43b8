package layer

import "runnel/analysis/choose"

// nextSpots writes the places where another spot would tell most, in walking order.
func (w *builder) nextSpots() {
	h := w.heights()
	title := choose.If(w.book.Study.KeepOff.Is(), "Spot to shoot once the engineer lets people on", "Shoot a spot here")
	for i := range w.book.NextSpots {
		n := &w.book.NextSpots[i]
		w.open("next-spot", w.book.Names.NextSpot(i), title+", for "+n.For)
		w.point(n.Plan, h)
		w.book.NextSpot(&w.props, i)
		w.close(nextSpotStyle)
	}
}

package layer

// nextSpots writes the places where another spot would tell most, in walking order.
func (w *builder) nextSpots() {
	h := w.heights()
	title := "Shoot a spot here"
	if w.book.Study.KeepOff.Is() {
		title = "Spot to shoot once the engineer lets people on"
	}
	for i := range w.book.NextSpots {
		n := &w.book.NextSpots[i]
		w.open("next-spot", w.book.Names.NextSpot(i), title+", for "+n.For)
		w.point(n.Plan, h)
		w.book.NextSpot(&w.props, i)
		w.close(nextSpotStyle)
	}
}

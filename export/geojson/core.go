package geojson

// nextCores writes the places where a core would tell most.
func (w *writer) nextCores() {
	h := w.heights()
	for i := range w.book.NextCores {
		n := &w.book.NextCores[i]
		w.open("next-core", w.book.Names.NextCore(i), "Cut a core here, for "+n.For)
		w.point(n.Plan, h)
		w.book.NextCore(&w.props, i)
		w.close(nextCoreStyle)
	}
}

// coreTitle writes "Core C1, 102 mm thick".
func (w *writer) coreTitle(i int) string {
	c := &w.book.Study.Assembly.Cores[i]
	if !c.HasThickness {
		return "Core " + c.ID
	}
	return "Core " + c.ID + ", " + w.book.Units.SayDepth(c.Thickness) + " thick"
}

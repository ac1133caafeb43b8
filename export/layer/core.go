package layer

import "runnel/analysis/choose"

// nextCores writes the places where a core would tell most.
func (w *builder) nextCores() {
	h := w.heights()
	for i := range w.book.NextCores {
		n := &w.book.NextCores[i]
		w.open("next-core", w.book.Names.NextCore(i), w.cutHere()+", for "+n.For)
		w.point(n.Plan, h)
		w.book.NextCore(&w.props, i)
		w.close(nextCoreStyle)
	}
}

// cutHere says what is asked for at the place of a core.
func (w *builder) cutHere() string {
	return choose.If(w.book.Study.KeepOff.Is(), "Core to cut once the engineer lets people on", "Cut a core here")
}

// coreTitle writes "Core C1, 102 mm thick".
func (w *builder) coreTitle(i int) string {
	c := &w.book.Study.Assembly.Cores[i]
	if !c.HasThickness {
		return "Core " + c.ID
	}
	return "Core " + c.ID + ", " + w.book.Units.SayDepth(c.Thickness) + " thick"
}

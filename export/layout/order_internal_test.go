package layout

import (
	"math"
	"slices"
	"testing"

	"runnel/export/drawing/scene"
)

// heightOf returns where a text stands on a sheet [mm], infinity where it does not.
func heightOf(s *scene.Scene, text string) float64 {
	y := math.Inf(1)
	for _, t := range textsOf(s) {
		if t.String == text {
			y = math.Min(y, t.At.Y)
		}
	}
	return y
}

// TestQuestionsStandBeforeTheWork: on every first sheet what has to be found out first stands over what is then done; every pond as found is named on the layout of an answer that leaves most of the roof; and a roof on
// which nothing is done has no sheet that shows it.
func TestQuestionsStandBeforeTheWork(t *testing.T) {
	asked, named, bare := 0, 0, 0
	answers(t, func(name string, s *Set) {
		h, pages := pagesOf(t, s)
		ask, do := heightOf(pages[0], "Find out first"), heightOf(pages[0], "What is done, in order")
		if a := h.answer(); a != nil && len(a.Questions) > 0 {
			if asked++; !(ask < do) || math.IsInf(do, 1) {
				t.Errorf("%s: questions stand at %g mm, the work at %g mm", name, ask, do)
			}
		}
		if len(h.option.Changes) == 0 {
			if bare++; len(pages) != 1 {
				t.Errorf("%s: %d sheets of a roof on which nothing is done", name, len(pages))
			}
			return
		}
		if h.option.Gauge != "" {
			return
		}
		texts := textsOf(pages[1])
		for i := range s.Book.Study.Listed {
			id := s.Book.Study.Listed[i].ID
			if named++; !slices.ContainsFunc(texts, func(x scene.Text) bool { return x.String == id }) {
				t.Errorf("%s: %s is not on the layout", name, id)
			}
		}
	})
	if asked < 5 || named < 10 || bare == 0 {
		t.Errorf("%d first sheets ask, %d ponds, %d roofs with nothing to do", asked, named, bare)
	}
}

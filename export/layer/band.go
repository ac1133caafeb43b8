package layer

import (
	"runnel/analysis/gather"
	"runnel/export/palette"
	"runnel/export/record"
)

func countBands(b *record.Book) int {
	return gather.Sum(b.Waters, func(x record.Water) int { return len(x.Bands) })
}

// bands writes the states of the water, band by band. A band has no one level, so it lies on the roof.
func (w *builder) bands() {
	u := w.book.Units
	h := w.heights()
	for i := range w.book.Waters {
		state := &w.book.Waters[i]
		for k := range state.Bands {
			band := &state.Bands[k]
			depths := u.SayDepth(band.From) + " to " + u.SayDepth(band.To)
			title := "Water " + depths + " deep with " + state.Case
			w.open("water", w.book.BandID(i, k), title)
			w.polygons(band.Outline, h)
			w.book.Band(&w.props, i, k)
			w.close(Style{Name: depths, Class: k, Stroke: palette.Water, Width: 0.5, Fill: palette.Water, Opacity: BandStrength(k, len(state.Bands))})
		}
	}
}

// BandStrength is the opacity of band k of n: the deeper, the darker.
func BandStrength(k, n int) float64 { return 0.15 + 0.6*float64(k+1)/float64(n) }

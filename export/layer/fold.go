package layer

import (
	"github.com/paulmach/orb"

	"runnel/analysis/slope"
	"runnel/export/record"
)

func (w *builder) planes() {
	s := w.book.Study
	u := w.book.Units
	for i := range s.Slopes.Planes {
		p := &s.Slopes.Planes[i]
		title := "Level plane"
		if !p.Level {
			title = "Plane falling " + u.SaySlope(p.Slope) + " to the " + record.SayBearing(p.Aspect)
		}
		w.open("plane", w.book.Names.Plane(i), title)
		w.polygons(p.Outline, func(at orb.Point) (float64, bool) {
			return float64(p.Gradient[0]*at[0]) + float64(p.Gradient[1]*at[1]) + p.Offset, true
		})
		w.book.Plane(&w.props, i)
		st := planeStyle
		if p.BelowMin {
			st.Name, st.Opacity = "below the least slope", 0.25
		}
		w.close(st)
	}
}

func (w *builder) contours() {
	u := w.book.Units
	for i := w.from; i < w.to; i++ {
		c := &w.book.Study.Contours[i]
		w.open("contour", w.book.Names.Contour(i), "Contour "+u.SayElevation(c.Elevation))
		w.line(c.Plan, func(int) (float64, bool) { return c.Elevation, true })
		u.Length(&w.props, "elevation", c.Elevation)
		w.close(contourStyle)
	}
}

func (w *builder) valleys() {
	w.folds("valley", w.book.Study.Slopes.Valleys, w.book.Names.Valley, valleyStyle)
}

func (w *builder) ridges() {
	w.folds("ridge", w.book.Study.Slopes.Ridges, w.book.Names.Ridge, ridgeStyle)
}

// folds writes valleys or ridges; of a valley it says whether it falls too little.
func (w *builder) folds(layer string, lines []slope.Line, name func(int) string, style Style) {
	u := w.book.Units
	for i := range lines {
		l := &lines[i]
		w.open(layer, name(i), record.Capital(layer)+" falling "+u.SaySlope(l.Slope)+" over "+u.SayLength(l.Length))
		w.line(l.Plan, func(i int) (float64, bool) { return l.Levels[i], true })
		w.book.Line(&w.props, l)
		if layer == "valley" {
			w.props.Bool("below_min", l.BelowMin)
		}
		w.close(style)
	}
}

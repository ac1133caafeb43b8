package capacity

import (
	"math"

	"runnel/analysis/standard"
)

// Of returns the law of an outlet. Errors: a *MissingError where a size that the inlet needs is not stated, a
// *MethodError for a method that is not known, a *quantity.RangeError for a pipe under the least of its table.
func Of(f Fitting) (*Rating, error) {
	method, err := pick(f.Kind.String(), f.Method, Methods(f.Kind))
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	var r *Rating
	switch f.Kind {
	case Scupper:
		r, err = scupperOf(f, method)
	case Drain:
		r = drainOf(f, method)
	case Standpipe:
		r = openingOf(f.Diameter, standard.OutletOpen)
	case Edge:
		r = edgeOf(f, method)
	}
	if err != nil {
		return nil, err
	}
	if err := r.chain(f); err != nil {
		return nil, err
	}
	return r, nil
}

// check refuses sizes that are no sizes, and names those that the inlet lacks.
func (f *Fitting) check() error {
	for _, s := range []struct {
		name  string
		value float64
	}{
		{"width", float64(f.Width)},
		{"opening height", float64(f.OpeningHeight)},
		{"breadth of the crest", float64(f.CrestBreadth)},
		{"diameter", float64(f.Diameter)},
		{"diameter of the dam", float64(f.DamDiameter)},
		{"height of the dam", float64(f.DamHeight)},
		{"depth of the conductor head", float64(f.HeadDepth)},
		{"leader", float64(min(f.Leader.Width, f.Leader.Depth))},
		{"horizontal pipe", float64(f.Pipe)},
		{"slope of the horizontal pipe", float64(f.PipeSlope)},
	} {
		if !(s.value >= 0) || math.IsInf(s.value, 0) {
			return &SizeError{Name: s.name, Value: s.value}
		}
	}
	var missing []string
	switch f.Kind {
	case Scupper:
		if f.Width == 0 {
			missing = append(missing, "width")
		}
	case Drain, Standpipe:
		if f.Diameter == 0 {
			missing = append(missing, "diameter")
		}
	case Edge:
		if f.Width == 0 {
			missing = append(missing, "length")
		}
	}
	if missing != nil {
		return &MissingError{Of: f.Kind.String(), Missing: missing}
	}
	return nil
}

// chain adds what stands behind the inlet, to the rating and to those beside it.
func (r *Rating) chain(f Fitting) error {
	links, unknown, err := linksOf(f)
	if err != nil {
		return err
	}
	for _, each := range []*Rating{r, r.Lower, r.Clogged} {
		if each != nil {
			each.Links = links
			each.Unknown = append(each.Unknown, unknown...)
		}
	}
	return nil
}

// clogged returns the rating with its strainer half clogged.
func (r *Rating) clogged() *Rating {
	c := *r
	law := r.law
	c.law = func(head float64) float64 { return standard.HalfClogged * law(head) }
	c.Source = standard.HalfCloggedSource
	c.Note = "strainer half clogged: half of the flow"
	return &c
}

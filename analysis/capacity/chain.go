package capacity

import "runnel/analysis/standard"

// Names of links, as they stand in Link.Name and Rating.Unknown.
const (
	InletLink      = "inlet"
	ConductorHead  = "conductor head"
	LeaderLink     = "leader"
	HorizontalPipe = "horizontal pipe"
)

// linksOf returns what stands behind the inlet, in the way of the water, and the names of what is not stated.
func linksOf(f Fitting) (links []Link, unknown []string, err error) {
	if f.Open || f.Kind == Edge {
		return nil, nil, nil
	}
	add := func(stated bool, name string, link func() (Link, error)) {
		if !stated {
			unknown = append(unknown, name)
			return
		}
		l, e := link()
		if e != nil && err == nil {
			err = e
		}
		links = append(links, l)
	}
	if f.Kind == Scupper {
		add(f.HeadDepth > 0 && f.Leader.Stated(), ConductorHead, func() (Link, error) { return headCapacity(f.Leader, float64(f.HeadDepth)), nil })
	}
	add(f.Leader.Stated(), LeaderLink, func() (Link, error) { return LeaderCapacity(f.Leader, f.LeaderMethod) })
	add(f.Pipe > 0 && f.PipeSlope > 0, HorizontalPipe, func() (Link, error) { return PipeCapacity(f.Pipe, f.PipeSlope, f.PipeMethod) })
	return links, unknown, err
}

// headCapacity returns what runs from a conductor head that is full to depth [m] into the mouth of its leader.
func headCapacity(opening Section, depth float64) Link {
	return Link{
		Name: ConductorHead, Method: "orifice", Source: standard.OrificeSource,
		Note:     "the mouth of the leader under the depth of the full head",
		Capacity: settled(OrificeFlow(opening.area(), depth)),
	}
}

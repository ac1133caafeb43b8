package schedule

import (
	"slices"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// tables returns the tables of b in the order of the sheets.
func tables(b *record.Book) []table {
	all := []table{outlets(b), ponds(b), planes(b), findings(b)}
	if b.Study.Storm != nil {
		all = append(all, storm(b))
	}
	if len(b.Study.Sills) > 0 {
		all = append(all, sills(b))
	}
	if len(b.Study.Roof.Cores) > 0 {
		all = append(all, cores(b))
	}
	return all
}

func outlets(b *record.Book) table {
	s, u := b.Study, b.Units
	size := func(name, head string) []column {
		c := figures(u, name, head, finding.Depth)
		c[0].places = max(c[0].places, 1) // as stated: 4 in are 101.6 mm
		return c
	}
	return table{
		name: "outlets", rows: len(s.Surface.Outlets),
		columns: slices.Concat(
			[]column{words("id", "id", 11), words("label", "label", 16), words("type", "type", 10), words("duty", "duty", 10)},
			figures(u, "invert", "inlet level", finding.Elevation),
			[]column{answer("invert_assumed", "level assumed")},
			figures(u, "catchment", "area that runs to it", finding.Area),
			between(u, "catchment", "runs to it", finding.Area),
			figures(u, "travel_max", "longest way", finding.Length),
			figures(u, "travel_mean", "mean way", finding.Length),
			figures(u, "direct", "area before any low place overflows", finding.Area),
			figures(u, "direct_travel_max", "longest way then", finding.Length),
			figures(u, "direct_travel_mean", "mean way then", finding.Length),
			size("diameter", "pipe"), size("width", "scupper width"), size("opening_height", "scupper height"),
			capacity(b),
		),
		fill: func(o *record.Object, i int) {
			o.Text("id", b.Names.Outlets[i])
			b.Outlet(o, i)
			if source := s.Surface.Outlets[i].Source; source >= 0 {
				sizes(o, u, &s.Roof.Outlets[source])
			}
		},
	}
}

// sizes adds the sizes of an outlet as measured.
func sizes(o *record.Object, u record.Units, out *roof.Outlet) {
	add := func(name string, metres float64) {
		if metres > 0 {
			u.Depth(o, name, metres)
			eighths(o, u, name, metres)
		}
	}
	if out.Type == roof.Drain {
		add("diameter", float64(out.Diameter))
		return
	}
	add("width", float64(out.Width))
	add("opening_height", float64(out.OpeningHeight))
}

func ponds(b *record.Book) table {
	s, u := b.Study, b.Units
	places := make([]string, len(s.Ponds.Ponds))
	for i := range s.Findings {
		if f := &s.Findings[i]; f.Pond >= 0 && places[f.Pond] == "" {
			places[f.Pond] = u.SayText(f.Where)
		}
	}
	return table{
		name: "ponds", rows: len(s.Listed),
		columns: slices.Concat(
			[]column{words("id", "id", 11), words("place", "place", 30)},
			figures(u, "depth", "depth when full", finding.Depth),
			figures(u, "area", "area", finding.Area),
			figures(u, "volume", "water", finding.Volume),
			figures(u, "weight", "weight", finding.Mass),
			figures(u, "load", "load at the deepest", finding.Pressure),
			figures(u, "level", "water level", finding.Elevation),
			between(u, "depth", "depth when full", finding.Depth), between(u, "area", "area", finding.Area), between(u, "volume", "water", finding.Volume),
			[]column{
				{name: "chance_listed", head: "chance that it is as deep as the list asks", places: 3, width: 12},
				{name: "chance_deep", head: "chance that it is over 2 in deep", places: 3, width: 12},
				answer("barely_shown", "barely shown"),
			},
			[]column{
				words("where", "where", 15), words("held_by", "held by", 14), words("spills_to", "then spills to", 14),
				{name: "evidence", head: "evidence (squared standard errors)", places: 1, width: 12},
				words("confidence", "shown", 16),
				words("causes", "causes, likeliest first", 28),
			},
		),
		fill: func(o *record.Object, i int) {
			pond := s.Listed[i].Pond
			o.Text("id", b.Names.Ponds[pond])
			o.Text("place", places[pond])
			b.Pond(o, i)
			if !b.Barely(i) {
				eighths(o, u, "depth", s.Ponds.Ponds[pond].Depth)
			}
		},
	}
}

func planes(b *record.Book) table {
	s, u := b.Study, b.Units
	return table{
		name: "planes", rows: len(s.Slopes.Planes),
		columns: slices.Concat(
			[]column{words("id", "id", 11)},
			figures(u, "slope", "slope", finding.Slope),
			[]column{words("falls_to", "falls to the", 13)},
			figures(u, "aspect", "bearing", finding.Bearing),
			figures(u, "area", "area", finding.Area),
			[]column{
				answer("below_min", "under the criterion"),
				{name: "slope_sigma_pct", head: "standard error of slope (%)", places: 3, width: 12},
				{name: "slope_pct_5", head: "slope (%): 5 %", places: 3, width: 11},
				{name: "slope_pct_95", head: "slope (%): 95 %", places: 3, width: 11},
				{name: "chance_below_min", head: "chance that it is under the criterion", places: 3, width: 12},
				{name: "assumed_share", head: "assumed (share of 1)", places: 3, width: 10},
			},
		),
		fill: func(o *record.Object, i int) {
			o.Text("id", b.Names.Plane(i))
			b.Plane(o, i)
			if p := &s.Slopes.Planes[i]; p.Level {
				o.Text("falls_to", "level")
			} else {
				o.Text("falls_to", record.SayBearing(p.Aspect))
			}
		},
	}
}

func findings(b *record.Book) table {
	return table{
		name: "findings", rows: len(b.Study.Findings),
		columns: []column{
			words("id", "id", 11), words("severity", "severity", 10), words("kind", "kind", 20),
			text("what", 36), text("where", 26), text("measured", 36), text("required", 24), text("source", 36), text("why", 40),
			text("do", 40), words("decides", "decides", 11), words("confidence", "confidence", 19), text("also", 20),
			words("pond", "pond", 11), words("outlet", "outlet", 11),
		},
		fill: func(o *record.Object, i int) {
			o.Text("id", b.Names.Finding(i))
			b.Finding(o, i)
		},
	}
}

package schedule

import (
	"slices"

	"runnel/analysis/finding"
	"runnel/export/record"
)

// capacity returns the columns of what the design rain asks of an outlet and what it takes; none where no rate is stated.
func capacity(b *record.Book) []column {
	u := b.Units
	if d := b.Study.Drainage; d.Primary <= 0 && d.Overflow <= 0 {
		return nil
	}
	perhaps := func(name, head string) column { return column{name: name, head: head, kind: maybe, width: 10} }
	plain := func(name, head string) column { // a depth without a second column of eighths
		return figures(u, name, head, finding.Depth)[0]
	}
	return slices.Concat(
		figures(u, "rain", "rain it is compared at", finding.Rain),
		figures(u, "walls", "area of walls", finding.Area),
		figures(u, "above", "area of roofs above", finding.Area),
		figures(u, "demand", "flow that comes", finding.Flow),
		[]column{
			perhaps("takes_demand", "takes it"), plain("head", "head it needs"), plain("head_half_clogged", "head, strainer half clogged"),
			perhaps("beyond_tested", "outside what was tested"), words("least_link", "least behind the inlet", 15),
		},
		figures(u, "least_link", "that takes", finding.Flow),
		[]column{
			words("links_unknown", "not stated", 26), words("unsized", "sizes missing", 26), words("method", "method", 16),
			text("method_source", 44),
		},
	)
}

// storm lists the cases of the design storm.
func storm(b *record.Book) table {
	u := b.Units
	hours := func(name, head string) column { return column{name: name, head: head + " (h)", places: 2, width: 11} }
	return table{
		name: "storm", rows: len(b.Study.Storm.Cases),
		columns: slices.Concat(
			[]column{words("case", "with", 30), words("blocked", "blocked outlets", 26)},
			figures(u, "max_depth", "deepest water", finding.Depth)[:1],
			figures(u, "max_load", "load there", finding.Pressure),
			figures(u, "max_level", "its level", finding.Elevation),
			[]column{hours("max_depth_at_h", "after the rain begins"), words("deepest_near", "near", 14)},
			figures(u, "rain", "rain on the roof", finding.Volume),
			figures(u, "from_above", "from walls and roofs above", finding.Volume),
			figures(u, "before", "stood there before", finding.Volume),
			figures(u, "out", "taken by outlets and edges", finding.Volume),
			figures(u, "evaporated", "dried", finding.Volume),
			figures(u, "held_at_end", "on the roof as the rain ends", finding.Volume),
			figures(u, "left_after_48h", "left after 48 h", finding.Volume),
			[]column{hours("time_to_drain_h", "drains after the rain for"), answer("covered", "covers its highest point")},
		),
		fill: func(o *record.Object, i int) { b.StormCase(o, &b.Study.Storm.Cases[i]) },
	}
}

// sills lists the water that comes to each sill, case by case.
func sills(b *record.Book) table {
	u := b.Units
	return table{
		name: "sills", rows: len(b.Study.Sills),
		columns: slices.Concat(
			[]column{words("id", "id", 11), words("label", "label", 16), words("case", "with", 30)},
			figures(u, "elevation", "sill", finding.Elevation),
			figures(u, "water_level", "water level", finding.Elevation),
			figures(u, "margin", "below the sill", finding.Depth)[:1],
		),
		fill: func(o *record.Object, i int) { b.Sill(o, i) },
	}
}

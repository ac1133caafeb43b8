package schedule

import (
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/export/record"
)

// cores is the table of cores, with what follows from each.
func cores(b *record.Book) table {
	u, all := b.Units, b.Study.Assembly.Cores
	unit := choose.If(u == record.US, "sq ft h °F/Btu", "m² K/W")
	return table{
		name: "cores", rows: len(all),
		columns: slices.Concat(
			[]column{words("id", "id", 16), words("pond", "in pond", 11)},
			figures(u, "thickness", "thickness", finding.Depth),
			figures(u, "thickness_sigma", "its standard error", finding.Depth),
			figures(u, "surface", "surface level", finding.Elevation),
			figures(u, "deck_level", "deck level", finding.Elevation),
			[]column{{name: u.RName("r"), head: "R of the layers, dry (" + unit + ")", places: 2, width: 12}},
			figures(u, "dead_load", "dead load", finding.Pressure),
			[]column{text("layers", 40), words("deck", "deck", 14), text("flags", 40)},
		),
		fill: func(o *record.Object, i int) {
			c := &all[i]
			o.Text("id", b.Names.Input("core", c.ID))
			b.Core(o, i)
			if c.HasThickness {
				eighths(o, u, "thickness", c.Thickness)
				eighths(o, u, "thickness_sigma", c.Sigma)
			}
			var layers []string
			for k := range c.Layers {
				l := &c.Layers[k]
				layers = append(layers, strings.TrimSpace(u.SayDepth(l.Thickness)+" "+l.Material+" "+l.Condition))
			}
			o.Text("layers", strings.Join(layers, ", "))
			o.Text("deck", c.DeckType)
		},
	}
}

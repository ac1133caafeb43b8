package drainage

import (
	"runnel/analysis/capacity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// rate returns the law of an outlet; neither a law nor an error for an edge, which takes what comes.
func rate(r *roof.Roof, o *surface.Outlet, p standard.Practice) (*capacity.Rating, error) {
	if o.Type == roof.EdgeOutlet || o.Source < 0 {
		return nil, nil
	}
	return capacity.Of(FittingOf(&r.Outlets[o.Source], p))
}

// FittingOf returns the sizes of a measured outlet as package capacity asks for them, and the methods of a practice.
func FittingOf(o *roof.Outlet, p standard.Practice) capacity.Fitting {
	f := fitting(o)
	if p == standard.EU {
		f.LeaderMethod, f.PipeMethod = capacity.Rainwater, capacity.Rainwater
		if f.Kind == capacity.Drain {
			f.Method = capacity.WeirOrifice
		}
	}
	return f
}

func fitting(o *roof.Outlet) capacity.Fitting {
	f := capacity.Fitting{
		Kind: capacity.Drain, Diameter: o.Diameter, DamDiameter: o.DamDiameter, DamHeight: o.DamHeight,
		Leader: section(o.Leader), Pipe: o.Pipe, PipeSlope: o.PipeSlope,
	}
	if o.Type == roof.Scupper {
		f = capacity.Fitting{
			Kind: capacity.Scupper, Width: o.Width, OpeningHeight: o.OpeningHeight, CrestBreadth: o.CrestBreadth, SharpEdge: o.Crest == roof.SharpCrest,
			HeadDepth: o.ConductorHead, Leader: f.Leader, Pipe: f.Pipe, PipeSlope: f.PipeSlope,
		}
		if o.WidthAssumed {
			f.Width = 0 // nobody gave one: its capacity is not known
		}
		f.Open = !o.Leader.Known() && o.Pipe == 0 && o.ConductorHead == 0 && o.Duty == roof.Overflow
	}
	return f
}

// section returns the section of a leader.
func section(p roof.Pipe) capacity.Section {
	if p.Diameter > 0 {
		return capacity.Section{Width: p.Diameter}
	}
	return capacity.Section{Width: p.Width, Depth: p.Depth}
}

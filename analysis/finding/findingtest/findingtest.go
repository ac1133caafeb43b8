// Package findingtest is test support: it lists all kinds of findings, which nothing outside tests goes through.
package findingtest

import "runnel/analysis/finding"

// Kinds returns every kind of finding: first the causes of a pond, then the others.
func Kinds() []finding.Kind {
	return []finding.Kind{
		finding.OutletHigh, finding.RiseBefore, finding.ValleyFlat, finding.CricketFlat, finding.CricketMissing, finding.Dish, finding.Camber, finding.LevelArea,
		finding.EdgeHigh, finding.Step, finding.OutletOnHigh, finding.RidgeLine, finding.LowPlace,
		finding.PlaneFlat, finding.NoWayOut, finding.OutletsUnsurveyed, finding.NoOverflow, finding.TravelLong, finding.InvertUnknown, finding.WallFlat, finding.OutletUnused, finding.StainDiffers, finding.SurveyThin,
		finding.RimBelowSpot, finding.SillBelowRoof, finding.OffRoof, finding.CornersHigh, finding.SpotOdd,
		finding.OutletSmall, finding.OutletUnsized, finding.OutletSingle, finding.HeadUntested, finding.ScupperFull, finding.OverflowHigh, finding.OverflowLow, finding.OverflowSmall,
		finding.LoadOverLimit, finding.BaySusceptible, finding.SillLow,
		finding.InsulationWet, finding.InsulationThin, finding.DeckLow, finding.DeckSoft, finding.TaperAgainstDeck, finding.CoreOdd,
	}
}

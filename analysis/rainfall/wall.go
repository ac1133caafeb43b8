package rainfall

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Wall is a wall that rises over the roof and sheds rain onto it.
type Wall struct {
	Length, Height quantity.Length
	Bearing        float64 // direction in which its face looks, degrees clockwise from north
}

// RuleError says that a wall rule has no such name.
type RuleError struct{ Name string }

// Error lists the names that are known.
func (e *RuleError) Error() string {
	return fmt.Sprintf("unknown rule %q for walls: use %s", e.Name, strings.Join(gather.Each(standard.WallRules(), func(r standard.WallRule) string { return r.Name }), ", "))
}

// WallArea returns the area of roof [m2] that the walls count as by the rule of that name, and the rule. An unknown name
// is a *RuleError.
func WallArea(name string, walls []Wall) (float64, standard.WallRule, error) {
	rules := standard.WallRules()
	i := slices.IndexFunc(rules, func(r standard.WallRule) bool { return r.Name == name })
	if i < 0 {
		return 0, standard.WallRule{}, &RuleError{Name: name}
	}
	for _, w := range walls {
		if !(w.Length >= 0) || !(w.Height >= 0) || math.IsInf(float64(w.Length)*float64(w.Height), 0) ||
			math.IsNaN(w.Bearing) || math.IsInf(w.Bearing, 0) {
			return 0, rules[i], fmt.Errorf("a wall %v m long, %v m high, looking to %v degrees is no wall", float64(w.Length), float64(w.Height), w.Bearing)
		}
	}
	switch name {
	case standard.WallsHalf:
		return standard.WallShareHalf * faces(walls), rules[i], nil
	case standard.WallsQuarter:
		return standard.WallShareQuarter * faces(walls), rules[i], nil
	case standard.WallsBySides:
		return bySides(walls), rules[i], nil
	}
	return 0, rules[i], nil
}

// faces returns the area of all faces [m2].
func faces(walls []Wall) float64 {
	return gather.Sum(walls, func(w Wall) float64 { return float64(float64(w.Length) * float64(w.Height)) })
}

// bySides returns the area [m2] of the rule of sides: the walls are cut into layers at each of their tops, and each
// layer counts by which of the four sides still stand there: half of one, 35 % of two that adjoin, nothing of two that
// face each other, half of the middle one of three, nothing of four. Source: standard.WallRules, WallsBySides.
func bySides(walls []Wall) float64 {
	tops := []float64{0}
	for _, w := range walls {
		tops = append(tops, float64(w.Height))
	}
	slices.Sort(tops)
	area := 0.0
	for i := 1; i < len(tops); i++ {
		if high := tops[i] - tops[i-1]; high > 0 {
			area += float64(high * counted(lengths(walls, tops[i-1])))
		}
	}
	return area
}

// lengths returns the length of wall on each of four sides that is higher than a height [m]. Sides go round clockwise
// from that of the first wall; a wall belongs to the side it looks along within 45 degrees.
func lengths(walls []Wall, height float64) [4]float64 {
	var sides [4]float64
	for _, w := range walls {
		if float64(w.Height) <= height {
			continue
		}
		turn := math.Mod(w.Bearing-walls[0].Bearing, 360)
		side := (int(math.Floor(turn/90+0.5)) + 4) % 4
		sides[side] += float64(w.Length)
	}
	return sides
}

// counted returns the length of wall that counts in a layer in which walls of these lengths stand on the four sides.
func counted(sides [4]float64) float64 {
	var standing []int
	total := 0.0
	for i, l := range sides {
		if l > 0 {
			standing = append(standing, i)
			total += l
		}
	}
	switch len(standing) {
	case 1:
		return standard.WallShareHalf * total
	case 2:
		if (standing[1]-standing[0])%2 == 1 {
			return standard.WallShareAdjoining * total
		}
	case 3: // the middle one stands opposite the side that is free
		free := 6 - standing[0] - standing[1] - standing[2]
		return standard.WallShareHalf * sides[(free+2)%4]
	}
	return 0
}

package settle

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
)

// When spots of one code that is not known stand on things, not on the roof: there are three or more, and no more than a quarter of all spots, and four in five of them
// stand over the plane of the spots round them by more than a tenth of a metre, and by more than a roof's fall makes from the nearest of those. Own choices.
const (
	raisedFew   = 3
	raisedMost  = 300
	raisedLeast = 0.1  // [m]
	raisedFall  = 0.06 // the steepest side of a cricket, rise over run
	raisedNear  = 8    // spots that a plane is laid through
)

// raised says which spots stand on things, by their codes, and notes each code.
func (d *draft) raised() map[int32]bool {
	byCode := map[string][]int32{}
	for i := range d.r.Spots {
		if s := &d.r.Spots[i]; s.Code != "" && !slices.Contains(d.r.Kept, s.ID) {
			byCode[s.Code] = append(byCode[s.Code], int32(i))
		}
	}
	var codes []string
	for code, of := range byCode {
		if len(of) >= raisedFew && len(of) <= raisedMost && 4*len(of) <= len(d.r.Spots) {
			codes = append(codes, code)
		}
	}
	if len(codes) == 0 {
		return nil
	}
	slices.Sort(codes)
	var others []int32 // spots of no such code
	for i := range d.r.Spots {
		if s := &d.r.Spots[i]; s.HasZ && !slices.Contains(codes, s.Code) {
			others = append(others, int32(i))
		}
	}
	out := map[int32]bool{}
	for _, code := range codes {
		if low, high, ok := d.onThing(byCode[code], others); ok {
			for _, i := range byCode[code] {
				out[i] = true
			}
			d.onThings = append(d.onThings, fmt.Sprintf("%.40s %d (%s to %s)", code, len(byCode[code]), d.height(low), d.height(high)))
		}
	}
	return out
}

// onThing reports whether spots of one code stand on things, and how high over the others the lowest and the highest of those that do [m].
func (d *draft) onThing(of, others []int32) (low, high float64, ok bool) {
	low = math.Inf(1)
	over := 0
	for _, i := range of {
		if lift, least, ok := d.lift(i, others); ok && lift > least {
			over++
			low, high = math.Min(low, lift), math.Max(high, lift)
		}
	}
	return low, high, 5*over >= 4*len(of)
}

// lift returns by how much spot i stands over the plane of the others nearest to it, and by how much it must to stand on a thing [m].
func (d *draft) lift(i int32, others []int32) (lift, least float64, ok bool) {
	p := d.r.Spots[i].Plan
	far := func(k int32) float64 {
		q := d.r.Spots[k].Plan
		return vector.Norm(q[0]-p[0], q[1]-p[1])
	}
	var near []int32
	for _, k := range others {
		if len(near) == raisedNear && far(k) >= far(near[raisedNear-1]) {
			continue
		}
		at, _ := slices.BinarySearchFunc(near, k, func(a, b int32) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
		near = slices.Insert(near, at, k)
		near = near[:min(len(near), raisedNear)]
	}
	if len(near) < raisedNear {
		return 0, 0, false
	}
	var m regression.Sums
	z := d.r.Spots[i].Z
	for _, k := range near {
		s := &d.r.Spots[k]
		m.Weigh(1, s.Plan[0]-p[0], s.Plan[1]-p[1], s.Z-z)
	}
	plane, ok := m.Plane(collinear)
	if !ok {
		return 0, 0, false
	}
	return -plane.At(0, 0), math.Max(raisedLeast, raisedFall*far(near[0])), true
}

// sayRaised words what was left out since it stands on things.
func (d *draft) sayRaised() string {
	return "Spots of codes that are not known stand on things, so far over the roof round them, and were left out: " + strings.Join(d.onThings, ", ") +
		"; draw the things as curbs, or say what the codes mean with --code-list, SPOT where they are the roof."
}

// height words a height in the unit of the roof.
func (d *draft) height(v float64) string {
	if d.r.Units.Imperial() {
		return quantity.InchesEighths(quantity.Length(v))
	}
	return quantity.WholeMillimetres(quantity.Length(v))
}

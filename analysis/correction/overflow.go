package correction

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// reset is a designer of the roof as it is with overflow drains in the place of its overflow scuppers, one beside each primary drain and the limit over it: boards over the whole
// roof would cover a scupper's floor or leave it too high over the water, and it is never raised for them. ok is false where there is no such scupper, where one is to be kept, where
// there are more of them than primary drains, and where no place beside a drain is clear.
func (d *designer) reset() (own *designer, told []mend.Change, ok bool) {
	r := *d.Study.Roof
	r.Outlets = slices.Clone(r.Outlets)
	scuppers, drains, ok := d.scuppersAndDrains()
	if !ok || len(scuppers) == 0 || len(scuppers) > len(drains) {
		return nil, nil, false
	}
	var names, beside []string
	var at orb.Point
	for k, i := range drains {
		o, found := d.OverflowBeside(i)
		if !found {
			return nil, nil, false
		}
		if k == 0 {
			at = o.Plan
		}
		beside = append(beside, d.Surface.Outlets[i].Label)
		if k < len(scuppers) {
			was := &r.Outlets[scuppers[k]]
			names = append(names, mend.Named(was.Label, was.ID))
			*was = o // in its place in the list: the others keep theirs
		} else {
			r.Outlets = append(r.Outlets, o)
		}
	}
	s, err := study.Run(&r, d.options())
	if err != nil {
		return nil, nil, false
	}
	in := *d.in
	in.Study = s
	if own, err = newDesigner(&in); err != nil {
		return nil, nil, false
	}
	own.before, own.found = d.before, d.found
	return own, []mend.Change{{
		Kind: mend.AddOutlet, Decides: finding.Engineer, At: at, Brief: "overflow drains for the overflow scuppers",
		What: finding.Say("Put an overflow drain beside each of {1}, its inlet {0} over the drain's at most, with a leader and a place of discharge of its own, and close {2}: "+
			"new boards would cover an overflow in the wall or stand too far below it, and none is raised to fit boards",
			finding.MM("over", d.Study.Criteria.OverflowMost()), finding.Called(strings.Join(beside, ", ")), finding.Called(strings.Join(names, ", "))),
	}}, true
}

// scuppersAndDrains returns the overflow scuppers, as indices into roof.Outlets, and the primary drains, into Surface.Outlets. ok is false where there is an overflow of another
// kind or one that stays, or a primary scupper: its overflow is one beside it.
func (d *designer) scuppersAndDrains() (scuppers, drains []int, ok bool) {
	for i := range d.Surface.Outlets {
		switch o := &d.Surface.Outlets[i]; {
		case o.Source < 0:
		case o.Duty == roof.Overflow && (o.Type != roof.Scupper || d.Kept(i)):
			return nil, nil, false
		case o.Duty == roof.Overflow:
			scuppers = append(scuppers, o.Source)
		case o.Type == roof.Drain:
			drains = append(drains, i)
		default:
			return nil, nil, false
		}
	}
	return scuppers, drains, true
}

// overReset lays the roof anew, on what lies there or on the deck, with overflow drains in the place of scuppers; it returns the nearest to the limits of these options and of best. Where best leaves nothing
// undone it is that.
func (d *designer) overReset(r *Result, best int) (int, error) {
	if best >= 0 && r.Options[best].whole() {
		return best, nil
	}
	own, told, ok := d.reset()
	if !ok {
		return best, nil
	}
	for _, k := range []mend.Kind{mend.Overlay, mend.Replace} {
		if !d.Steering.Allows(k) || !d.Steering.Allows(mend.AddOutlet) {
			continue
		}
		list, err := own.renewed(k, nil)
		if err != nil {
			return best, err
		}
		for i := range list {
			if list[i].Possible {
				list[i].NewOutlets = newOutlets(d.found, list[i].Roof)
				list[i].Changes = append(slices.Clone(told), list[i].Changes...)
			}
		}
		if best = r.nearest(k, list, best); best >= 0 && r.Options[best].whole() {
			break
		}
	}
	return best, nil
}

// IsNew reports whether outlet i of a corrected roof is none of the roof as surveyed: it was added, or stands in the list in the place of one that is closed.
func IsNew(before, after *roof.Roof, i int) bool {
	return i >= len(before.Outlets) || after.Outlets[i].Origin.File == mend.Designed && before.Outlets[i].Origin.File != mend.Designed
}

// newOutlets returns how many outlets of a corrected roof are new.
func newOutlets(before, after *roof.Roof) int {
	n := 0
	for i := range after.Outlets {
		if IsNew(before, after, i) {
			n++
		}
	}
	return n
}

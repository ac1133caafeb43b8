package flow

import "slices"

// interval is a piece of a side with one label; travel is linear along it. It starts where the one
// before it ends.
type interval struct {
	end    float64 // position along the side, 1 at its end, which only the last of a list reaches
	d0, d1 float64 // travel at its start and end [m]
	err    float32 // bound of the error of d0 and d1 [m]
	label  Label
}

// arena keeps the lists of all sides in blocks that never move.
type arena struct {
	blocks [][]interval
	at     []int32 // per half-edge: block number * blockSize + place; -1 none; below that, -2 less the label that all of it has, without travel
}

const blockSize = 1 << 17

func newArena(sides int) arena { return arena{at: none(sides)} }

// store copies a list and makes it that of side e. It is not empty, and its last interval alone ends at 1.
func (a *arena) store(e int32, list []interval) {
	last := len(a.blocks) - 1
	if last < 0 || len(a.blocks[last])+len(list) > cap(a.blocks[last]) {
		size := min(blockSize, max(1024, 2*a.size()))
		a.blocks = append(a.blocks, make([]interval, 0, max(size, len(list))))
		last++
	}
	block := &a.blocks[last]
	a.at[e] = int32(last)*blockSize + int32(len(*block))
	*block = append(*block, list...)
}

// storeWhole gives all of side e one label, without travel.
func (a *arena) storeWhole(e int32, label Label) { a.at[e] = -2 - int32(label) }

// whole returns the label that storeWhole gave side e, false where it has a list or none.
func (a *arena) whole(e int32) (Label, bool) { return Label(-2 - a.at[e]), a.at[e] < -1 }

// size returns how many intervals the last block has room for.
func (a *arena) size() int {
	if len(a.blocks) == 0 {
		return 0
	}
	return cap(a.blocks[len(a.blocks)-1])
}

// from returns the list of side e, and behind it those of other sides.
func (a *arena) from(e int32) []interval {
	at := a.at[e]
	return a.blocks[at/blockSize][at%blockSize:]
}

// of returns the list of side e.
func (a *arena) of(e int32) []interval {
	list := a.from(e)
	n := 0
	for list[n].end < 1 {
		n++
	}
	return list[:n+1]
}

// labelInterval is an interval without travel.
type labelInterval struct {
	end   float64
	label Label
}

// labelLists is what remains of the lists once travel has been summed up. Nearly every side has one label: all of those share a list for each label.
type labelLists struct {
	at   []int32 // per half-edge: where its list begins, -1 none
	list []labelInterval
}

// of returns the list of side e.
func (l *labelLists) of(e int32) []labelInterval {
	first := l.at[e]
	last := first
	for l.list[last].end < 1 {
		last++
	}
	return l.list[first : last+1]
}

// labels returns the lists with neighbours of one label merged.
func (v *solver) labels() labelLists {
	l := labelLists{at: none(len(v.t.V))}
	for label := range v.Ends {
		l.list = append(l.list, labelInterval{1, Label(label)})
	}
	for e, at := range v.lists.at {
		if label, whole := v.lists.whole(int32(e)); whole {
			l.at[e] = int32(label)
		} else if at >= 0 {
			l.at[e] = l.merge(v.lists.of(int32(e)))
		}
	}
	l.list = slices.Clip(l.list)
	return l
}

// merge returns where the list of a side with these intervals begins.
func (l *labelLists) merge(list []interval) int32 {
	first := len(l.list)
	for _, x := range list {
		if last := len(l.list) - 1; last >= first && l.list[last].label == x.label {
			l.list[last].end = x.end
		} else {
			l.list = append(l.list, labelInterval{x.end, x.label})
		}
	}
	if len(l.list) == first+1 {
		l.list = l.list[:first]
		return int32(list[0].label)
	}
	return int32(first)
}

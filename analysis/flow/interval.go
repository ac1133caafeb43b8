package flow

// interval is a piece of a side with one label; travel is linear along it. It starts where the one
// before it ends.
type interval struct {
	end    float64 // position along the side, 1 at its end
	d0, d1 float64 // travel at its start and end [m]
	err    float32 // bound of the error of d0 and d1 [m]
	label  Label
}

// arena keeps the lists of all sides in blocks that never move.
type arena struct {
	blocks [][]interval
	at     []int32 // per half-edge: block number * blockSize + place; -1 none
	count  []int32
}

const blockSize = 1 << 17

func newArena(sides int) arena {
	return arena{at: none(sides), count: make([]int32, sides)}
}

// store copies a list and makes it that of side e.
func (a *arena) store(e int32, list []interval) {
	last := len(a.blocks) - 1
	if last < 0 || len(a.blocks[last])+len(list) > cap(a.blocks[last]) {
		size := min(blockSize, max(1024, 2*a.size()))
		a.blocks = append(a.blocks, make([]interval, 0, max(size, len(list))))
		last++
	}
	block := &a.blocks[last]
	a.at[e] = int32(last)*blockSize + int32(len(*block))
	a.count[e] = int32(len(list))
	*block = append(*block, list...)
}

// size returns how many intervals the last block has room for.
func (a *arena) size() int {
	if len(a.blocks) == 0 {
		return 0
	}
	return cap(a.blocks[len(a.blocks)-1])
}

// of returns the list of side e.
func (a *arena) of(e int32) []interval {
	at := a.at[e]
	block, place := a.blocks[at/blockSize], at%blockSize
	return block[place : place+a.count[e]]
}

// labelInterval is an interval without travel.
type labelInterval struct {
	end   float64
	label Label
}

// labelLists is what remains of the lists once travel has been summed up.
type labelLists struct {
	at   []int32 // per half-edge, plus one at the end
	list []labelInterval
}

// of returns the list of side e.
func (l *labelLists) of(e int32) []labelInterval { return l.list[l.at[e]:l.at[e+1]] }

// labels returns the lists with neighbours of one label merged.
func (v *solver) labels() labelLists {
	l := labelLists{at: make([]int32, len(v.t.V)+1)}
	total := 0
	for e := range v.t.V {
		if v.lists.at[e] < 0 {
			continue
		}
		last := Unlabelled
		for _, x := range v.lists.of(int32(e)) {
			if x.label != last {
				total++
				last = x.label
			}
		}
	}
	l.list = make([]labelInterval, 0, total)
	for e := range v.t.V {
		if v.lists.at[e] >= 0 {
			first := len(l.list)
			for _, x := range v.lists.of(int32(e)) {
				if last := len(l.list) - 1; last >= first && l.list[last].label == x.label {
					l.list[last].end = x.end
				} else {
					l.list = append(l.list, labelInterval{x.end, x.label})
				}
			}
		}
		l.at[e+1] = int32(len(l.list))
	}
	return l
}

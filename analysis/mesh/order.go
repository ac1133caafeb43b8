package mesh

import "slices"

// Order returns the indices of the points along a Hilbert curve over their bounding box, so that
// neighbours in the list are neighbours in plan; points of one cell are ordered by x, then y. The order
// depends on the points alone, not on the order in which they come. len(x) == len(y).
func Order(x, y []int32) []int32 {
	n := len(x)
	keys := make([]uint64, n)
	x0, y0, shift := box(x, y)
	for i := range x {
		k := hilbert(uint32(int64(x[i])-x0)>>shift, uint32(int64(y[i])-y0)>>shift)
		keys[i] = uint64(k)<<32 | uint64(uint32(i))
	}
	if !slices.IsSorted(keys) {
		keys = radixSort(keys)
	}
	order := make([]int32, n)
	for i, k := range keys {
		order[i] = int32(uint32(k))
	}
	for i := 0; i < n; {
		j := i + 1
		for j < n && keys[j]>>32 == keys[i]>>32 {
			j++
		}
		if j-i > 1 {
			sortCell(order[i:j], x, y)
		}
		i = j
	}
	return order
}

func sortCell(cell, x, y []int32) {
	slices.SortFunc(cell, func(a, b int32) int {
		switch {
		case x[a] != x[b]:
			return cmp32(x[a], x[b])
		case y[a] != y[b]:
			return cmp32(y[a], y[b])
		}
		return cmp32(a, b)
	})
}

func cmp32(a, b int32) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// box returns the lower corner of the points and the shift that brings their span under 2^16.
func box(x, y []int32) (x0, y0 int64, shift uint) {
	if len(x) == 0 {
		return 0, 0, 0
	}
	span := max(int64(slices.Max(x))-int64(slices.Min(x)), int64(slices.Max(y))-int64(slices.Min(y)))
	for span>>shift > 0xffff {
		shift++
	}
	return int64(slices.Min(x)), int64(slices.Min(y)), shift
}

// hilbert returns the distance of cell (x, y) along the Hilbert curve of a 2^16 by 2^16 grid, four bits a
// step through a table of the curve's four orientations.
func hilbert(x, y uint32) uint32 {
	var d, state uint32
	for shift := 12; shift >= 0; shift -= 4 {
		step := uint32(hilbertStep[state<<8|x>>shift&15<<4|y>>shift&15])
		d = d<<8 | step&0xff
		state = step >> 8
	}
	return d
}

// hilbertStep holds, for an orientation and the next four bits of x and y, eight bits of the distance and the
// orientation that follows.
var hilbertStep = makeHilbertStep()

// makeHilbertStep turns and mirrors the curve bit by bit (Warren, "Hacker's Delight", 2nd edition, chapter
// 16; from memory). Orientation bit 0 swaps the axes, bit 1 turns them about.
func makeHilbertStep() [4 << 8]uint16 {
	var table [4 << 8]uint16
	for i := range uint32(len(table)) {
		state, x, y := i>>8, i>>4&15, i&15
		var d uint32
		for bit := 3; bit >= 0; bit-- {
			rx, ry := x>>bit&1, y>>bit&1
			if state&2 != 0 {
				rx, ry = 1-rx, 1-ry
			}
			if state&1 != 0 {
				rx, ry = ry, rx
			}
			d = d<<2 | (3 * rx) ^ ry
			if ry == 0 {
				state ^= 1 | rx<<1
			}
		}
		table[i] = uint16(state<<8 | d)
	}
	return table
}

// radixSort sorts keys by their upper 32 bits; equal ones keep their order.
func radixSort(keys []uint64) []uint64 {
	const bitsPerPass, passes = 11, 3
	var count [passes][1 << bitsPerPass]int32
	for _, k := range keys {
		for p := range count {
			count[p][digit(k, p)]++
		}
	}
	other := make([]uint64, len(keys))
	for p := range count {
		sum := int32(0)
		for d, c := range count[p] {
			count[p][d] = sum
			sum += c
		}
		for _, k := range keys {
			d := digit(k, p)
			other[count[p][d]] = k
			count[p][d]++
		}
		keys, other = other, keys
	}
	return keys
}

func digit(k uint64, pass int) uint64 { return k >> (32 + 11*pass) & 0x7ff }

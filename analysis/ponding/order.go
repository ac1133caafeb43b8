package ponding

import (
	"math"
	"slices"
)

// byElevation returns the indices of z by (elevation, index): a radix sort on the bits of the floats.
func byElevation(z []float64) []int32 {
	order := make([]int32, len(z))
	for i := range order {
		order[i] = int32(i)
	}
	if len(z) < 4096 {
		slices.SortFunc(order, func(a, b int32) int {
			switch {
			case z[a] < z[b]:
				return -1
			case z[a] > z[b]:
				return 1
			}
			return int(a - b)
		})
		return order
	}
	return radix(z, order)
}

const (
	digitBits = 11
	digits    = 6 // 6*11 >= 64
)

// digit returns digit d of a key, 0 the lowest.
func digit(key uint64, d int) uint64 { return key >> (d * digitBits) & (1<<digitBits - 1) }

func radix(z []float64, order []int32) []int32 {
	var count [digits][1 << digitBits]int32
	key := make([]uint64, len(z))
	for i, v := range z {
		k := sortable(v)
		key[i] = k
		for d := range digits {
			count[d][digit(k, d)]++
		}
	}
	other, otherKey := make([]int32, len(z)), make([]uint64, len(z))
	for d := range digits {
		if count[d][digit(key[0], d)] == int32(len(z)) {
			continue // all alike in this digit
		}
		sum := int32(0)
		for i, c := range count[d] {
			count[d][i], sum = sum, sum+c
		}
		for i, k := range key {
			at := &count[d][digit(k, d)]
			other[*at], otherKey[*at] = order[i], k
			*at++
		}
		order, other = other, order
		key, otherKey = otherKey, key
	}
	return order
}

// sortable maps floats to integers of the same order; both zeros are one.
func sortable(v float64) uint64 {
	b := math.Float64bits(v + 0)
	if v == 0 {
		b = 0
	}
	if b>>63 != 0 {
		return ^b
	}
	return b | 1<<63
}

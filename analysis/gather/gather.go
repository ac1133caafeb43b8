// Package gather makes lists, counts and sums from lists.
package gather

import "slices"

// Each returns what of gives for each item, in their order: nil of none.
func Each[T, U any](list []T, of func(T) U) []U {
	out := slices.Grow([]U(nil), len(list))
	for _, item := range list {
		out = append(out, of(item))
	}
	return out
}

// Where returns the items for which keep holds, in their order: nil where it holds for none.
func Where[T any](list []T, keep func(T) bool) []T {
	var out []T
	for _, item := range list {
		if keep(item) {
			out = append(out, item)
		}
	}
	return out
}

// Count returns for how many items is holds.
func Count[T any](list []T, is func(T) bool) int {
	n := 0
	for _, item := range list {
		if is(item) {
			n++
		}
	}
	return n
}

// Sum adds up what of gives for each item, in their order.
func Sum[T any, N int | float64](list []T, of func(T) N) N {
	var sum N
	for _, item := range list {
		sum += of(item)
	}
	return sum
}

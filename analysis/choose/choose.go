// Package choose takes one of two values by a condition, where both are at hand and an if would be longer than what it says.
package choose

// If returns yes where the condition holds, and no elsewhere. Both are worked out first: neither may cost much, nor rest on the condition.
func If[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

// At returns the item of a list that a value of a closed list of values stands for, and the first where the value is none of them.
func At[T any, V ~uint8](list []T, value V) T { return list[If(int(value) < len(list), int(value), 0)] }

// Package choose takes one of two values by a condition, where both are at hand and an if would be longer than what it says.
package choose

// If returns yes where the condition holds, and no elsewhere. Both are worked out first: neither may cost much, nor rest on the condition.
func If[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

// Package inspection turns what was computed into findings: what is wrong, where, how much, against
// which limit, and what to do next.
package inspection

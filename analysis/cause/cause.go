// Package cause says from the shape of the roof alone why a pond stands.
package cause

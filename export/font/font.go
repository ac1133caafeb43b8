// Package font holds the typeface that the drawings and sheets embed, so that they look the same everywhere: Liberation Sans
// 2.1.5 (SIL Open Font License 1.1, text in OFL.txt), as published. SHA256SUMS holds the checksums of the files.
//
// The widths of its characters stand in a table of their own (widths.bin, held to the files by a test), so that a program that sets text
// without embedding the typeface does not carry it.
package font

import (
	_ "embed"
	"encoding/binary"
)

// Regular and Bold are the TrueType files.
var (
	//go:embed LiberationSans-Regular.ttf
	Regular []byte
	//go:embed LiberationSans-Bold.ttf
	Bold []byte
)

// widths holds the advance widths of all characters up to Limit [2048 a size], two bytes each with the high one first: those of the regular style,
// then those of the bold one; absent where there is no glyph.
//
//go:embed widths.bin
var widths string

const (
	// Limit is above the characters that are measured.
	Limit  = 0x2600
	em     = 2048
	absent = 0xffff
)

// Family is the typeface's name, for documents that name it.
const Family = "Liberation Sans"

// Advance returns how far a character moves the next one, in parts of the size; 0 where the style has none, and above Limit.
func Advance(r rune, bold bool) float64 {
	if w := width(r, bold); w != absent {
		return float64(w) / em
	}
	return 0
}

// Has reports whether both styles have a glyph for r, which is below Limit.
func Has(r rune) bool { return width(r, false) != absent && width(r, true) != absent }

func width(r rune, bold bool) uint16 {
	if r < 0 || r >= Limit {
		return absent
	}
	at := 2 * int(r)
	if bold {
		at += 2 * Limit
	}
	return binary.BigEndian.Uint16([]byte(widths[at : at+2]))
}

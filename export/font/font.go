// Package font holds the typeface that the drawings and sheets embed, so that they look the same everywhere: Liberation Sans
// 2.1.5 (SIL Open Font License 1.1, text in OFL.txt), as published. SHA256SUMS holds the checksums of the files.
package font

import (
	_ "embed"
	"encoding/binary"
	"sync"
)

// Regular and Bold are the TrueType files.
var (
	//go:embed LiberationSans-Regular.ttf
	Regular []byte
	//go:embed LiberationSans-Bold.ttf
	Bold []byte
)

// Family is the typeface's name, for documents that name it.
const Family = "Liberation Sans"

// Has reports whether both styles have a glyph for r.
func Has(r rune) bool {
	if r < 0 || r > 0xffff {
		return false
	}
	return glyphs()[r>>6]&(1<<(r&63)) != 0
}

// glyphs has one bit for each character of the basic plane that both styles can show.
var glyphs = sync.OnceValue(func() *[1024]uint64 {
	regular, bold := covered(Regular), covered(Bold)
	for i := range regular {
		regular[i] &= bold[i]
	}
	return regular
})

// covered reads the character map of a TrueType file: the table "cmap", its subtable of format 4.
// Source: OpenType specification, version 1.9, chapter cmap; read.
func covered(file []byte) *[1024]uint64 {
	var set [1024]uint64
	word := func(at int) int { return int(binary.BigEndian.Uint16(file[at:])) }
	long := func(at int) int { return int(binary.BigEndian.Uint32(file[at:])) }
	for i := range word(4) {
		record := 12 + 16*i
		if string(file[record:record+4]) != "cmap" {
			continue
		}
		cmap := long(record + 8)
		for k := range word(cmap + 2) {
			if table := cmap + long(cmap+8+8*k); word(table) == 4 {
				segments(&set, table, word)
			}
		}
	}
	return &set
}

// segments marks the characters of a subtable of format 4 that have a glyph.
func segments(set *[1024]uint64, table int, word func(int) int) {
	twice := word(table + 6)
	ends, starts := table+14, table+16+twice
	deltas, offsets := starts+twice, starts+2*twice
	for s := 0; s < twice; s += 2 {
		for c := word(starts + s); c <= word(ends+s) && c < 0xffff; c++ {
			glyph := c
			if offset := word(offsets + s); offset != 0 {
				glyph = word(offsets + s + offset + 2*(c-word(starts+s)))
			}
			if glyph != 0 && (glyph+word(deltas+s))&0xffff != 0 {
				set[c>>6] |= 1 << (c & 63)
			}
		}
	}
}

package font_test

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"os"
	"strings"
	"testing"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"runnel/export/font"
)

// The files are those whose checksums were noted when they were taken over.
func TestChecksums(t *testing.T) {
	sums, err := os.Open("SHA256SUMS")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = sums.Close() }()
	files := map[string][]byte{"LiberationSans-Regular.ttf": font.Regular, "LiberationSans-Bold.ttf": font.Bold}
	n := 0
	for lines := bufio.NewScanner(sums); lines.Scan(); n++ {
		want, name, _ := strings.Cut(lines.Text(), "  ")
		sum := sha256.Sum256(files[name])
		if got := hex.EncodeToString(sum[:]); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	if n != len(files) {
		t.Errorf("%d checksums for %d files", n, len(files))
	}
}

// The typeface covers the characters that sheets use, and by its makers' own list neither Arabic nor Han.
func TestHas(t *testing.T) {
	for _, r := range "AZaz09 ½¼¾⅛⅜⅝⅞≥≤°²³·–—′″±×éßøčЖΩא□" {
		if !font.Has(r) {
			t.Errorf("no glyph for %q", r)
		}
	}
	for _, r := range "漢ع😀\uffff\u0007" {
		if font.Has(r) {
			t.Errorf("a glyph for %q", r)
		}
	}
	if font.Has(-1) {
		t.Error("a glyph for no character")
	}
}

// The table of widths is what the files say, as an independent reader reads them; UPDATE_GOLDEN=1 writes it anew.
func TestGoldenWidths(t *testing.T) {
	var want []byte
	for i, file := range [][]byte{font.Regular, font.Bold} {
		f, err := sfnt.Parse(file)
		if err != nil {
			t.Fatal(err)
		}
		var b sfnt.Buffer
		em := fixed.Int26_6(f.UnitsPerEm())
		if em != 2048 {
			t.Fatalf("%d units a size", em)
		}
		for r := range rune(font.Limit) {
			g, err := f.GlyphIndex(&b, r)
			width := uint16(0xffff)
			if err == nil && g != 0 {
				w, err := f.GlyphAdvance(&b, g, em, xfont.HintingNone)
				if err != nil {
					t.Fatal(err)
				}
				width = uint16(w)
				if got := font.Advance(r, i == 1); got != float64(w)/float64(em) {
					t.Errorf("%q is %g wide, want %d/%d", r, got, w, em)
				}
			}
			want = binary.BigEndian.AppendUint16(want, width)
		}
	}
	if os.Getenv("UPDATE_GOLDEN") == "1" {
		if err := os.WriteFile("widths.bin", want, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("widths.bin")
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("widths.bin is not that of the typeface, %v", err)
	}
}

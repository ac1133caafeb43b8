package font_test

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"strings"
	"testing"

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

package importer_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/importer"
)

// BenchmarkRead reads an outline and a million spots from files.
func BenchmarkRead(b *testing.B) {
	const n = 1000000
	var text strings.Builder
	text.WriteString("point,east,north,elev_m,code\n")
	for i := range n {
		fmt.Fprintf(&text, "%d,%.3f,%.3f,%.4f,\n", i+1, 5000+float64(i%1000)*0.731, 2000+float64(i/1000)*0.517, 100+float64(i%97)*0.013)
	}
	dir := b.TempDir()
	outline, spots := filepath.Join(dir, "a.geojson"), filepath.Join(dir, "a.csv")
	ring := feature(`"role":"outline"`, "Polygon", `[[[4990,1990],[5740,1990],[5740,2520],[4990,2520],[4990,1990]]]`)
	for path, data := range map[string]string{outline: collection(`"frame":"local"`, ring), spots: text.String()} {
		if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		r, err := importer.Read([]string{outline, spots}, importer.Options{})
		if err != nil || len(r.Spots) != n {
			b.Fatal(err)
		}
	}
}

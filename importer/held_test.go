package importer_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"runnel/importer"
)

// A roof whose files are held in memory is the one that the same files on the disk give, a list of codes among them.
func TestHeldFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	files := map[string][]byte{
		"edge.geojson": []byte(`{"type":"FeatureCollection","frame":"local","units":"m","features":[{"type":"Feature","properties":{"role":"outline"},` +
			`"geometry":{"type":"Polygon","coordinates":[[[0,0],[10,0],[10,8],[0,8],[0,0]]]}}]}`),
		"spots.csv": []byte("point,x,y,z,code\n1,1,1,10,\n2,9,1,10.1,\n3,5,7,10.2,\n4,5,4,9.9,RD\n"),
		"codes.csv": []byte("RD,DRAIN d=4in\n"),
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(".", name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	paths := []string{"edge.geojson", "spots.csv"}
	disk, err := importer.Read(paths, importer.Options{CodeList: "codes.csv"})
	if err != nil {
		t.Fatal(err)
	}
	for name := range files {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	held, err := importer.Read(paths, importer.Options{CodeList: "codes.csv", Files: files})
	if err != nil {
		t.Fatal(err)
	}
	if len(held.Outlets) != 1 {
		t.Errorf("%d outlets: the list of codes was not read", len(held.Outlets))
	}
	if !reflect.DeepEqual(disk, held) {
		t.Error("a roof in memory is not that of the disk")
	}
	_, err = importer.Read([]string{"edge.geojson", "lost.csv"}, importer.Options{Files: files})
	if err == nil || !strings.Contains(err.Error(), "lost.csv: there is no such file") {
		t.Errorf("a file that is not there: %v", err)
	}
}

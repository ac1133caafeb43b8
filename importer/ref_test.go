package importer_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"runnel/importer"
)

// A roof that is found again by its reference is the one that was listed, whatever it comes from.
func TestReferences(t *testing.T) {
	spots := feature(`"role":"spot"`, "Point", "[1,1,1]") + "," + feature(`"role":"spot"`, "Point", "[30,5,3]") + "," + feature(`"role":"spot"`, "Point", "[5,30,3]")
	text := func(name string) string {
		return collection(`"units":"ft","frame":"local"`, square(name, 0, 0), spots)
	}
	dir := t.TempDir()
	put := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	put("folder/hall.geojson", text("Hall"))
	put("folder/shed.geojson", collection(`"units":"ft","frame":"local"`, square("Shed", 0, 0)))
	put("folder/shed.csv", "id,x,y,elev_ft\n1,1,1,1\n2,30,5,3\n3,5,30,3\n")
	put("folder/torn.geojson", "{")
	lines := put("roofs.ndjson", text("A")+"\n \n"+text("B")+"\n{\n")
	records := put("roofs.geojsons", "\x1e"+text("A")+"\n\x1e\x1e"+strings.ReplaceAll(text("B"), ",", ",\n"))
	site := put("site.geojson", collection(`"units":"ft","frame":"local"`, square("East", 0, 0), square("West", 500, 0)))
	points := put("points.csv", "id,x,y,elev_ft\n1,1,1,1\n2,30,5,3\n3,5,30,3\n4,501,1,1\n5,530,5,3\n6,505,30,3\n")
	for what, paths := range map[string][]string{"folder": {filepath.Join(dir, "folder")}, "lines": {lines}, "records": {records}, "site": {site, points}} {
		jobs, _, err := listed(paths, importer.Options{})
		if err != nil || len(jobs) < 2 {
			t.Fatalf("%s: %d roofs: %v", what, len(jobs), err)
		}
		again := importer.NewRereader(importer.Options{})
		for _, job := range jobs {
			found, err := again.Job(job.Ref)
			if err != nil {
				t.Fatalf("%s, %s: %v", what, job.Name, err)
			}
			want, wantErr := job.Read()
			got, gotErr := found.Read()
			if found.Name != job.Name || !reflect.DeepEqual(got, want) || (gotErr == nil) != (wantErr == nil) || gotErr != nil && gotErr.Error() != wantErr.Error() {
				t.Errorf("%s: %s found again as %s: %v, want %v", what, job.Name, found.Name, gotErr, wantErr)
			}
		}
	}
}

// A reference that leads nowhere is an error, and reads nothing.
func TestReferencesThatLeadNowhere(t *testing.T) {
	path := write(t, "roofs.ndjson", "{}\n{}\n")[0]
	for what, ref := range map[string]importer.Ref{
		"no file":        {},
		"no such file":   {Files: []string{path + "x"}, To: 2, Number: 1},
		"behind the end": {Files: []string{path}, From: 3, To: 7, Number: 1},
		"backwards":      {Files: []string{path}, From: 3, To: 2, Number: 1},
		"negative":       {Files: []string{path}, From: -3, To: 2, Number: 1},
		"very long":      {Files: []string{path}, To: 1 << 40, Number: 1},
		"a device":       {Files: []string{os.DevNull}, To: 2, Number: 1},
		"no outline":     {Files: []string{path}, Outline: 1},
	} {
		if job, err := importer.NewRereader(importer.Options{}).Job(ref); err == nil {
			t.Errorf("%s: %v", what, job.Name)
		}
	}
}

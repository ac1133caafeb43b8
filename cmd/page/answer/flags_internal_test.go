package answer

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"runnel/cmd/option"
)

// known are flags of each kind, and what they set.
func known() (f *flags, set func() string) {
	f = newFlags()
	var (
		yes   bool
		ratio float64
		count int
		name  string
		list  []string
	)
	f.BoolVar(&yes, "yes", false, "")
	f.Float64Var(&ratio, "ratio", 1.5, "")
	f.IntVar(&count, "count", 7, "")
	f.StringVar(&name, "name", "none", "")
	f.StringArrayVar(&list, "drop", nil, "")
	return f, func() string { return fmt.Sprintf("%v %g %d %s %q", yes, ratio, count, name, list) }
}

// Flags as a page gives them are those of the command line: one that is left out keeps its value, a later one wins, those that may be repeated add up, and what was given is written down in the order
// of the names, each value as it counts.
func TestFlagsOfAPage(t *testing.T) {
	for _, c := range []struct {
		given   []string
		set     string
		written []string
	}{
		{nil, `false 1.5 7 none []`, nil},
		{[]string{"--yes"}, `true 1.5 7 none []`, []string{"--yes=true"}},
		{[]string{"--yes=false"}, `false 1.5 7 none []`, []string{"--yes=false"}},
		{[]string{"--yes=1", "--ratio=2.50", "--count=+3", "--name=a=b"}, `true 2.5 3 a=b []`, []string{"--count=3", "--name=a=b", "--ratio=2.5", "--yes=true"}},
		{[]string{"--count=1", "--count=2"}, `false 1.5 2 none []`, []string{"--count=2"}},
		{[]string{"--drop=7", "--name=ü", "--drop=8", "--drop=7"}, `false 1.5 7 ü ["7" "8" "7"]`, []string{"--drop=7", "--drop=8", "--drop=7", "--name=ü"}},
	} {
		f, set := known()
		if err := f.read(c.given); err != nil || set() != c.set || !slices.Equal(f.written(), c.written) {
			t.Errorf("%q: %s, %q, %v; want %s, %q", c.given, set(), f.written(), err, c.set, c.written)
		}
	}
	for given, want := range map[string]string{
		"--count=1.5": `--count "1.5": give a whole number`, "--ratio=wide": `--ratio "wide": give a number`, "--yes=maybe": `--yes "maybe": give true or false`, "--other=1": "unknown flag: --other=1",
		"count=1": "unknown flag: count=1", "-count=1": "unknown flag: -count=1", "--count=": "--count is empty: give it a value, or leave it out", "--name=": "--name is empty: give it a value, or leave it out", "": "unknown flag: ", "--count": `--count "true": give a whole number`,
	} {
		f, set := known()
		before := set()
		err := f.read([]string{given})
		if err == nil || err.Error() != want || set() != before || len(f.written()) > 0 {
			t.Errorf("%q: %v, %s; want %s", given, err, set(), want)
		}
		if _, ok := err.(*option.UsageError); !ok { //nolint:errorlint // it is that one itself
			t.Errorf("%q: the error is a %T", given, err)
		}
	}
}

// The files of the roof are all but those that a flag names, in their order.
func TestFilesOfTheRoof(t *testing.T) {
	files := []File{{Name: "roof.geojson"}, {Name: "limits.json"}, {Name: "codes.csv"}, {Name: "r.json"}, {Name: "high.geojson"}, {Name: "spots.csv"}}
	for _, c := range []struct {
		given []string
		want  string
	}{
		{nil, "roof.geojson limits.json codes.csv r.json high.geojson spots.csv"},
		{[]string{"--criteria=limits.json"}, "roof.geojson codes.csv r.json high.geojson spots.csv"},
		{[]string{"--criteria=limits.json", "--code-list=codes.csv", "--materials=r.json", "--upper=high.geojson"}, "roof.geojson spots.csv"},
		{[]string{"--hi=limits.json"}, "roof.geojson limits.json codes.csv r.json high.geojson spots.csv"},
	} {
		f := newFlags()
		in := held(files)
		in.Register(f)
		f.StringArrayVar(&in.Upper, "upper", nil, "")
		if err := f.read(c.given); err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(roofFiles(files, f), " "); got != c.want {
			t.Errorf("%q: %s, want %s", c.given, got, c.want)
		}
	}
	in := held([]File{{Name: "a", Data: []byte("x")}, {Name: "b", Data: nil}})
	if data, err := in.Side("a"); err != nil || string(data) != "x" {
		t.Errorf("%q, %v", data, err)
	}
	if data, err := in.Side("b"); err != nil || len(data) != 0 {
		t.Errorf("an empty file: %q, %v", data, err)
	}
	if _, err := in.Side("c"); err == nil || err.Error() != "c: there is no such file among those given" {
		t.Errorf("%v", err)
	}
}

// A bundle holds a thousand files and no more.
func TestHowManyFilesABundleHolds(t *testing.T) {
	for n, ok := range map[int]bool{1: true, 1000: true, 1001: false} {
		files := make([]File, n)
		for i := range files {
			files[i] = File{Name: fmt.Sprintf("p%d.jpg", i), Data: []byte{byte(i)}}
		}
		data, err := Pack(files)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Unpack("photos.zip", data)
		if (err == nil) != ok || ok && (len(got) != n || got[n-1].Name != files[n-1].Name || !bytes.Equal(got[n-1].Data, files[n-1].Data)) {
			t.Errorf("%d files: %d, %v", n, len(got), err)
		}
		if !ok && err.Error() != "photos.zip: more than 1000 files: unpack it and open the files of one roof" {
			t.Errorf("%v", err)
		}
	}
}

// An archive that was damaged on its way says which file of it.
func TestDamagedBundles(t *testing.T) {
	data, err := Pack([]File{{Name: "roof.csv", Data: []byte("point;place\n")}})
	if err != nil {
		t.Fatal(err)
	}
	spoiled := bytes.Replace(data, []byte("point"), []byte("paint"), 1) // its sum no longer fits
	if _, err := Unpack("a.zip", spoiled); err == nil || !strings.HasPrefix(err.Error(), "a.zip: roof.csv: ") {
		t.Errorf("%v", err)
	}
}

package answer_test

import (
	"archive/zip"
	"bytes"
	"reflect"
	"strings"
	"testing"

	"runnel/cmd/page/answer"
)

// What is packed comes out as it was, and the same files give the same bytes; Go's own reader lists them.
func TestPackAndUnpack(t *testing.T) {
	files := []answer.File{{Name: "roof.csv", Data: []byte("point;place\n")}, {Name: "photo-1.jpg", Data: bytes.Repeat([]byte{0xff, 0xd8}, 5000)}, {Name: "empty.json", Data: []byte{}}}
	data, err := answer.Pack(files)
	if err != nil {
		t.Fatal(err)
	}
	again, err := answer.Pack(files)
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("the same files give other bytes, %v", err)
	}
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil || len(r.File) != 3 || r.File[1].UncompressedSize64 != 10_000 {
		t.Errorf("the archive: %v", err)
	}
	got, err := answer.Unpack("roof.zip", data)
	if err != nil || !reflect.DeepEqual(got, files) {
		t.Errorf("it comes out as %v, %v", got, err)
	}
}

// Folders are left out, and names are bare; what is no archive, or an empty one, is refused with its name.
func TestUnpackTakesBareNames(t *testing.T) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range []string{"a/", "a/roof.csv", "../../up.csv", `c:\photos\p.jpg`, "__MACOSX/a/._roof.csv", ".DS_Store"} {
		f, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(strings.TrimRight(name, "/"))); err != nil && !strings.HasSuffix(name, "/") {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	files, err := answer.Unpack("a.zip", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	if got := strings.Join(names, " "); got != "roof.csv up.csv p.jpg" {
		t.Errorf("the names are %q", got)
	}
	for data, want := range map[string]string{"point;place": "b.zip: this is no zip file", string(b.Bytes()[:60]): "b.zip: this is no zip file"} {
		if _, err := answer.Unpack("b.zip", []byte(data)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", data, err)
		}
	}
	empty, err := answer.Pack(nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := answer.Unpack("b.zip", empty); err == nil || !strings.Contains(err.Error(), "there is no file in it") {
		t.Errorf("an empty archive: %v", err)
	}
}

// Any bytes are refused or give files with bare names.
func FuzzUnpack(f *testing.F) {
	data, err := answer.Pack([]answer.File{{Name: "roof.csv", Data: []byte("point;place\n")}, {Name: "x/y", Data: []byte("1")}})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, data []byte) {
		files, err := answer.Unpack("a.zip", data)
		for _, one := range files {
			if strings.ContainsAny(one.Name, `/\`) || one.Name == "" {
				t.Errorf("a name %q", one.Name)
			}
		}
		if (err == nil) != (len(files) > 0) {
			t.Errorf("%d files, %v", len(files), err)
		}
	})
}

package handout_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/handout"
)

// Roofs with much to say are cut into chunks as well: nine of a megabyte of names go as seven and two, for eight of them are a little more than the 8 MB that a worker reads at once. Each chunk is read back.
func TestChunksOfLongNames(t *testing.T) {
	f := folder(t)
	list, err := f.NewList()
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	read := func(p handout.Piece, whole bool, err error) {
		if err != nil {
			t.Fatal(err)
		}
		if !whole {
			return
		}
		items, err := f.Read(p)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, len(items))
	}
	for n := range 9 {
		i := item(n)
		i.Ref.Files = []string{strings.Repeat("a", 1<<20)}
		read(list.Add(i, 1))
	}
	read(list.End())
	if fmt.Sprint(got) != "[7 2]" {
		t.Errorf("chunks of %v roofs", got)
	}
}

// Chunks that wait have whole numbers from 1 on; nothing else that lies there is one.
func TestWhatWaitsIsAChunk(t *testing.T) {
	f := folder(t)
	for _, name := range []string{"1", "12", "0", "-3", "x", "1.5", ".hidden"} {
		if err := os.MkdirAll(filepath.Join(filepath.Dir(f.Ready(1)), name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if chunks, err := f.Waiting(); err != nil || fmt.Sprint(chunks) != "[1 12]" {
		t.Errorf("%v %v", chunks, err)
	}
}

// Results that cannot be put where the run takes them stay where they are, and that is said.
func TestResultsThatFindNoPlaceStay(t *testing.T) {
	f := folder(t)
	work, err := f.Begin(3)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Dir(f.Ready(3))); err != nil {
		t.Fatal(err)
	}
	if err := f.Finish(3, work); err == nil {
		t.Error("nothing is said")
	}
	if _, err := os.Stat(work); err != nil {
		t.Errorf("the work is gone: %v", err)
	}
}

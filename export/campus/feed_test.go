package campus_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"testing"

	"runnel/export/campus"
	"runnel/export/staged"
)

// full is a store with no room for one file, or whose writing breaks there.
type full struct {
	store
	name   string
	panics bool
}

var errNoRoom = errors.New("no room")

func (f full) AddLast(o staged.Output) error {
	if o.Name != f.name {
		return f.store.AddLast(o)
	}
	if f.panics {
		panic(errNoRoom)
	}
	return o.Write(tight{})
}

// tight has no room.
type tight struct{}

func (tight) Write([]byte) (int, error) { return 0, errNoRoom }

// Whichever file cannot be written, with few rows as with many: the run ends with its error, prints no page and leaves no file. A panic is that of the caller.
func TestAFileThatCannotBeWritten(t *testing.T) {
	three := rows()
	var many []campus.Row
	for i := range 700 {
		r := three[i%3]
		r.Name = fmt.Sprint(i, r.Name)
		many = append(many, r)
	}
	for _, list := range [][]campus.Row{rows(), many} {
		for _, name := range []string{"campus.html", "campus.xlsx", "campus.csv", "campus.ndjson", "campus.geojson", "campus.local.geojson"} {
			for _, panics := range []bool{false, true} {
				f := full{store{t.TempDir()}, name, panics}
				var page bytes.Buffer
				err := write(f, &page, list)
				if !errors.Is(err, errNoRoom) {
					t.Errorf("%s of %d rows, panic %t: %v", name, len(list), panics, err)
				}
				left, _ := os.ReadDir(f.dir)
				if page.Len() > 0 || !panics && len(left) > 0 {
					t.Errorf("%s of %d rows, panic %t: a page of %d bytes, and %v", name, len(list), panics, page.Len(), left)
				}
			}
		}
	}
}

// write writes a campus; a panic is its error.
func write(s campus.Store, page io.Writer, list []campus.Row) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err, _ = v.(error)
		}
	}()
	_, err = campus.Write(s, page, source(list), campus.Options{})
	return err
}

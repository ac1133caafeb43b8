package surveyfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"runnel/importer/points"
)

func TestReadRestKeepsEveryByte(t *testing.T) {
	var text bytes.Buffer
	for i := range 200000 {
		fmt.Fprintf(&text, "%d,%d.5,7,100.25,\r\n", i, i)
	}
	want := text.Bytes()
	for _, r := range []io.Reader{bytes.NewReader(want[10:]), iotest.HalfReader(bytes.NewReader(want[10:])), iotest.DataErrReader(bytes.NewReader(want[10:]))} {
		for _, size := range []int64{0, 100, int64(len(want)), 2 * int64(len(want))} {
			if size > 0 {
				r = bytes.NewReader(want[10:])
			}
			got, err := readRest(r, want[:10], size, points.MaxLine)
			if err != nil || !bytes.Equal(got, want) {
				t.Errorf("%d bytes of %d, %v", len(got), len(want), err)
			}
		}
	}
}

func TestReadRestStopsAtALongLine(t *testing.T) {
	long := strings.Repeat("1", 3*points.MaxLine)
	if _, err := readRest(strings.NewReader(long), []byte("x,y,z\n"), 0, points.MaxLine); !errors.Is(err, errLongLine) {
		t.Errorf("a long line: %v", err)
	}
	if _, err := readRest(strings.NewReader(long), []byte("{"), 0, 0); err != nil {
		t.Errorf("a long line of GeoJSON: %v", err)
	}
	broken := errors.New("disk")
	if _, err := readRest(iotest.ErrReader(broken), []byte("x"), 0, points.MaxLine); !errors.Is(err, broken) {
		t.Errorf("a broken disk: %v", err)
	}
}

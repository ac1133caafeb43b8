package call

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// Greatest sizes of the files that go beside a survey [bytes].
const (
	mostSide = 1 << 20  // criteria, materials, boards, prices
	MostRain = 16 << 20 // storms and intensities
)

// ReadSide reads a small file that goes beside a survey. The error names the file and what is wrong.
func ReadSide(path string) ([]byte, error) {
	f, err := OpenSide(path, mostSide)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // only read
	data, err := io.ReadAll(io.LimitReader(f, mostSide))
	if err != nil {
		return nil, SideError(path, err)
	}
	return data, nil
}

// OpenSide opens a file of at most that many bytes. Pipes and devices, which may never end, are refused without
// waiting for them.
func OpenSide(path string, most int64) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDONLY|unwaited, 0)
	if err != nil {
		return nil, SideError(path, err)
	}
	info, err := f.Stat()
	switch {
	case err != nil:
		err = SideError(path, err)
	case info.IsDir():
		err = fmt.Errorf("%s: this is a folder, not a file; name the file in it", path)
	case !info.Mode().IsRegular():
		err = fmt.Errorf("%s: this is a pipe or a device, not a file; write what it gives into a file", path)
	case info.Size() > most:
		err = fmt.Errorf("%s: the file is over %d MB, more than any of its kind needs; look whether it is the right one", path, most>>20)
	default:
		return f, nil
	}
	return nil, errors.Join(err, f.Close())
}

// SideError is err of the file at path, which it names.
func SideError(path string, err error) error {
	var named *fs.PathError
	if errors.As(err, &named) {
		err = named.Err
	}
	return fmt.Errorf("%s: %w", path, err)
}

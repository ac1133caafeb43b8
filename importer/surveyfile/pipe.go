package surveyfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"time"
)

// patience is how long a pipe may give nothing, before its writer comes or while it writes.
var patience = time.Minute

var errSilent = errors.New("this is a pipe, and nothing came through it for a minute")

// Open opens a file to be read. A pipe is opened without waiting for its writer, who may never come.
func Open(path string, info fs.FileInfo) (io.ReadCloser, error) {
	if info.Mode()&fs.ModeNamedPipe == 0 {
		return os.Open(path)
	}
	f, err := os.OpenFile(path, os.O_RDONLY|unwaited, 0)
	if err != nil {
		return nil, err
	}
	return &pipe{f, false}, nil
}

// pipe is one whose writer may come late.
type pipe struct {
	*os.File
	began bool // something came
}

// Read reads as a file does. The error is errSilent where nothing comes.
func (p *pipe) Read(data []byte) (int, error) {
	for end := time.Now().Add(patience); ; time.Sleep(10 * time.Millisecond) {
		_ = p.SetReadDeadline(end) // a pipe that knows none is read as far as it goes
		n, err := p.File.Read(data)
		p.began = p.began || n > 0
		early := errors.Is(err, io.EOF) && !p.began // there is no writer yet
		switch {
		case errors.Is(err, os.ErrDeadlineExceeded), early && time.Now().After(end):
			return n, errSilent
		case !early:
			return n, err
		}
	}
}

package geojson

import (
	"io"
	"sync"
)

// buffers are those of files that are written: one roof of a campus takes what the one before it gave back.
var buffers = sync.Pool{New: func() any { return new(make([]byte, 0, 2*flushAt)) }}

func newBuffer() []byte { return (*buffers.Get().(*[]byte))[:0] }

// spool writes buffers to out in a second goroutine, in order, so that the next is filled while one is
// written. After an error it takes buffers and drops them.
type spool struct {
	full, empty chan []byte
	done        chan struct{}
	err         error // valid once done is closed
}

func newSpool(out io.Writer) *spool {
	s := &spool{full: make(chan []byte, 1), empty: make(chan []byte, 2), done: make(chan struct{})}
	s.empty <- newBuffer()
	go func() {
		defer close(s.done)
		for b := range s.full {
			if s.err == nil {
				_, s.err = out.Write(b)
			}
			s.empty <- b[:0]
		}
	}()
	return s
}

// swap hands a buffer over to be written and returns an empty one.
func (s *spool) swap(b []byte) []byte {
	s.full <- b
	return <-s.empty
}

// close waits until all is written and returns the first error. last is the empty buffer that swap gave last.
func (s *spool) close(last []byte) error {
	close(s.full)
	<-s.done
	for _, b := range [][]byte{last, <-s.empty} {
		buffers.Put(&b)
	}
	return s.err
}

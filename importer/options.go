package importer

import (
	"io"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// Options are what a user says about the input files beyond what they state themselves.
type Options struct {
	Units    map[string]quantity.Unit   // by path or base name; "" is for every file
	Frames   map[string]string          // by path or base name; "" is for every file: local, wgs84, EPSG:nnnn
	Sigma    map[string]quantity.Length // by path or base name; "" is for every file: standard error of elevations that state none
	Columns  []string                   // columns of point files without a header, in order
	CodeList string                     // path of a code list, empty for none
	HI       string                     // height of instrument for rod readings: a length, a bare number in the file's unit; empty for none
	KeepZero bool                       // use elevations of exactly zero among others that are not
	Drop     []string                   // ids of spots to leave out
	Keep     []string                   // ids of spots that are meant, however odd they look
	In       io.Reader                  // what the path "-" of a campus stands for; nil for nothing

	Files map[string][]byte // contents of the files, by path; nil: files are on the disk
}

// Job is one roof of a campus, not yet read.
type Job struct {
	Name string                     // of the roof, or the stem of its files
	Read func() (*roof.Roof, error) // reads it; safe to call from any goroutine

	Files []string // paths of the files that Read reads
	Mark  uint64   // another one when what Read reads has changed, as far as names, sizes and times of change tell
	Ref   Ref      // where another process finds it; zero where none does, or none needs to
}

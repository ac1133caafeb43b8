package handout

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"runnel/importer"
)

// Item is one roof of the list.
type Item struct {
	Stem string       `json:"stem"` // with which the names of its files begin
	ID   string       `json:"id"`
	Key  uint64       `json:"key"`  // under which the record of the run has it
	Mark uint64       `json:"mark"` // of what is read
	Ref  importer.Ref `json:"ref"`
}

// Bounds of a chunk. A message costs little beside two hundred roofs, and few are lost with a worker; roofs as large as laser
// scans go one by one.
const (
	mostRoofs = 200     // of a chunk
	mostRead  = 4 << 20 // bytes that its roofs have, but that one of them has more
	mostPiece = 8 << 20 // bytes of its piece of the list
)

// Piece is a piece of the list: bytes From to To.
type Piece struct{ From, To int64 }

// List writes the list of a run.
type List struct {
	file   *os.File
	out    *bufio.Writer
	pieces *os.File // where each chunk begins and ends

	at, from    int64 // where the next roof stands, and where the chunk began
	roofs, read int64 // of the chunk
}

// NewList begins the list of a run.
func (f Folder) NewList() (*List, error) {
	file, err := os.OpenFile(filepath.Join(string(f), listName), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644) //nolint:gosec // for other processes to read
	if err != nil {
		return nil, err
	}
	pieces, err := os.OpenFile(filepath.Join(string(f), piecesName), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644) //nolint:gosec // as above
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return &List{file: file, out: bufio.NewWriterSize(file, 1<<16), pieces: pieces}, nil
}

// Add adds a roof whose files have size bytes. It returns the piece that is whole before or with it, and true where one is.
func (l *List) Add(i *Item, size int64) (p Piece, whole bool, err error) {
	text, err := json.Marshal(i)
	if err != nil {
		return p, false, err
	}
	text = append(text, '\n')
	if l.roofs > 0 && (l.read+size > mostRead || l.at-l.from+int64(len(text)) > mostPiece) {
		p, whole = l.cut(), true
	}
	if _, err := l.out.Write(text); err != nil {
		return p, false, err
	}
	l.at, l.roofs, l.read = l.at+int64(len(text)), l.roofs+1, l.read+size
	if l.roofs == mostRoofs && !whole {
		p, whole = l.cut(), true
	}
	if whole {
		err = l.note(p)
	}
	return p, whole, err
}

// pieceForm is how the beginning and the end of a chunk are written, pieceSize how long that is.
const (
	pieceForm = "%016x %016x\n"
	pieceSize = 34
)

// note writes down a piece, when all of it is in the file.
func (l *List) note(p Piece) error {
	if err := l.out.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(l.pieces, pieceForm, p.From, p.To)
	return err
}

func (l *List) cut() Piece {
	p := Piece{l.from, l.at}
	l.from, l.roofs, l.read = l.at, 0, 0
	return p
}

// End ends the list. It returns the last piece, and true where there is one.
func (l *List) End() (p Piece, whole bool, err error) {
	if whole = l.roofs > 0; whole {
		p = l.cut()
		err = l.note(p)
	}
	return p, whole, errors.Join(err, l.file.Close(), l.pieces.Close())
}

// Piece returns the piece of the list that is chunk number.
func (f Folder) Piece(number int) (p Piece, err error) {
	file, err := os.Open(filepath.Join(string(f), piecesName))
	if err != nil {
		return p, err
	}
	defer func() { _ = file.Close() }()
	_, err = fmt.Fscanf(io.NewSectionReader(file, int64(number-1)*pieceSize, pieceSize), pieceForm, &p.From, &p.To)
	return p, err
}

// longest is that of a stem or an id [bytes].
const longest = 1000

// Read reads a piece of the list.
func (f Folder) Read(p Piece) ([]Item, error) {
	if p.From < 0 || p.To <= p.From || p.To-p.From > mostPiece {
		return nil, fmt.Errorf("bytes %d to %d are no piece of a list", p.From, p.To)
	}
	file, err := os.Open(filepath.Join(string(f), listName))
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() || info.Size() < p.To {
		return nil, fmt.Errorf("%s has no bytes %d to %d", file.Name(), p.From, p.To)
	}
	text := make([]byte, p.To-p.From)
	if _, err := file.ReadAt(text, p.From); err != nil {
		return nil, err
	}
	var items []Item
	for line := range bytes.Lines(text) {
		var i Item
		in := json.NewDecoder(bytes.NewReader(line))
		in.DisallowUnknownFields()
		if err := in.Decode(&i); err != nil {
			return nil, fmt.Errorf("%s holds at byte %d what is no roof", file.Name(), p.From)
		}
		if len(items) == mostRoofs {
			return nil, fmt.Errorf("%s has more than %d roofs in one chunk", file.Name(), mostRoofs)
		}
		if !plain(i.Stem) || !plain(i.ID) {
			return nil, fmt.Errorf("%s names a roof %.40q (%.40q)", file.Name(), i.Stem, i.ID)
		}
		items = append(items, i)
	}
	return items, nil
}

// plain reports whether a text is one of letters, digits and hyphens, and no path.
func plain(text string) bool {
	odd := func(r rune) bool { return r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }
	return text != "" && len(text) <= longest && !strings.ContainsFunc(text, odd)
}

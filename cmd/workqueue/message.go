package workqueue

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
)

// Chunk is what a message says: which piece of the list of which run is to be checked. It holds no roof and no flag: these
// stand in the folder of the run.
type Chunk struct {
	Version string `json:"version"` // of the program that hands it out
	Run     string `json:"run"`     // 16 hexadecimal digits
	Folder  string `json:"folder"`  // of the run, an absolute path
	Number  int    `json:"chunk"`   // from 1
	From    int64  `json:"from"`    // the first byte of the piece
	To      int64  `json:"to"`      // the byte after its last one
}

// Bounds of what a message may say.
const (
	mostMessage = 8 << 10  // bytes
	mostList    = 1 << 40  // bytes of a list
	MostPiece   = 16 << 20 // bytes of a piece of it
)

// ParseChunk reads a message. Whoever can reach the server may have written it.
func ParseChunk(text []byte) (Chunk, error) {
	var c Chunk
	if len(text) > mostMessage {
		return c, fmt.Errorf("a message of %d bytes is no chunk", len(text))
	}
	in := json.NewDecoder(bytes.NewReader(text))
	in.DisallowUnknownFields()
	if err := in.Decode(&c); err != nil {
		return c, errors.New("a message is no chunk")
	}
	if _, err := in.Token(); !errors.Is(err, io.EOF) {
		return c, errors.New("a message is more than a chunk")
	}
	return c, c.check()
}

func (c *Chunk) check() error {
	switch {
	case len(c.Run) != 16 || strings.Trim(c.Run, "0123456789abcdef") != "":
		return fmt.Errorf("a message names the run %.20q", c.Run)
	case !filepath.IsAbs(c.Folder) || filepath.Clean(c.Folder) != c.Folder:
		return fmt.Errorf("a message names the folder %.80q, which is no whole path", c.Folder)
	case c.Number < 1 || c.From < 0 || c.To <= c.From || c.To > mostList || c.To-c.From > MostPiece:
		return fmt.Errorf("a message asks for bytes %d to %d as chunk %d", c.From, c.To, c.Number)
	}
	return nil
}

// id tells messages apart, so that one that is sent twice is kept once; again counts how often the chunk was handed out anew.
func (c *Chunk) id(again int) string {
	id := c.Run + "/" + strconv.Itoa(c.Number)
	if again > 0 {
		id += "/" + strconv.Itoa(again)
	}
	return id
}

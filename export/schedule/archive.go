package schedule

import (
	"archive/zip"
	"bytes"
	"cmp"
	"io"
	"io/fs"
	"slices"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/choose"
)

// archive is a ZIP file whose parts are packed in the order of their names, without dates.
type archive struct {
	w     *zip.Writer
	parts []*part
}

type part struct {
	name string
	bytes.Buffer
}

// NewArchive packs a workbook: its parts in the order of their names, without dates.
func NewArchive(w io.Writer) excelize.ZipWriter { return &archive{w: zip.NewWriter(w)} }

// Create begins a part; it is packed when the archive is closed.
func (a *archive) Create(name string) (io.Writer, error) {
	p := &part{name: name}
	a.parts = append(a.parts, p)
	return p, nil
}

// AddFS packs a folder at once.
func (a *archive) AddFS(folder fs.FS) error { return a.w.AddFS(folder) }

// Close packs the parts, the list of their types first, as readers expect it.
func (a *archive) Close() error {
	slices.SortStableFunc(a.parts, func(x, y *part) int {
		return cmp.Or(cmp.Compare(rank(x.name), rank(y.name)), cmp.Compare(x.name, y.name))
	})
	for _, p := range a.parts {
		out, err := a.w.Create(p.name)
		if err != nil {
			return err
		}
		if _, err := p.WriteTo(out); err != nil {
			return err
		}
	}
	return a.w.Close()
}

func rank(name string) int { return choose.If(name == "[Content_Types].xml", 0, 1) }

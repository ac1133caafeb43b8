package las

import (
	"bytes"
	"path/filepath"
	"strings"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// Format is LAS.
var Format = &draft.Format{
	Name: "las", Noun: "scan", Extensions: []string{".las", ".laz"}, Smaller: "cut the scan to the roof, or thin it", Is: isScan,
	Fault:  func([]byte) (rule, mend string) { return "", "" },
	Opener: func(draft.Options, *roof.Refusal) draft.Opener { return draft.OpenerOf(Open) },
}

// isScan reports whether a file is a scan by its first four bytes, or by its name.
func isScan(name string, head []byte) bool {
	if head != nil {
		return bytes.HasPrefix(head, []byte("LASF"))
	}
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".las" || ext == ".laz"
}

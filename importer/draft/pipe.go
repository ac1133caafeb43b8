package draft

import (
	"fmt"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// ParsePipe reads the size of a leader: a diameter ("4 in"), or width and depth of a rectangular one ("3x4 in",
// "75 mm x 100 mm"); a size without a unit before one that has one takes its unit, else both are in bare.
// imperial says that it was written in feet or inches.
func ParsePipe(text string, bare quantity.Unit) (p roof.Pipe, imperial bool, err error) {
	sizes := strings.Split(strings.ReplaceAll(strings.ToLower(text), "×", "x"), "x")
	switch len(sizes) {
	case 1:
		p.Diameter, imperial, err = quantity.ReadLength(text, bare)
	case 2:
		first := strings.TrimSpace(sizes[0])
		if strings.Trim(first, "0123456789./- ") == "" {
			second := strings.TrimSpace(sizes[1])
			first += " " + strings.TrimLeft(second, "0123456789./- ")
		}
		p.Width, imperial, err = quantity.ReadLength(first, bare)
		if err == nil {
			p.Depth, imperial, err = quantity.ReadLength(sizes[1], bare)
		}
	default:
		err = fmt.Errorf("%.40q is not the size of a leader: write it like 4 in or 3x4 in", text)
	}
	if err == nil && !p.Known() {
		err = fmt.Errorf("%.40q is not the size of a leader: it is zero or negative", text)
	}
	return p, imperial, err
}

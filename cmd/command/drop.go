package command

import (
	"fmt"
	"slices"
	"sync"

	"runnel/export/campus"
)

// dropped collects the ids of spots that were left out of any roof, since --drop says so. It may be used by several
// goroutines.
type dropped struct {
	mutex sync.Mutex
	ids   []string
}

func (d *dropped) add(ids []string) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	d.ids = append(d.ids, ids...)
}

// missed returns a warning for each id that no roof had.
func (d *dropped) missed(asked []string, rows []campus.Row) (warnings []string) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	unread := slices.ContainsFunc(rows, func(r campus.Row) bool { return r.Reason != "" })
	for _, id := range asked {
		if slices.Contains(d.ids, id) {
			continue
		}
		text := fmt.Sprintf("--drop %s: no roof has a spot with this id; take the id from the message or the file.", id)
		if unread {
			text = fmt.Sprintf("--drop %s: no roof that could be read has a spot with this id.", id)
		}
		warnings = append(warnings, text)
	}
	return warnings
}

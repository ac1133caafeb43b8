package command

import (
	"fmt"
	"slices"
	"sync"

	"runnel/export/campus"
)

// named collects the ids of spots of any roof that a flag names: --drop those that are left out, --keep those that are meant. It may be
// used by several goroutines.
type named struct {
	flag  string
	mutex sync.Mutex
	ids   []string
}

func (d *named) add(ids []string) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	d.ids = append(d.ids, ids...)
}

// missed returns a warning for each id that no roof had.
func (d *named) missed(asked []string, rows []campus.Row) (warnings []string) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	unread := slices.ContainsFunc(rows, func(r campus.Row) bool { return r.Reason != "" })
	for _, id := range asked {
		if slices.Contains(d.ids, id) {
			continue
		}
		text := fmt.Sprintf("--%s %s: no roof has a spot with this id; take the id from the message or the file.", d.flag, id)
		if unread {
			text = fmt.Sprintf("--%s %s: no roof that could be read has a spot with this id.", d.flag, id)
		}
		warnings = append(warnings, text)
	}
	return warnings
}

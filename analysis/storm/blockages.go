package storm

import (
	"fmt"
	"sync"

	"runnel/analysis/roof"
)

// Cases lists the states of the outlets that a roof is looked at in: all working, every primary drain and
// scupper blocked in turn, all of them, and the overflows as well. wet is taken over into each.
func (m *Model) Cases(wet bool) []Case {
	n := len(m.mouths)
	var primary, every []bool
	primaries, overflows := 0, 0
	list := []Case{{Name: "all working", Blocked: make([]bool, n), Wet: wet}}
	primary, every = make([]bool, n), make([]bool, n)
	for i := range m.s.Outlets {
		o := &m.s.Outlets[i]
		if o.Type == roof.EdgeOutlet {
			continue
		}
		every[i] = true
		if o.Duty == roof.Overflow {
			overflows++
			continue
		}
		primary[i] = true
		primaries++
		one := make([]bool, n)
		one[i] = true
		list = append(list, Case{Name: o.Label, Blocked: one, Wet: wet})
	}
	if primaries > 1 {
		list = append(list, Case{Name: "all primaries", Blocked: primary, Wet: wet})
	}
	if primaries > 0 && overflows > 0 {
		list = append(list, Case{Name: "primaries and overflows", Blocked: every, Wet: wet})
	}
	return list
}

// workers is how many cases are routed at once.
const workers = 2

// Blockages routes a storm in several cases, in their order. The result does not depend on how many run at once.
func (m *Model) Blockages(s Storm, cases []Case) ([]*Result, error) {
	results, errs, panics := make([]*Result, len(cases)), make([]error, len(cases)), make([]any, len(cases))
	next := make(chan int)
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := range next {
				func() {
					defer func() { panics[i] = recover() }()
					results[i], errs[i] = m.route(s, cases[i])
				}()
			}
		})
	}
	for i := range cases {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, v := range panics {
		if v != nil {
			panic(v) // where the caller can recover it
		}
	}
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("case %d, %s: %w", i+1, cases[i].Name, err)
		}
	}
	return results, nil
}

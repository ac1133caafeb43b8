package bounds

import (
	"math"
	"slices"

	"runnel/analysis/queue"
)

// stairs gives back vertices by their levels, the least first, for levels that are never below what came out last. Vertices wait on steps of equal height,
// and only those of the step at hand are put in order.
type stairs struct {
	low, perStep float64 // level of the lowest step [m], and steps a metre
	first        []int32 // per step: the last put there; -1 none
	waits        []waiting
	at           int // step at hand
	hand         queue.Queue
}

// waiting is a vertex on a step, and what else waits there.
type waiting struct {
	queue.Item
	next int32
}

// vertexPerStep is how many vertices there are to a step.
const vertexPerStep = 2

// clear empties the stairs and lays them through elevations z.
func (s *stairs) clear(z []float64) {
	n := len(z)/vertexPerStep + 1
	if s.first == nil {
		s.first = make([]int32, n)
	}
	for i := range s.first {
		s.first[i] = -1
	}
	s.low, s.at, s.waits, s.hand = slices.Min(z), -1, s.waits[:0], s.hand[:0]
	s.perStep = float64(n) / math.Max(slices.Max(z)-s.low, 1e-9)
}

func (s *stairs) push(level float64, v int32) {
	k := int(math.Min((level-s.low)*s.perStep, float64(len(s.first)-1)))
	if k <= s.at {
		s.hand.Push(level, v)
		return
	}
	s.waits = append(s.waits, waiting{queue.Item{Key: level, ID: v}, s.first[k]})
	s.first[k] = int32(len(s.waits) - 1)
}

// least returns the least level at which a vertex waits; false where none does.
func (s *stairs) least() (level float64, waits bool) {
	for len(s.hand) == 0 {
		if s.at++; s.at == len(s.first) {
			return 0, false
		}
		for i := s.first[s.at]; i >= 0; i = s.waits[i].next {
			s.hand.Push(s.waits[i].Key, s.waits[i].ID)
		}
	}
	return s.hand[0].Key, true
}

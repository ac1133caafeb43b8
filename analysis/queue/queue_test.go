package queue_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"runnel/analysis/queue"
)

// TestQueueSorts puts things in and takes some out at random: each that comes out is the first of those within as a sorted list has them.
func TestQueueSorts(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		var q queue.Queue
		var list []queue.Item
		for range 300 {
			if r.IntN(3) > 0 || len(list) == 0 {
				x := queue.Item{Key: float64(r.IntN(20)), ID: int32(r.IntN(100) - 50)}
				q.Push(x.Key, x.ID)
				list = append(list, x)
				continue
			}
			slices.SortFunc(list, func(a, b queue.Item) int { return cmp.Or(cmp.Compare(a.Key, b.Key), cmp.Compare(a.ID, b.ID)) })
			if q[0] != list[0] {
				t.Fatalf("%v is first, want %v", q[0], list[0])
			}
			if key, id := q.Pop(); key != list[0].Key || id != list[0].ID || len(q) != len(list)-1 {
				t.Fatalf("%g, %d came out, want %v", key, id, list[0])
			}
			list = list[1:]
		}
	}
}

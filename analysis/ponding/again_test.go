package ponding

import (
	"reflect"
	"slices"
	"testing"
)

// Ponds found again are those found from scratch, whatever changed.
func TestAgain(t *testing.T) {
	tin := dish()
	before := find(t, tin, drain(tin, -0.1, 0, 3, 6))
	z := slices.Clone(tin.Z)
	z[0] += 0.003
	again, err := before.Again(nil, z)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := Find(tin, nil, z)
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Ponds) != 1 || !reflect.DeepEqual(again.Ponds, whole.Ponds) || !slices.Equal(again.Level, whole.Level) {
		t.Errorf("again %+v, from scratch %+v", again.Ponds, whole.Ponds)
	}
	if _, err := before.Again(nil, z[1:]); err == nil {
		t.Error("elevations of another surface were taken")
	}
}

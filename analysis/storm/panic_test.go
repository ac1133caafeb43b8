package storm

import "testing"

// A law that breaks must break the caller, who can say so, and not the process.
func TestAPanicOfAWorkerReachesTheCaller(t *testing.T) {
	s := pan(t)
	m, err := New(s, []Law{func(float64) float64 { panic("broken law") }})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if v := recover(); v != "broken law" {
			t.Errorf("recovered %v", v)
		}
	}()
	_, err = m.Blockages(Storm{Rain: Steps{[]float64{0, 3600}, []float64{1e-5}}}, m.Cases(false))
	t.Errorf("no panic; error %v", err)
}

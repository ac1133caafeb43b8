package taper

import "testing"

func Count(t testing.TB, d *Design) { t.Logf("cells %d planes %d", len(d.cells), len(d.planes)) }

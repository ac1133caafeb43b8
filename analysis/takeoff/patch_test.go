package takeoff_test

import (
	"strings"
	"testing"

	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
)

// dented is a level roof of 6 by 6 m whose middle spot stands 30 mm low: a pyramid of four facets down to it over the square of spots round it, 2 by 2 m.
func dented(layers ...roof.Layer) *roof.Roof {
	r := shape.New("dented", shape.At(0, 0, 0), shape.At(6, 0, 0), shape.At(6, 6, 0), shape.At(0, 6, 0))
	for _, p := range [][2]float64{{2, 2}, {4, 2}, {4, 4}, {2, 4}} {
		shape.Spot(r, p[0], p[1], 0)
	}
	shape.Spot(r, 3, 3, -0.03)
	if layers != nil {
		c := roof.Core{Position: shape.At(3, 3, -0.03), Cutter: "hand", Reached: "rib", Layers: layers}
		c.ID = "C-1"
		r.Cores = append(r.Cores, c)
	}
	return r
}

// levelled brings the dent up to the roof round it.
func (b *bench) levelled() *taper.Design {
	b.Helper()
	a := taper.Alter(b.domain, taper.Existing(b.s.Surface.TIN))
	a.Set(make([]float64, len(b.s.Surface.TIN.X)))
	return a.Design()
}

// made says of all facets that are new what makes them.
func made(k mend.Kind, d *taper.Design) func(*takeoff.Input) {
	return func(in *takeoff.Input) {
		o := &in.Result.Options[0]
		o.Made = make([]mend.Kind, len(d.Facets))
		for i := range d.Facets {
			if !d.Facets[i].Existing {
				o.Made[i] = k
			}
		}
		o.Changes = []mend.Change{{Kind: k, Opened: 9}}
		o.Opened = 9
	}
}

// TestPatchLikeForLike: a dent of 2 by 2 m, 30 mm deep in the middle, holds a pyramid of 4 x 0.03 / 3 = 0.04 m3. Of 70 mm of insulation the core calls 50 mm wet: over 4 m2 0.2 m3 come out, and
// 0.2 + 0.04 m3 go in, each once. Without a core, and with one that is sound, only the 0.04 m3 are known, and the note says so.
func TestPatchLikeForLike(t *testing.T) {
	wet := roof.Layer{Material: "polyiso", Thickness: quantity.Length(0.05), Condition: "wet"}
	dry := roof.Layer{Material: "polyiso", Thickness: quantity.Length(0.02), Condition: "sound"}
	for _, c := range []struct {
		name                string
		layers              []roof.Layer
		in, out, over, thin float64
	}{
		{"wet", []roof.Layer{dry, wet}, 0.24, 0.2, 4, 0.05},
		{"sound", []roof.Layer{dry}, 0.04, 0, 4 * (1 - 1./15*1./15), 0},
		{"no core", nil, 0.04, 0, 4 * (1 - 1./15*1./15), 0},
	} {
		b := newBench(t, dented(c.layers...))
		d := b.levelled()
		o := b.of(mend.ReplacePatch, d, made(mend.ReplacePatch, d))
		near(t, c.name+": in m3", o.Volume, c.in, 1e-9)
		near(t, c.name+": out m3", o.Cut, c.out, 1e-9)
		near(t, c.name+": thinnest m", o.Measured[0].Thinnest, c.thin, 1e-9)
		near(t, c.name+": thickest m", o.Measured[0].Thickest, c.thin+0.03, 1e-9)
		near(t, c.name+": rise m", o.Highest, 0.03, 1e-9)
		if o.Deepest != 0 {
			t.Errorf("%s: a cut of %g m", c.name, o.Deepest)
		}
		known := false
		for _, i := range o.Items {
			known = known || strings.Contains(i.Note.Format, "as thick as the core shows it")
		}
		if known != (c.out > 0) {
			t.Errorf("%s: the note on what is replaced: %+v", c.name, o.Items)
		}
		// What feathers out under 2 mm is not opened: of the pyramid's 30 mm the ring outside 2/30 of its sides, so that (28/30)^2 of 4 m2 are left where nothing goes down to the deck.
		if c.out == 0 {
			near(t, c.name+": changed m2", o.Area, 4*28*28./900, 1e-9)
		} else {
			near(t, c.name+": changed m2", o.Area, c.over, 1e-9)
		}
	}
}

// TestOnlyTheDamagedCoreInReach: of two wet cores the nearer says how thick what comes out is; one farther than 10 ft from the patch says nothing of it.
func TestOnlyTheDamagedCoreInReach(t *testing.T) {
	wet := func(x, y, thick float64) roof.Core {
		return roof.Core{Position: shape.At(x, y, 0), Cutter: "hand", Layers: []roof.Layer{{Material: "polyiso", Thickness: quantity.Length(thick), Condition: "wet"}}}
	}
	for _, c := range []struct {
		cores []roof.Core
		out   float64
	}{
		{[]roof.Core{wet(5.5, 3, 0.08), wet(1.5, 3, 0.06)}, 4 * 0.06},
		{[]roof.Core{wet(1.5, 3, 0.06), wet(5.5, 3, 0.08)}, 4 * 0.06},
		{[]roof.Core{wet(-5, 3, 0.06)}, 0},
	} {
		r := dented()
		for i := range r.Outline.Rings[0] { // the roof reaches far to the west, the dent stays
			if p := &r.Outline.Rings[0][i]; p.Plan[0] == 0 {
				p.Plan[0] = -6
			}
		}
		for i := range c.cores {
			c.cores[i].ID = "C-" + string(rune('1'+i))
		}
		r.Cores = c.cores
		b := newBench(t, r)
		d := b.levelled()
		o := b.of(mend.ReplacePatch, d, made(mend.ReplacePatch, d))
		near(t, "out m3", o.Cut, c.out, 1e-9)
	}
}

// TestUseOfEachChange: what a plane is for follows the change that makes it, not the kind of the whole option.
func TestUseOfEachChange(t *testing.T) {
	b := newBench(t, dented())
	d := b.levelled()
	for k, want := range map[mend.Kind]takeoff.Use{
		mend.LowerRise: takeoff.Rise, mend.LowerOutlet: takeoff.Sump, mend.LowerEdge: takeoff.Edge, mend.ReplacePatch: takeoff.Patch,
		mend.Cricket: takeoff.Cricket, mend.Retaper: takeoff.Retaper, mend.Fill: takeoff.Fill,
	} {
		o := b.of(mend.Combined, d, made(k, d))
		for _, f := range o.Fields {
			if f.Use != want {
				t.Errorf("%s: %s, want %s", k, f.Use, want)
			}
		}
	}
}

// TestSignsOfCutAndFill: turned upside down, the dent is a hump of 30 mm that comes off: 0.04 m3 are taken out, none goes in, 30 mm at the deepest. A hump of 0.9 mm is rounding: nothing is cut; one of 1.05 mm comes off.
func TestSignsOfCutAndFill(t *testing.T) {
	for _, c := range []struct{ high, out, deepest float64 }{{0.03, 0.04, 0.03}, {0.0009, 0, 0}, {0.00105, 4 * 0.00105 / 3, 0.00105}} {
		r := dented()
		r.Spots[len(r.Spots)-1].Z = c.high
		b := newBench(t, r)
		d := b.levelled()
		o := b.of(mend.LowerRise, d, made(mend.LowerRise, d))
		near(t, "in m3", o.Volume, 0, 1e-12)
		near(t, "out m3", o.Cut, c.out, 1e-9)
		near(t, "deepest m", o.Deepest, c.deepest, 1e-9)
		near(t, "rise m", o.Highest, 0, 1e-12)
		cut := false
		for _, i := range o.Items {
			cut = cut || strings.HasPrefix(i.What.Format, "taken out or cut down") && i.Value == o.Cut
		}
		if cut != (c.out > 0) {
			t.Errorf("items %+v", o.Items)
		}
	}
}

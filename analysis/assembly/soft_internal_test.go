package assembly

import "testing"

// What a reader of the notes would say of the deck.
func TestSoftDecks(t *testing.T) {
	for deck, want := range map[string]bool{
		"": false, "steel": false, "steel, no rust": false, "Steel (not rusted)": false, "wood without rot": false, "no signs of rot or rust": false,
		"steel, free of corrosion": false, "rust-free steel": false, "corrosion-resistant steel": false, "softwood boards": false,
		"no soft spots": false, "sound, no visible rust": false, "rustproofed steel": false, "non-rusted steel": false,
		"rust": true, "rusted through": true, "soft": true, "Rotten {0} wood": true, "spongy at the edge": true, "corroded, no holes": true,
		"no paint, rusted": true, "not sound; rot": true, "no rust, but soft": true, "no doubt rotten": true, "not rust-free": true,
		"not only rusted": true, "no longer firm soft": true, "hardly any rust": true, "no flutes rusted through": true, "rust, no rot": true,
		"softwood, rotten": true, "no rust and soft": true, "not yet rusted": true, "no rot rust": true, "sound? no - soft": true, "no, soft": true,
	} {
		if got := isSoft(deck); got != want {
			t.Errorf("%q: %v, want %v", deck, got, want)
		}
	}
}

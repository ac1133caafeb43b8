package record

import "github.com/paulmach/orb"

// Place says where p lies, in the words of package place.
func (b *Book) Place(p orb.Point) string { return b.Units.SayText(b.Study.Places.Of(p)) }

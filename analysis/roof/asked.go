package roof

// Asked names a question whose answer counts: limits are compared with it, and what waited for it waits no more. The empty Asked is a question whose answer is
// kept and shown, and decides nothing here.
type Asked string

// The questions whose answers count.
const (
	AskLoad       Asked = "load_limit"      // engineer: how much water the roof may hold, as a load
	AskGravity    Asked = "gravity_load"    // engineer: the design gravity load of the roof
	AskOverflow   Asked = "overflow_height" // engineer: how high an overflow may stand over its primary outlet
	AskBays       Asked = "bays_hold"       // engineer: whether the bays hold under the water with every primary outlet blocked
	AskDeck       Asked = "deck_sound"      // engineer: whether the deck at a place is sound
	AskOpening    Asked = "opening"         // engineer: whether parapet or deck may be cut for an outlet at a place
	AskLower      Asked = "outlet_lowers"   // plumber: whether the outlet at a place can be set down
	AskCover      Asked = "cover_again"     // building official: whether the roof may be covered again
	AskResistance Asked = "resistance"      // energy authority: the thermal resistance that the roof must have after a mend
	AskWarranty   Asked = "warranty_holds"  // warrantor: whether the warranty stays in force with the cuts
	AskCuts       Asked = "cuts_authorised" // owner: whether the cuts may be made

	nearestAsked = 1.0 // how far from its place an answer still holds for what lies there [m]; own choice: a pond's lowest place moves with the survey
)

// Recipient names who is asked, as its paper is named. The empty Recipient is the engineer.
type Recipient string

// Who is asked.
const (
	ToEngineer  Recipient = "engineer"
	ToPlumber   Recipient = "plumber"
	ToEnergy    Recipient = "energy"
	ToOfficial  Recipient = "official"
	ToWarrantor Recipient = "warrantor"
	ToOwner     Recipient = "owner"
)

// Recipients lists who is asked, in the order of the papers.
func Recipients() []Recipient {
	return []Recipient{ToEngineer, ToPlumber, ToEnergy, ToOfficial, ToWarrantor, ToOwner}
}

// Who says who a recipient is.
func (t Recipient) Who() string {
	switch t {
	case ToEnergy:
		return "energy authority"
	case ToOfficial:
		return "building official"
	case ToEngineer, "":
		return "structural engineer"
	case ToPlumber, ToWarrantor, ToOwner:
	}
	return string(t)
}

// To returns who is asked a question whose answer counts.
func (a Asked) To() Recipient {
	switch a {
	case AskLower:
		return ToPlumber
	case AskCover:
		return ToOfficial
	case AskResistance:
		return ToEnergy
	case AskWarranty:
		return ToWarrantor
	case AskCuts:
		return ToOwner
	case AskLoad, AskGravity, AskOverflow, AskBays, AskDeck, AskOpening:
	}
	return ToEngineer
}

// Form says what an answer to the question looks like.
func (a Asked) Form() string {
	switch a {
	case AskLoad, AskGravity:
		return "a load, such as 30 psf or 1.4 kPa"
	case AskOverflow:
		return "a height, such as 3 in or 75 mm"
	case AskResistance:
		return "such as R-25 or 4.4 m2K/W"
	case AskBays, AskDeck, AskOpening, AskLower, AskCover, AskWarranty, AskCuts:
		return "yes or no"
	}
	return "any text"
}

// Placed reports whether the answer holds at one place only.
func (a Asked) Placed() bool { return a == AskDeck || a == AskOpening || a == AskLower }

// OfCuts reports whether the answer holds only for what was to be cut when it was given.
func (a Asked) OfCuts() bool { return a == AskWarranty || a == AskCuts }

// AskedNames lists the questions whose answers count.
func AskedNames() []string {
	return []string{
		string(AskLoad), string(AskGravity), string(AskOverflow), string(AskBays), string(AskDeck), string(AskOpening),
		string(AskLower), string(AskCover), string(AskResistance), string(AskWarranty), string(AskCuts),
	}
}

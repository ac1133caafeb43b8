package finding

// Say returns a Text: every {0}, {1} in format stands for that quantity of args.
func Say(format string, args ...Quantity) Text { return Text{Format: format, Args: args} }

// And returns t followed by u, a blank between them; the places of u are numbered on.
func (t Text) And(u Text) Text { return t.join(" ", u) }

// Comma returns t followed by u, a part of the same sentence.
func (t Text) Comma(u Text) Text { return t.join(", ", u) }

func (t Text) join(by string, u Text) Text {
	if t.Format == "" {
		return u
	}
	if u.Format == "" {
		return t
	}
	args := make([]Quantity, 0, len(t.Args)+len(u.Args))
	args = append(append(args, t.Args...), u.Args...)
	return Text{Format: t.Format + by + shift(u.Format, len(t.Args)), Args: args}
}

// Fill writes the text with every place {n} replaced by write of its quantity. A place that has no
// quantity stays as it is.
func (t Text) Fill(write func(Quantity) string) string {
	return replace(t.Format, func(n int) (string, bool) {
		if n >= len(t.Args) {
			return "", false
		}
		return write(t.Args[n]), true
	})
}

func of(d Dimension, name string, v float64) Quantity { return Quantity{Name: name, Value: v, Dim: d} }

// MM returns a short length: millimetres, or inches and eighths. Value in metres.
func MM(name string, metres float64) Quantity { return of(Depth, name, metres) }

// Metres returns a plan length. Value in metres.
func Metres(name string, metres float64) Quantity { return of(Length, name, metres) }

// Tape returns a plan distance to be held with a tape. Value in metres.
func Tape(name string, metres float64) Quantity { return of(Offset, name, metres) }

// Level returns an elevation above the site datum. Value in metres.
func Level(name string, metres float64) Quantity { return of(Elevation, name, metres) }

// Plan returns a plan area. Value in square metres.
func Plan(name string, area float64) Quantity { return of(Area, name, area) }

// Weight returns a mass. Value in kilograms.
func Weight(name string, kilograms float64) Quantity { return of(Mass, name, kilograms) }

// Load returns a load per area. Value in pascals.
func Load(name string, pascals float64) Quantity { return of(Pressure, name, pascals) }

// Fall returns a slope. Value is rise over run.
func Fall(name string, riseOverRun float64) Quantity { return of(Slope, name, riseOverRun) }

// Part returns a share. Value from 0 to 1.
func Part(name string, share float64) Quantity { return of(Share, name, share) }

// Discharge returns a flow of water. Value in cubic metres a second.
func Discharge(name string, cubicMetresPerSecond float64) Quantity {
	return of(Flow, name, cubicMetresPerSecond)
}

// Rate returns a rate of rain. Value in metres a second.
func Rate(name string, metresPerSecond float64) Quantity { return of(Rain, name, metresPerSecond) }

// Number returns a count.
func Number(name string, n int) Quantity { return of(Count, name, float64(n)) }

// Called returns a name from site or from a file, such as an outlet's label. It is written as it stands: names are arguments, never part
// of a format.
func Called(name string) Quantity { return Quantity{Name: "name", Dim: Name, Word: name} }

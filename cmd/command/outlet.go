package command

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"runnel/analysis/capacity"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/cmd/call"
	"runnel/export/record"
)

// outletRun is one call of a command below "runnel outlet".
type outletRun struct {
	call.Streams
	sizes      map[string]*string // flags of sizes by name
	names      []string           // of those flags, in order
	head, flow string
	method     string
	unitsOut   string
	json, bend bool
	imperial   bool // some size was written in feet or inches, or a flow in gallons or cubic feet
}

func newOutlet(s call.Streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "outlet KIND",
		Short: "What one outlet takes, or the head it needs, without a roof",
		Long: `outlet says how much water a scupper, a drain, a standpipe or a free edge takes at a head, or
which head a flow needs; and what a leader, a horizontal pipe or a gutter carries. Each figure
names its method, its source, whether that was read or is from memory, and the range that was
tested. The head is the depth of water over the invert.`,
		Example: `  runnel outlet scupper --width 8in --opening-height 4in --head 3in
  runnel outlet drain --diameter 4in --flow 97.5gpm --leader 4in --pipe 4in --pipe-slope "1/4 in per ft"
  runnel outlet leader --size 3x4in
  runnel outlet pipe --diameter 6in --slope "1/8 in per ft"`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return call.Usage("unknown kind of outlet %q: use %s", args[0], kindsOf(c))
			}
			return nil
		},
		RunE: func(c *cobra.Command, _ []string) error {
			return call.Usage("name the kind of outlet: %s\nSee %s --help.", kindsOf(c), c.CommandPath())
		},
	}
	c.AddCommand(
		newInlet(s, capacity.Scupper, "An opening in a wall", "width", "opening-height", "crest-breadth", "conductor-head"),
		newInlet(s, capacity.Drain, "A roof drain with a strainer, with or without an overflow dam", "diameter", "dam-diameter", "dam-height"),
		newInlet(s, capacity.Standpipe, "An open pipe that stands up from the roof", "diameter"),
		newInlet(s, capacity.Edge, "A level edge that water falls off", "length", "crest-breadth"),
		newLeader(s), newPipe(s), newGutter(s),
	)
	return c
}

// kindsOf lists the kinds of outlet.
func kindsOf(c *cobra.Command) string {
	return strings.Join(gather.Each(c.Commands(), (*cobra.Command).Name), ", ")
}

// sizeHelp says what the flags of sizes are.
var sizeHelp = map[string]string{
	"width":          "clear `WIDTH`, such as 8in or 200mm",
	"opening-height": "clear `HEIGHT` of the opening; without it the scupper is open above",
	"crest-breadth":  "`BREADTH` of the sill along the flow, such as the thickness of the wall",
	"conductor-head": "`DEPTH` of water over the mouth of the leader when the conductor head is full",
	"diameter":       "inside `DIAMETER`",
	"dam-diameter":   "`DIAMETER` of the dam round the drain; the head is then over its rim",
	"dam-height":     "`HEIGHT` of the dam over the drain",
	"length":         "`LENGTH`",
	"depth":          "`DEPTH` of water when the gutter is full",
	"slope":          "`SLOPE`, such as \"1/4 in per ft\" or 2%",
	"size":           "inside `SIZE`: a diameter such as 4in, or 3x4in",
	"leader":         "inside `SIZE` of the leader behind: a diameter such as 4in, or 3x4in",
	"pipe":           "inside `DIAMETER` of the horizontal pipe behind",
	"pipe-slope":     "`SLOPE` of that pipe",
	"shape":          "`SHAPE` of the gutter: half-round or box",
}

// register adds the flags that every kind has, and those of these sizes.
func (k *outletRun) register(c *cobra.Command, methods []string, sizes ...string) {
	flags := c.Flags()
	k.sizes, k.names = make(map[string]*string, len(sizes)), sizes
	for _, name := range sizes {
		k.sizes[name] = flags.String(name, "", sizeHelp[name])
	}
	if methods != nil {
		flags.StringVar(&k.method, "method", "", "`METHOD`: "+strings.Join(methods, ", ")+" (default: the first that has the size)")
	}
	flags.StringVar(&k.unitsOut, "units-out", "", "`UNITS` of the figures, us or si (default us when a size is in feet or inches)")
	flags.BoolVar(&k.json, "json", false, "print JSON instead of text")
}

// newInlet returns the command of an inlet, which has a head and a flow.
func newInlet(s call.Streams, kind capacity.Kind, short string, sizes ...string) *cobra.Command {
	k := &outletRun{Streams: s}
	c := &cobra.Command{
		Use: kind.String() + " (--head DEPTH | --flow FLOW)", Short: short, Args: call.NoArguments,
		RunE: func(*cobra.Command, []string) error { return k.inlet(kind) },
	}
	if kind != capacity.Edge {
		sizes = append(sizes, "leader", "pipe", "pipe-slope")
	}
	k.register(c, capacity.Methods(kind), sizes...)
	c.Flags().StringVar(&k.head, "head", "", "`DEPTH` of water over the invert: the flow is asked for")
	c.Flags().StringVar(&k.flow, "flow", "", "`FLOW`, such as 100gpm or 6.3L/s: the head is asked for")
	return c
}

func newLeader(s call.Streams) *cobra.Command {
	k := &outletRun{Streams: s}
	c := &cobra.Command{Use: "leader --size SIZE", Short: "A vertical leader", Args: call.NoArguments, RunE: func(*cobra.Command, []string) error {
		size, err := k.section("size")
		if err != nil {
			return err
		}
		if !size.Stated() {
			return call.Usage("give the leader's --size")
		}
		return k.link(capacity.LeaderCapacity(size, k.method))
	}}
	k.register(c, capacity.LeaderMethods(), "size")
	return c
}

func newPipe(s call.Streams) *cobra.Command {
	k := &outletRun{Streams: s}
	c := &cobra.Command{Use: "pipe --diameter DIAMETER --slope SLOPE", Short: "A horizontal pipe", Args: call.NoArguments, RunE: func(*cobra.Command, []string) error {
		var errs [2]error
		diameter, slope := k.length("diameter", &errs[0]), k.slope("slope", &errs[1])
		if err := errors.Join(errs[:]...); err != nil {
			return call.Usage("%v", err)
		}
		if diameter == 0 || slope == 0 {
			return call.Usage("give the pipe's --diameter and --slope")
		}
		return k.link(capacity.PipeCapacity(diameter, slope, k.method))
	}}
	k.register(c, capacity.PipeMethods(), "diameter", "slope")
	return c
}

func newGutter(s call.Streams) *cobra.Command {
	k := &outletRun{Streams: s}
	c := &cobra.Command{Use: "gutter --shape SHAPE --width WIDTH", Short: "A level gutter that drains to one end", Args: call.NoArguments, RunE: func(*cobra.Command, []string) error {
		var errs [3]error
		trough := capacity.Trough{
			Shape: *k.sizes["shape"], Bend: k.bend,
			Width: k.length("width", &errs[0]), Depth: k.length("depth", &errs[1]), Length: k.length("length", &errs[2]),
		}
		if err := errors.Join(errs[:]...); err != nil {
			return call.Usage("%v", err)
		}
		if known := []string{"", capacity.HalfRound, capacity.Box}; !slices.Contains(known, trough.Shape) {
			return call.Usage("--shape %q: use %s", trough.Shape, strings.Join(known[1:], ", "))
		}
		return k.link(capacity.GutterCapacity(trough))
	}}
	k.register(c, nil, "shape", "width", "depth", "length")
	c.Flags().BoolVar(&k.bend, "bend", false, "there is a bend in its run")
	return c
}

// length reads the flag of a length; 0 where it is not given.
func (k *outletRun) length(name string, err *error) quantity.Length {
	return k.read(name, *k.sizes[name], err)
}

// read reads a length, and remembers its unit.
func (k *outletRun) read(name, text string, err *error) quantity.Length {
	if text == "" {
		return 0
	}
	l, imperial, e := quantity.ReadLength(text, quantity.Unstated)
	k.imperial = k.imperial || imperial && e == nil
	if e == nil && !(l > 0) {
		e = errors.New("give a length above 0")
	}
	if e != nil {
		*err = errors.New("--" + name + ": " + e.Error())
	}
	return l
}

// slope reads the flag of a slope; 0 where it is not given.
func (k *outletRun) slope(name string, err *error) quantity.Slope {
	text := *k.sizes[name]
	if text == "" {
		return 0
	}
	s, e := quantity.ParseSlope(text)
	if e == nil && s == 0 {
		e = errors.New("a level pipe has no tabulated capacity")
	}
	if e != nil {
		*err = errors.New("--" + name + ": " + e.Error())
	}
	return s
}

// section reads the flag of a section: "4in", "3x4in", "3 in x 4 in"; the zero section where it is not given.
func (k *outletRun) section(name string) (capacity.Section, error) {
	text := *k.sizes[name]
	if text == "" {
		return capacity.Section{}, nil
	}
	wide, deep, rectangular := strings.Cut(strings.NewReplacer("×", "x", "X", "x").Replace(text), "x")
	var errs [2]error
	if !rectangular {
		s := capacity.Section{Width: k.read(name, text, &errs[0])}
		return s, asUsage(errs[0])
	}
	if unit := strings.TrimLeft(strings.TrimSpace(deep), "0123456789./- "); strings.TrimLeft(strings.TrimSpace(wide), "0123456789./- ") == "" {
		wide += unit // 3x4in
	}
	s := capacity.Section{Width: k.read(name, wide, &errs[0]), Depth: k.read(name, deep, &errs[1])}
	return s, asUsage(errors.Join(errs[:]...))
}

// asUsage makes an error one of the command line.
func asUsage(err error) error {
	if err == nil {
		return nil
	}
	return call.Usage("%v", err)
}

// fitting reads the flags of an inlet and of what stands behind it.
func (k *outletRun) fitting(kind capacity.Kind) (capacity.Fitting, error) {
	f := capacity.Fitting{Kind: kind, Method: k.method}
	for _, size := range []struct {
		name string
		to   *quantity.Length
	}{
		{"width", &f.Width},
		{"length", &f.Width},
		{"opening-height", &f.OpeningHeight},
		{"crest-breadth", &f.CrestBreadth},
		{"diameter", &f.Diameter},
		{"dam-diameter", &f.DamDiameter},
		{"dam-height", &f.DamHeight},
		{"conductor-head", &f.HeadDepth},
		{"pipe", &f.Pipe},
	} {
		if k.sizes[size.name] == nil {
			continue
		}
		var err error
		if l := k.length(size.name, &err); l > 0 {
			*size.to = l
		}
		if err != nil {
			return f, call.Usage("%v", err)
		}
	}
	if kind == capacity.Edge {
		return f, nil
	}
	var err error
	if f.PipeSlope = k.slope("pipe-slope", &err); err != nil {
		return f, call.Usage("%v", err)
	}
	f.Leader, err = k.section("leader")
	return f, err
}

func (k *outletRun) inlet(kind capacity.Kind) error {
	f, err := k.fitting(kind)
	if err != nil {
		return err
	}
	if (k.head == "") == (k.flow == "") {
		return call.Usage("give either --head, to learn the flow, or --flow, to learn the head")
	}
	r, err := capacity.Of(f)
	if err != nil {
		return call.Usage("%v", err)
	}
	a := inletAnswer{kind: kind, rating: r, given: k.given(kind.String())}
	if k.head != "" {
		var wrong error
		a.head = float64(k.read("head", k.head, &wrong))
		if wrong != nil {
			return call.Usage("%v", wrong)
		}
		a.flow = r.Flow(a.head)
	} else {
		flow, err := quantity.ParseFlow(k.flow)
		if err != nil {
			return call.Usage("--flow: %v", err)
		}
		k.imperial = k.imperial || gallons(k.flow)
		a.asked, a.flow = true, float64(flow)
		if a.head, err = r.Head(a.flow); err != nil {
			return err
		}
	}
	if a.units, err = k.units(); err != nil {
		return err
	}
	return k.print(&a)
}

// given says which sizes were given, in the user's words: "scupper: width 8in, opening height 4in".
func (k *outletRun) given(kind string) string {
	var sizes []string
	for _, name := range k.names {
		if text := *k.sizes[name]; text != "" {
			sizes = append(sizes, strings.ReplaceAll(name, "-", " ")+" "+text)
		}
	}
	if k.bend {
		sizes = append(sizes, "with a bend")
	}
	return kind + ": " + strings.Join(sizes, ", ") + "."
}

// gallons reports whether a flow is written in gallons or cubic feet.
func gallons(text string) bool {
	text = strings.ToLower(text)
	return strings.Contains(text, "g") || strings.Contains(text, "f")
}

// link answers for a pipe or a gutter by itself.
func (k *outletRun) link(l capacity.Link, err error) error {
	if err != nil {
		return call.Usage("%v", err)
	}
	a := linkAnswer{link: l, given: k.given(l.Name)}
	if a.units, err = k.units(); err != nil {
		return err
	}
	return k.print(&a)
}

// units returns the units of the figures.
func (k *outletRun) units() (record.Units, error) {
	switch k.unitsOut {
	case "":
		return call.UnitsOf(k.imperial), nil
	case "us", "si":
		return call.UnitsOf(k.unitsOut == "us"), nil
	}
	return record.SI, call.Usage("--units-out %q: use us or si", k.unitsOut)
}

// answer is what can be printed in both ways.
type answer interface {
	text() string
	record() *record.Object
}

func (k *outletRun) print(a answer) error {
	text := a.text()
	if k.json {
		text = string(a.record().Append(nil)) + "\n"
	}
	_, err := k.Out.Write([]byte(text))
	return err
}

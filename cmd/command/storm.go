package command

import (
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/export"
)

// stormFlags are the flags that say which storm comes down.
type stormFlags struct {
	depth, duration, pattern, intensities, evaporation, step string
	blocked                                                  []string
	wet                                                      bool
}

func newStorm(s call.Streams) *cobra.Command {
	k := &check{Streams: s, output: call.OutputFlags{Kinds: export.Kinds()}, storm: &stormFlags{}}
	c := &cobra.Command{
		Use:   "storm FILE...",
		Short: "Check one roof and send a storm over it",
		Long: `storm reads one roof as check does and routes a storm over its surface: how deep and heavy
water gets, what every outlet takes, when the overflows start, how long the roof drains, and what
is left after 48 hours. Without --blocked it compares every outlet at work with each primary outlet
blocked in turn, every primary outlet, and every outlet. No rainfall is built in: look the depth up in
` + standard.WhereRates + `.

` + designStorms(),
		Example: `  runnel storm roof.geojson --depth 3in --duration 1h
  runnel storm roof.geojson --depth 90mm --duration 24h --pattern scs-ii --blocked all-primary -o out
  runnel storm roof.geojson --pattern gauge.csv --wet`,
		Args: call.Arguments(1, 0, "give the files of one roof"),
		RunE: func(_ *cobra.Command, args []string) error { return k.run(args) },
	}
	k.register(c)
	k.storm.register(c)
	return c
}

func (f *stormFlags) register(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&f.depth, "depth", "", "`DEPTH` of the storm's rain, such as 3in or 75mm (a file of --pattern or --intensities may state it)")
	flags.StringVar(&f.duration, "duration", "", "`TIME` that it lasts, such as 1h or 90min")
	flags.StringVar(&f.pattern, "pattern", rainfall.Uniform, "`PATTERN` of its rain: "+strings.Join(rainfall.PatternNames(), ", ")+", or a CSV file of time and rain")
	flags.StringVar(&f.intensities, "intensities", "", "`FILE` (CSV) of depth or rate by duration, from which the alternating pattern is made")
	flags.StringSliceVar(&f.blocked, "blocked", nil, "`OUTLETS` that are blocked, by label, or "+study.AllPrimary+" or "+study.All+" (default: the usual cases, compared)")
	flags.BoolVar(&f.wet, "wet", false, "ponds stand full when the rain begins")
	flags.StringVar(&f.evaporation, "evaporation", "", "`RATE` at which standing water dries while it does not rain, such as 4mm/d (default none)")
	flags.StringVar(&f.step, "step", "", "route by storage-indication in steps of this `TIME`, such as 5min, to check by hand (default: exactly)")
	call.NamesFile(c, "intensities", "csv")
	call.NamesFile(c, "pattern", "csv")
}

// design returns the storm that the flags ask for; meant says that even an absurd rate is meant.
func (f *stormFlags) design(meant bool) (*study.Design, error) {
	if f == nil { // of check, which has no storm
		return nil, nil //nolint:nilnil // no storm was asked for
	}
	d := &study.Design{Wet: f.wet}
	var err error
	if d.Blocked, err = f.names(); err != nil {
		return nil, err
	}
	if d.Evaporation, err = f.dries(); err != nil {
		return nil, err
	}
	if d.Step, err = timeFlag("step", f.step); err != nil {
		return nil, err
	}
	if err = f.rain(d); err != nil {
		return nil, err
	}
	if peak := d.Rain.Peak(); peak > standard.AbsurdRate && !meant {
		return nil, call.Usage("the storm peaks at %.0f in/h, more than 40 in/h: give --yes if that is meant", peak/float64(quantity.InchPerHour))
	}
	if least := (d.Rain.Duration() + studied) / mostSteps; d.Step > 0 && d.Step < least {
		return nil, call.Usage("--step %s: that makes more than %d steps; give %.0f s or more", f.step, mostSteps, math.Ceil(least))
	}
	return d, nil
}

// rain reads how much it rains, how long, and in which pattern.
func (f *stormFlags) rain(d *study.Design) error {
	depth, err := lengthFlag("depth", f.depth)
	if err != nil {
		return err
	}
	duration, err := timeFlag("duration", f.duration)
	if err != nil {
		return err
	}
	switch named := slices.Contains(rainfall.PatternNames(), f.pattern); {
	case f.depth == "" && named && f.pattern != rainfall.Alternating:
		return noDepth()
	case duration == 0 && named:
		return call.Usage("--duration: how long does it rain? Give a time such as 1h or 90min")
	}
	if d.Pattern, err = f.course(duration); err != nil {
		return err
	}
	if f.depth == "" && d.Pattern.Depth == 0 {
		return noDepth()
	}
	if d.Rain, err = d.Pattern.Storm(depth, duration); err != nil {
		return call.Usage("%v", err)
	}
	return nil
}

// studied is how long a storm is followed after its rain [s], and mostSteps how many fixed steps are made at most.
const (
	studied   = 48 * 3600.0
	mostSteps = 10000
)

func noDepth() error {
	return call.Usage("--depth: how much rain? runnel has no place's rainfall built in: look it up in %s", standard.WhereRates)
}

// names returns the outlets that are blocked; nil where the usual cases are asked for.
func (f *stormFlags) names() ([]string, error) {
	if f.blocked != nil && len(f.blocked) == 0 {
		return nil, call.Usage("--blocked: no outlet is named; leave the flag out to compare the usual cases")
	}
	names := gather.Each(f.blocked, strings.TrimSpace)
	return names, nil
}

func (f *stormFlags) course(duration float64) (*rainfall.Pattern, error) {
	var idf *rainfall.IDF
	if f.intensities != "" {
		if f.pattern != rainfall.Alternating {
			return nil, call.Usage("--intensities is for --pattern %s", rainfall.Alternating)
		}
		file, err := call.OpenSide(f.intensities, call.MostRain)
		if err != nil {
			return nil, fmt.Errorf("intensities: %w", err)
		}
		defer func() { _ = file.Close() }() // only read
		if idf, err = rainfall.ReadIDF(file, f.intensities); err != nil {
			return nil, err
		}
	}
	if slices.Contains(rainfall.PatternNames(), f.pattern) {
		p, err := rainfall.Named(f.pattern, duration, idf)
		if err != nil {
			return nil, call.Usage("--pattern: %v", err)
		}
		return p, nil
	}
	file, err := call.OpenSide(f.pattern, call.MostRain)
	if errors.Is(err, os.ErrNotExist) && !strings.ContainsAny(f.pattern, `./\`) {
		return nil, call.Usage("--pattern %s: use %s, or a CSV file", f.pattern, strings.Join(rainfall.PatternNames(), ", "))
	}
	if err != nil {
		return nil, fmt.Errorf("pattern: %w", err)
	}
	defer func() { _ = file.Close() }() // only read
	return rainfall.ReadPattern(file, f.pattern)
}

// dries returns the rate of evaporation [m/s].
func (f *stormFlags) dries() (float64, error) {
	if f.evaporation == "" {
		return 0, nil
	}
	text, ok := strings.CutSuffix(strings.TrimSpace(f.evaporation), "/d")
	if !ok {
		return 0, call.Usage("--evaporation %q: give a depth a day, such as 4mm/d", f.evaporation)
	}
	depth, err := lengthFlag("evaporation", text)
	return float64(depth) / (24 * 3600), err
}

// lengthFlag reads a length that is not negative; 0 for none.
func lengthFlag(name, text string) (quantity.Length, error) {
	if text == "" {
		return 0, nil
	}
	l, err := quantity.ParseLength(text, quantity.Unstated)
	if err != nil {
		return 0, call.Usage("--%s: %v", name, err)
	}
	if l < 0 {
		return 0, call.Usage("--%s %s: it is negative", name, text)
	}
	return l, nil
}

// timeFlag reads a time above zero [s]; 0 for none.
func timeFlag(name, text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	short := strings.NewReplacer(" ", "", "min", "m", "hours", "h", "hour", "h", "hr", "h").Replace(text)
	d, err := time.ParseDuration(short)
	if err != nil || d <= 0 {
		return 0, call.Usage("--%s %q: give a time above zero with its unit, such as 1h or 90min", name, text)
	}
	return d.Seconds(), nil
}

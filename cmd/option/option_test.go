package option_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"runnel/analysis/assembly"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/cmd/option"
	"runnel/importer"
)

// input are the flags of a check after a command line was read.
func input(t *testing.T, args ...string) *option.Input {
	t.Helper()
	in := &option.Input{Side: func(path string) ([]byte, error) {
		if text, ok := map[string]string{
			"limits.json": `{"min_slope":"1%","pond_depth":"1 in"}`, "torn.json": `{`, "r.json": `{"polyiso":"5.6 per in"}`, "odd.json": `{"min_slop":"1%"}`,
		}[path]; ok {
			return []byte(text), nil
		}
		return nil, errors.New(path + ": there is no such file")
	}}
	set := pflag.NewFlagSet("check", pflag.ContinueOnError)
	in.Register(set)
	if err := set.Parse(args); err != nil {
		t.Fatal(err)
	}
	return in
}

// usage reports whether an error is one of the command line.
func usage(err error) bool {
	var wrong *option.UsageError
	return errors.As(err, &wrong)
}

// A value for one file stands behind the last sign of equality, for names may hold some; without one it is for all.
func TestPerFile(t *testing.T) {
	for text, want := range map[string][2]string{"ft": {"", "ft"}, "a.csv=ft": {"a.csv", "ft"}, "a=b.csv=ft": {"a=b.csv", "ft"}, "=ft": {"", "ft"}, "a.csv=": {"a.csv", ""}, "": {"", ""}} {
		if file, value := option.PerFile(text); file != want[0] || value != want[1] {
			t.Errorf("%q: %q, %q; want %q", text, file, value, want)
		}
	}
}

// How files are read, by the flags: what holds for all beside what holds for one; the last wins.
func TestOptionsOfReading(t *testing.T) {
	o, err := input(t, "--units=ft", "--units=a.csv=mm", "--units=m", "--frame=local", "--frame=b=c.geojson=wgs84", "--columns=point,n,e,z", "--hi=104' 2\"", "--keep-zero", "--drop=7", "--drop=ü 8", "--keep=9", "--code-list=codes.csv").Importer()
	if err != nil {
		t.Fatal(err)
	}
	want := importer.Options{
		Units: map[string]quantity.Unit{"": quantity.Metres, "a.csv": quantity.Millimetres}, Frames: map[string]string{"": "local", "b=c.geojson": "wgs84"}, Sigma: map[string]quantity.Length{},
		Columns: []string{"point", "n", "e", "z"}, HI: "104' 2\"", KeepZero: true, Drop: []string{"7", "ü 8"}, Keep: []string{"9"}, CodeList: "codes.csv",
	}
	if !reflect.DeepEqual(o, want) {
		t.Errorf("%+v, want %+v", o, want)
	}
	if o, err := input(t).Importer(); err != nil || len(o.Units)+len(o.Frames)+len(o.Sigma)+len(o.Columns)+len(o.Drop)+len(o.Keep) > 0 || o.KeepZero || o.HI != "" {
		t.Errorf("without flags: %+v, %v", o, err)
	}
}

// How good elevations are: by an instrument, by a standard error with its unit, for all files or for one; --sigma wins over --instrument.
func TestOptionsOfAccuracy(t *testing.T) {
	known := standard.Instruments()[0]
	for _, c := range []struct {
		args []string
		want map[string]float64 // [m]
	}{
		{[]string{"--sigma=3mm"}, map[string]float64{"": 0.003}},
		{[]string{"--sigma=a.csv=0.01 ft", "--sigma=2mm"}, map[string]float64{"": 0.002, "a.csv": 0.003048}},
		{[]string{"--instrument=" + known.Name}, map[string]float64{"": known.Error}},
		{[]string{"--instrument=" + strings.ToUpper(known.Name)}, map[string]float64{"": known.Error}},
		{[]string{"--instrument=5mm", "--instrument=a.csv=" + known.Name}, map[string]float64{"": 0.005, "a.csv": known.Error}},
		{[]string{"--sigma=1mm", "--instrument=5mm"}, map[string]float64{"": 0.001}},
		{[]string{"--sigma=999mm"}, map[string]float64{"": 0.999}},
	} {
		o, err := input(t, c.args...).Importer()
		if err != nil || len(o.Sigma) != len(c.want) {
			t.Errorf("%q: %v, %v", c.args, o.Sigma, err)
			continue
		}
		for file, want := range c.want {
			if got := float64(o.Sigma[file]); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("%q: %q has %g m, want %g", c.args, file, got, want)
			}
		}
	}
}

// What a flag cannot mean is refused by its name and value, as an error of the command line.
func TestFlagsThatAreRefused(t *testing.T) {
	for args, want := range map[string]string{
		"--units=yd": "--units yd: unknown unit \"yd\": use one of m, ft, ft-us, in, mm", "--units=a.csv=": "--units a.csv=: unknown unit \"\"", "--hi=eye": "--hi: \"eye\" is not a length", "--hi=NaN": "--hi: ",
		"--sigma=3": "--sigma 3: ", "--sigma=0mm": "--sigma 0mm: 0mm is not above 0 and below 1 m", "--sigma=1m": "--sigma 1m: 1m is not above 0 and below 1 m", "--sigma=-1mm": "--sigma -1mm: ", "--instrument=eye": "--instrument eye: give ", "--instrument=2m": "--instrument 2m: give ",
		"--tolerance=0": "--tolerance 0: give a factor from 0.01 to 100", "--tolerance=0.0099": "--tolerance 0.0099: ", "--tolerance=100.1": "--tolerance 100.1: ", "--tolerance=NaN": "--tolerance NaN: ", "--next-spots=-1": "--next-spots -1: give 0 or more",
		"--practice=mars": "--practice: ", "--r-method=guess": "--r-method \"guess\": use ", "--min-slope=steep": `--min-slope: "steep"`, "--pond-depth=0.5": "--pond-depth: ", "--rain-primary=4": "--rain-primary: ", "--units-out=metric": `--units-out "metric": give us or si`,
	} {
		in := input(t, args)
		_, err := in.Importer()
		if err == nil {
			_, err = in.Study()
		}
		if err == nil {
			err = in.CheckUnits()
		}
		if err == nil || !strings.HasPrefix(err.Error(), want) || !usage(err) {
			t.Errorf("%s: %v, want %q", args, err, want)
		}
	}
	for _, args := range []string{"--tolerance=0.01", "--tolerance=100", "--next-spots=0", "--units-out=us", "--units-out=si", "--practice=eu", "--practice=us"} {
		in := input(t, args)
		if _, err := in.Study(); err != nil || in.CheckUnits() != nil {
			t.Errorf("%s: %v, %v", args, err, in.CheckUnits())
		}
	}
}

// What results are compared with: a file of criteria, over which flags win; 1 in is 25.4 mm, 2 % are 0.02.
func TestOptionsOfTheAnalysis(t *testing.T) {
	o, err := input(t, "--criteria=limits.json", "--pond-depth=2in", "--min-valley-slope=1/8 in per ft", "--tolerance=2.5", "--next-spots=0", "--yes").Study()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"min_slope": 0.01, "pond_depth": 0.0508, "min_valley_slope": 1.0 / 96} {
		if got := o.Criteria[name]; !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%s is %g, want %g", name, got, want)
		}
	}
	if len(o.Criteria) != 3 || !(o.Tolerance == 2.5) || o.NextSpots != -1 || !o.Meant {
		t.Errorf("%+v", o)
	}
	o, err = input(t).Study()
	if err != nil || len(o.Criteria) != 0 || !(o.Tolerance == 1) || o.NextSpots != standard.NextSpots || o.Meant || o.Practice != standard.US || o.Method != "" || o.PerMetre != nil {
		t.Errorf("without flags: %+v, %v", o, err)
	}
	for _, c := range []struct {
		args   []string
		method assembly.Method
	}{
		{[]string{"--practice=eu"}, assembly.AreaU}, {[]string{"--practice=eu", "--r-method=" + string(assembly.LeastR)}, assembly.LeastR}, {[]string{"--r-method=" + string(assembly.AreaU)}, assembly.AreaU},
	} {
		if o, err := input(t, c.args...).Study(); err != nil || o.Method != c.method {
			t.Errorf("%q: %q, %v", c.args, o.Method, err)
		}
	}
	// 5.6 h ft2 F/BTU per inch: an R of 1 is 0.17611 m2 K/W, so 5.6 * 0.17611 / 0.0254 m K/W.
	o, err = input(t, "--materials=r.json").Study()
	if err != nil || len(o.PerMetre) != 1 {
		t.Fatalf("%+v, %v", o.PerMetre, err)
	}
	for name, got := range o.PerMetre {
		if name != "polyiso" || !(math.Abs(float64(got)-5.6*0.1761101838/0.0254) <= 1e-4) {
			t.Errorf("%s has %v m K/W", name, got)
		}
	}
	for args, want := range map[string]string{
		"--criteria=lost.json": "criteria: lost.json: there is no such file", "--criteria=torn.json": "criteria: torn.json: ", "--criteria=odd.json": "criteria: odd.json: ", "--materials=lost.json": "materials: lost.json: there is no such file", "--materials=torn.json": "materials: torn.json: ",
	} {
		if _, err := input(t, args).Study(); err == nil || !strings.HasPrefix(err.Error(), want) || usage(err) {
			t.Errorf("%s: %v, want %q", args, err, want)
		}
	}
}

// Results come in the units of the input, unless a flag says otherwise; contours come every 25 mm where they come in SI and nothing states another interval.
func TestUnitsOfResults(t *testing.T) {
	for _, c := range []struct {
		flag     string
		imperial bool
		us       bool
	}{{"", true, true}, {"", false, false}, {"us", false, true}, {"si", true, false}, {"us", true, true}, {"si", false, false}} {
		in := input(t, "--units-out="+c.flag)
		r := &roof.Roof{Imperial: c.imperial}
		if got := in.US(r); got != c.us {
			t.Errorf("%+v: us %v", c, got)
		}
		o, err := in.Study()
		if err != nil {
			t.Fatal(err)
		}
		steps := in.StepsFor(r, o)
		if got, stated := steps.Criteria["contour"]; stated == c.us || stated && !(got == standard.ContourMetric) {
			t.Errorf("%+v: contours every %g m, stated %v", c, got, stated)
		}
		if len(o.Criteria) != 0 {
			t.Errorf("%+v: the options that were handed in have changed: %v", c, o.Criteria)
		}
		onOutline := in.StepsFor(&roof.Roof{Imperial: c.imperial, Criteria: standard.Overrides{"contour": 0.1}}, o)
		if _, stated := onOutline.Criteria["contour"]; stated {
			t.Errorf("%+v: the outline's interval does not count", c)
		}
	}
	in := input(t, "--contour=50mm")
	o, err := in.Study()
	if err != nil {
		t.Fatal(err)
	}
	if got := in.StepsFor(&roof.Roof{}, o).Criteria["contour"]; !(math.Abs(got-0.05) <= 1e-12) {
		t.Errorf("contours every %g m", got)
	}
}

// What is said of a roof above alone, by its path or its bare name, is no option of the roof itself, and what is said of that none of the roof above.
func TestOptionsBesideARoofAbove(t *testing.T) {
	in := input(t, "--units=ft", "--units=high.geojson=mm", "--frame=up/high.geojson=wgs84", "--frame=low.geojson=local")
	in.Upper = []string{"up/high.geojson"}
	o, err := in.Importer()
	if err != nil {
		t.Fatal(err)
	}
	beside := in.Beside(o)
	if !reflect.DeepEqual(beside.Units, map[string]quantity.Unit{"": quantity.Feet}) || !reflect.DeepEqual(beside.Frames, map[string]string{"low.geojson": "local"}) {
		t.Errorf("%+v", beside)
	}
	if len(o.Units) != 2 || len(o.Frames) != 2 {
		t.Errorf("the options that were handed in have changed: %+v", o)
	}
	in.Upper = nil
	if got := in.Beside(o); !reflect.DeepEqual(got, o) {
		t.Errorf("without a roof above: %+v", got)
	}
	in.Upper = []string{"up/lost.geojson"}
	steps, err := in.Study()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := in.Above(&roof.Roof{}, o, steps); err == nil || !strings.HasPrefix(err.Error(), "upper roof: up/lost.geojson: there is no such file") {
		t.Errorf("%v", err)
	}
	in.Upper = nil
	if above, err := in.Above(&roof.Roof{}, o, steps); err != nil || above != nil {
		t.Errorf("%v, %v", above, err)
	}
}

// The flags that name a file are registered, and each criterion that has a flag is one that is known.
func TestFlagsThatAreRegistered(t *testing.T) {
	in := &option.Input{}
	set := pflag.NewFlagSet("check", pflag.ContinueOnError)
	in.Register(set)
	for _, f := range option.InputFiles() {
		if set.Lookup(f.Flag) == nil || len(f.Endings) == 0 {
			t.Errorf("%+v is no flag", f)
		}
	}
	for _, name := range []string{"min-slope", "min-valley-slope", "pond-depth", "near-outlet", "max-travel", "contour", "rain-primary", "rain-overflow", "overflow-height"} {
		if set.Lookup(name) == nil || !slices.Contains(standard.Names(), strings.ReplaceAll(name, "-", "_")) {
			t.Errorf("--%s is no criterion", name)
		}
	}
}

// A file that was pasted into a flag is not said again at length; what a person types is said whole.
func TestUsageQuotesTheBeginning(t *testing.T) {
	typed := "--shape " + strings.Repeat("x", 250)
	if got := option.Usage("%s: unknown", typed).Error(); got != typed+": unknown" {
		t.Errorf("%d characters of 258 were said", len(got))
	}
	if got := option.Usage("--shape %q: use box", strings.Repeat("\x00", 9000)).Error(); len(got) > 1500 || !strings.HasSuffix(got, `..."`+": use box") {
		t.Errorf("%d bytes: %s", len(got), got[max(0, len(got)-40):])
	}
}

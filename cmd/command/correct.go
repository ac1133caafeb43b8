package command

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/takeoff"
	"runnel/analysis/tape"
	"runnel/cmd/call"
	"runnel/cmd/option"
	"runnel/export"
	proposal "runnel/export/correction"
	"runnel/export/record"
	"runnel/export/taped"
	"runnel/importer"
)

// correct is one call of "runnel correct".
type correct struct {
	call.Streams
	input  option.Input
	output call.OutputFlags
	json   bool

	only, forbid, prefer     []string
	keep                     []string
	slope, thickness, height string
	drawn, boardsFile        string
	waste, prices, material  string
	gravity                  string
	byCost                   bool

	byTape bool        // a roof by tape is told of as well
	taped  *taped.Book // that roof
}

// byCost among the options of --prefer lets money decide.
const byCost = "cost"

// costOf returns what an option costs at the prices of order; false where its quantities cannot be taken off.
func costOf(s *study.Study, order *takeoff.Input) func(o *correction.Option) (float64, bool) {
	return func(o *correction.Option) (float64, bool) {
		in := *order
		in.Study, in.Result, in.Option = s, &correction.Result{Options: []correction.Option{*o}}, 0
		t, err := takeoff.Of(&in)
		if err != nil {
			return 0, false
		}
		return t.Cost, true
	}
}

func newCorrect(s call.Streams) *cobra.Command {
	k := &correct{Streams: s, output: call.OutputFlags{Kinds: export.CorrectedKinds()}}
	c := &cobra.Command{
		Use:   "correct FILE...",
		Short: "Design what may mend one roof, and check it",
		Long: `correct reads one roof as check does and gives three answers side by side: mend the ponds now,
bring the sections that are too flat to the limit, and what to do at re-roofing. Each pond gets one
way, tried in an order of preference that --prefer changes; what is built together is checked by a
whole run, and refused where anything is worse than before. Who has to be asked first stands first;
what nobody measured is asked, with what to do on each finding. With -o the first answer is written
as a roof file that check and storm read, with its plan, set-out, layout of boards and quantities.
Preliminary, not for construction.`,
		Example: `  runnel correct roof.geojson
  runnel correct roof.geojson --keep-outlet RD-1 --forbid overlay,replace -o out
  runnel correct roof.geojson --only overlay --slope "1/4 in per ft" --min-thickness "1/2 in" --boards supplier.json -o out`,
		Args: call.Arguments(1, 0, "give the files of one roof"),
		RunE: func(_ *cobra.Command, args []string) error { return k.run(args) },
	}
	call.RegisterInput(c, &k.input)
	k.output.Register(c)
	k.designs(c)
	c.Flags().BoolVar(&k.json, "json", false, "print the options (JSON) instead of the page")
	c.Flags().StringVar(&k.drawn, "draw", "", "`ANSWER` or kind of option to draw and to write as a roof (default mend-now): mend-now, bring-to-limit, at-reroofing")
	return c
}

// designs adds the flags that say how the mend is designed.
func (k *correct) designs(c *cobra.Command) {
	kinds := optionNames(mend.Kinds())
	f := c.Flags()
	f.StringSliceVar(&k.only, "only", nil, "look only at these `OPTIONS`: "+kinds)
	f.StringSliceVar(&k.forbid, "forbid", nil, "leave out these `OPTIONS`")
	f.StringSliceVar(&k.prefer, "prefer", nil, "try these `OPTIONS` first, in this order; the others follow as --only lists them. \"cost\" among them: of the ways that dry the ponds take the cheapest by --prices")
	f.StringSliceVar(&k.keep, "keep-outlet", nil, "`LABELS` or ids of outlets whose level must stay")
	f.StringVar(&k.slope, "slope", "", "`SLOPE` of new planes, such as \"1/4 in per ft\" (default: the criterion for new work)")
	f.StringVar(&k.thickness, "min-thickness", "", "least `THICKNESS` of new insulation (default: the thin edge of a tapered board)")
	f.StringVar(&k.height, "flashing-height", "", "`HEIGHT` that walls, curbs and sills must keep above the new surface (default 8 in)")
	f.StringVar(&k.gravity, "gravity-load", "", "design gravity `LOAD` of the roof, such as 45psf, to compare what is added with (your figure; default: not known)")
	f.StringVar(&k.boardsFile, "boards", "", "`FILE` (JSON) of what the supplier has: rates, length, width, thin_edge, greatest_thickness, fill_step")
	f.StringVar(&k.waste, "waste", "", "`SHARE` of boards to order on top for cutting and breakage, such as 8% (default 5%)")
	f.StringVar(&k.material, "material", "", "`NAME` of the new insulation, as in the table of materials (default polyiso)")
	f.StringVar(&k.prices, "prices", "", "`FILE` (JSON) of your unit prices: "+takeoff.PriceNames())
	call.NamesFile(c, "boards", "json")
	call.NamesFile(c, "prices", "json")
}

func optionNames(kinds []mend.Kind) string {
	return strings.Join(gather.Each(kinds, func(k mend.Kind) string { return string(k) }), ", ")
}

func (k *correct) run(paths []string) error {
	defer call.Slack()()
	p, steps, err := k.propose(paths)
	if err != nil {
		return err
	}
	return k.write(p, steps, paths)
}

// orders are what the flags of a design say.
type orders struct {
	steering mend.Steering
	stock    board.Stock
	order    *takeoff.Input
	gravity  float64
}

// orders reads the flags of a design, and the files that they name.
func (k *correct) orders() (o orders, err error) {
	if o.steering, err = k.steering(); err != nil {
		return o, err
	}
	if o.stock, err = k.stock(); err != nil {
		return o, err
	}
	if o.order, err = k.order(o.stock); err != nil {
		return o, err
	}
	o.gravity, err = k.gravityLoad()
	return o, err
}

// supply says to a design what the supplier has.
func (o *orders) supply(in *correction.Input) {
	in.Boards.Thin, in.Boards.Step, in.Boards.Area = float64(o.stock.Thin), float64(o.stock.FillStep), float64(o.stock.Length)*float64(o.stock.Width)
	for _, r := range o.stock.Rates {
		in.Rates = append(in.Rates, float64(r))
	}
}

// propose reads a roof and designs what may mend it. With byTape a roof of which too few heights are known for that is no error: taped holds it, and there
// is no proposal.
func (k *correct) propose(paths []string) (*proposal.Proposal, study.Options, error) {
	options, steps, err := call.Parse(&k.input, &k.output)
	if err != nil {
		return nil, study.Options{}, err
	}
	o, err := k.orders()
	if err != nil {
		return nil, study.Options{}, err
	}
	r, err := importer.Read(paths, options)
	if err != nil {
		return nil, study.Options{}, err
	}
	k.taped = nil
	if k.byTape && tape.TierOf(r) != tape.C {
		criteria, err := study.CriteriaOf(r, k.input.StepsFor(r, steps))
		if err != nil {
			return nil, study.Options{}, err
		}
		k.taped = &taped.Book{Survey: tape.Of(r, criteria), Units: call.UnitsOf(k.input.US(r))}
		return nil, steps, nil
	}
	if err := k.free(r, paths); err != nil {
		return nil, study.Options{}, err
	}
	steps = k.input.StepsFor(r, steps)
	steps.Context = k.Context
	s, err := study.Run(r, steps)
	if err != nil {
		return nil, study.Options{}, err
	}
	if err := known(s, k.keep); err != nil {
		return nil, study.Options{}, err
	}
	in := correction.Input{Study: s, Options: steps, Steering: o.steering, Deck: s.Assembly.Deck, Gravity: cmp.Or(o.gravity, r.Structure.GravityLoad)}
	if k.byCost {
		in.Cost = costOf(s, o.order)
	}
	o.supply(&in)
	result, err := correction.Of(&in)
	if err != nil {
		return nil, study.Options{}, err
	}
	book := record.NewBook(s, "", call.UnitsOf(k.input.US(r)))
	book.Run = k.output.Run(paths)
	p := &proposal.Proposal{Book: book, Result: result, Assembly: s.Assembly}
	if p.Chosen, err = k.choose(result); err != nil {
		return nil, study.Options{}, err
	}
	if err := k.takeOff(p, o.order); err != nil {
		return nil, study.Options{}, err
	}
	return p, steps, nil
}

// takeOff takes off the option that is drawn, and every answer.
func (k *correct) takeOff(p *proposal.Proposal, order *takeoff.Input) error {
	if p.Chosen < 0 {
		return nil
	}
	var err error
	order.Study, order.Result, order.Option = p.Book.Study, p.Result, p.Chosen
	if p.TakeOff, err = takeoff.Of(order); err != nil {
		return fmt.Errorf("quantities: %w", err)
	}
	p.Counted, err = counted(*order, p.Result)
	if err != nil || k.prices == "" {
		return err
	}
	for _, t := range p.Counted {
		var c proposal.Cost
		if t != nil {
			c = proposal.Cost{Money: t.Money, Cost: t.Cost}
		}
		p.Costs = append(p.Costs, c)
	}
	return nil
}

// known refuses labels and ids that no outlet of the roof has.
func known(s *study.Study, names []string) error {
	for _, name := range names {
		if !slices.ContainsFunc(s.Surface.Outlets, func(o surface.Outlet) bool {
			return strings.EqualFold(o.Label, name) || strings.EqualFold(o.ID, name)
		}) {
			labels := make([]string, len(s.Surface.Outlets))
			for i := range labels {
				labels[i] = s.Surface.Outlets[i].Label
			}
			return call.Usage("--keep-outlet %s: this roof has %s", name, strings.Join(labels, ", "))
		}
	}
	return nil
}

// steering reads the flags that say what may be done.
func (k *correct) steering() (mend.Steering, error) {
	s := mend.Steering{Keep: k.keep}
	var err error
	if s.Only, err = optionsNamed("only", k.only); err != nil {
		return s, err
	}
	if s.Forbid, err = optionsNamed("forbid", k.forbid); err != nil {
		return s, err
	}
	if i := slices.Index(k.prefer, byCost); i >= 0 {
		if k.prices == "" {
			return s, call.Usage("--prefer %s: say your prices with --prices", byCost)
		}
		k.byCost, k.prefer = true, slices.Delete(slices.Clone(k.prefer), i, i+1)
	}
	if s.Prefer, err = optionsNamed("prefer", k.prefer); err != nil {
		return s, err
	}
	if k.slope != "" {
		v, err := quantity.ParseSlope(k.slope)
		if err != nil || v <= 0 {
			return s, call.Usage("--slope %q: give a slope above zero, such as \"1/4 in per ft\" or 2%%", k.slope)
		}
		s.Slope = float64(v)
	}
	thickness, err := lengthFlag("min-thickness", k.thickness)
	if err != nil {
		return s, err
	}
	flashing, err := lengthFlag("flashing-height", k.height)
	s.Thickness, s.Flashing = float64(thickness), float64(flashing)
	return s, err
}

// gravityLoad reads the user's design gravity load [Pa].
func (k *correct) gravityLoad() (float64, error) {
	if k.gravity == "" {
		return 0, nil
	}
	v, err := quantity.ParsePressure(k.gravity)
	if err == nil && v <= 0 {
		err = fmt.Errorf("it must be above zero")
	}
	if err != nil {
		return 0, call.Usage("--gravity-load: %v", err)
	}
	return float64(v), nil
}

// optionsNamed reads names of options.
func optionsNamed(flag string, names []string) ([]mend.Kind, error) {
	var out []mend.Kind
	for _, name := range names {
		kind := mend.Kind(strings.TrimSpace(name))
		if !slices.Contains(mend.Kinds(), kind) {
			return nil, call.Usage("--%s %s: use %s", flag, name, optionNames(mend.Kinds()))
		}
		out = append(out, kind)
	}
	return out, nil
}

// stock reads what the supplier has.
func (k *correct) stock() (board.Stock, error) {
	if k.boardsFile == "" {
		return board.Usual(), nil
	}
	data, err := call.ReadSide(k.boardsFile)
	if err != nil {
		return board.Stock{}, fmt.Errorf("boards: %w", err)
	}
	s, err := board.ParseStock(data)
	if err != nil {
		return s, fmt.Errorf("boards: %s: %w", k.boardsFile, err)
	}
	return s, nil
}

// choose returns the option that is drawn: that of the answer or of the kind asked for, else of the first answer.
func (k *correct) choose(r *correction.Result) (int, error) {
	if k.drawn == "" {
		return r.Answers[0].Option, nil
	}
	for i := range r.Answers {
		if r.Answers[i].Name == k.drawn {
			return r.Answers[i].Option, nil
		}
	}
	kinds, err := optionsNamed("draw", []string{k.drawn})
	if err != nil {
		return -1, err
	}
	for i := range r.Options {
		if o := &r.Options[i]; o.Kind == kinds[0] && o.Study != nil {
			return i, nil
		}
	}
	return -1, call.Usage("--draw %s: that option is not possible on this roof, or was left out", k.drawn)
}

// counted takes off every answer, those of one roof once; nil where an answer's roof is not possible.
func counted(in takeoff.Input, r *correction.Result) ([]*takeoff.TakeOff, error) {
	out := make([]*takeoff.TakeOff, len(r.Answers))
	for i := range r.Answers {
		in.Option = r.Answers[i].Option
		if before := slices.IndexFunc(r.Answers[:i], func(a correction.Answer) bool { return a.Option == in.Option }); before >= 0 {
			out[i] = out[before]
			continue
		}
		if !r.Options[in.Option].Possible {
			continue
		}
		var err error
		if out[i], err = takeoff.Of(&in); err != nil {
			return nil, fmt.Errorf("quantities: %w", err)
		}
	}
	return out, nil
}

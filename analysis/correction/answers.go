package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// answer works out the three answers.
func (d *designer) answer(r *Result) error {
	ahead := d.ahead()
	tried, now := d.together()
	r.Options = tried
	d.finished(&r.Options[now])
	d.worthIt(&r.Options[now])
	limit := d.toLimit(r, now)
	again, err := d.atReroofing(r, limit, ahead)
	if err != nil {
		return err
	}
	d.opened(r, now)
	for _, a := range []struct {
		name   string
		option int
	}{{MendNow, now}, {BringToLimit, limit}, {AtReroofing, again}} {
		o := &r.Options[a.option]
		if d.withMade(o); o.Answer == "" {
			o.Answer = a.name
		}
		out := Answer{Name: a.name, Option: a.option, Left: d.leftovers(o), Questions: unique(d.unanswered(o.questions))}
		out.Meets = o.Meets && len(r.KeepOff) == 0 && len(r.EngineerFirst) == 0 && !o.Urgent() && !o.Overtaxed() && !d.unopened(o)
		if a.name != MendNow {
			out.Meets = out.Meets && o.FlatLeft == 0
		}
		if d.Study.LowPlaces != nil { // what drains where is not known
			out.Meets, out.Questions = false, append(out.Questions, d.whereOutlets())
		}
		if a.name == AtReroofing {
			out.Asked, out.Practice = d.asked(), d.practice(o)
		}
		r.Answers = append(r.Answers, out)
	}
	return nil
}

// whereOutlets asks for the outlets of a roof on which none was surveyed.
func (d *designer) whereOutlets() mend.Question {
	return mend.Question{
		Ask: finding.Say("Where do the outlets stand, at what level does each take water, and which edges are open?"), Where: "the whole roof", Decides: finding.Roofer,
		If: finding.Say("They are surveyed"), Then: finding.Say("Check the roof again, then correct it. Until then nothing is known of its ponds"),
	}
}

// worthIt asks the owner where a pond takes more than a local mend opens: whether it is worth it before the roof is renewed.
func (d *designer) worthIt(o *Option) {
	most := 4 * math.Max(standard.LocalArea, standard.LocalShare*d.Surface.Area)
	for i := range o.Changes {
		c := &o.Changes[i]
		if c.Pond == "" || c.Opened <= most {
			continue
		}
		o.questions = append(o.questions, mend.Question{
			Ask: finding.Say("No local mend dries "+c.Pond+": this one opens {0}. Is it worth it before the roof is renewed?", finding.Plan("opened", c.Opened)), Where: "at " + c.Pond, At: c.At, Decides: finding.Owner,
			If: finding.Say("It is"), Then: finding.Say("Go on. Else: keep the outlets clear, look again after rain, and build slope when the roof is renewed"),
		})
	}
}

// opened asks an engineer first where the first answer cuts the deck or a parapet, and where what it builds rests on what only an engineer can answer.
func (d *designer) opened(r *Result, now int) {
	o := &r.Options[now]
	for _, k := range []struct {
		kind mend.Kind
		why  string
	}{{mend.AddScupper, "A parapet is to be cut for a scupper: may it be opened there, and what may the roof carry until it is?"}, {mend.AddOutlet, "The deck is to be cut for a drain: where do the members lie, and may it be opened there?"}} {
		i := slices.IndexFunc(o.Changes, func(c mend.Change) bool { return c.Kind == k.kind })
		if i >= 0 && !d.settled(roof.AskOpening, o.Changes[i].At, nil) {
			r.EngineerFirst = append(r.EngineerFirst, Reason{Why: finding.Say(k.why), Where: o.Changes[i].Pond, At: o.Changes[i].At, Decides: finding.Engineer, Asked: roof.AskOpening})
		}
	}
	questions := d.unanswered(o.questions)
	for i := range questions {
		q := &questions[i]
		if len(r.KeepOff) > 0 { // he is called already
			break
		}
		if q.Decides == finding.Engineer && !slices.ContainsFunc(r.EngineerFirst, func(e Reason) bool { return e.At == q.At || e.Why.Format == q.Sentence().Format }) {
			r.EngineerFirst = append(r.EngineerFirst, Reason{Why: q.Sentence(), Where: q.Where, At: q.At, Decides: finding.Engineer, Asked: q.Asked})
		}
	}
}

// unopened reports whether an option cuts deck or parapet at a place where no engineer has allowed it.
func (d *designer) unopened(o *Option) bool {
	cuts := 0
	for i := range o.Changes {
		c := &o.Changes[i]
		if c.Kind != mend.AddScupper && c.Kind != mend.AddOutlet {
			continue
		}
		if cuts++; !d.settled(roof.AskOpening, c.At, nil) {
			return true
		}
	}
	return o.opens() && cuts == 0
}

// Overtaxed reports whether more rain comes to an outlet than it takes, which no change of the surface mends.
func (o *Option) Overtaxed() bool {
	return o.Study != nil && slices.ContainsFunc(o.Study.Findings, func(f finding.Finding) bool {
		return f.Severity >= finding.Repair && (f.Kind == finding.OutletSmall || f.Kind == finding.ScupperFull)
	})
}

// Urgent reports whether something urgent is left.
func (o *Option) Urgent() bool {
	return o.Study != nil && slices.ContainsFunc(o.Study.Findings, func(f finding.Finding) bool { return f.Severity >= finding.Urgent })
}

// finished adds what is done besides the ponds: outlets are cleared and flow-tested first, wet insulation comes out.
func (d *designer) finished(o *Option) {
	changes, questions := d.others()
	changes, questions = o.unpatched(changes, questions)
	before, asked, flags := d.interim()
	o.Flags = append(o.Flags, flags...)
	first := []mend.Change(nil)
	if d.Steering.Allows(mend.Clear) && (len(d.Ponds) > 0 || len(changes)+len(before) > 0) {
		first = append(first, mend.Change{
			Kind: mend.Clear, Decides: finding.Roofer,
			What: finding.Say("Clear outlets and strainers, let water run through each, and look again 48 hours after rain in drying weather"),
		})
	}
	first = append(append(first, before...), changes...)
	o.Changes = append(first, o.Changes...)
	o.questions = slices.Concat(d.doubts(), asked, questions, o.questions)
	for i := range first {
		o.addDecides(first[i].Decides)
	}
}

// unpatched leaves out wet insulation that a patch of the option replaces already, and what is asked of it.
func (o *Option) unpatched(changes []mend.Change, questions []mend.Question) ([]mend.Change, []mend.Question) {
	patched := func(at orb.Point) bool {
		return slices.ContainsFunc(o.Changes, func(c mend.Change) bool {
			return c.Kind == mend.ReplacePatch && vector.DistanceSquared(c.At, at) < mend.CoreReach*mend.CoreReach
		})
	}
	changes = slices.DeleteFunc(changes, func(c mend.Change) bool { return c.Kind == mend.ReplacePatch && patched(c.At) })
	questions = slices.DeleteFunc(questions, func(q mend.Question) bool {
		return !slices.ContainsFunc(changes, func(c mend.Change) bool { return c.At == q.At }) && patched(q.At)
	})
	return changes, questions
}

// unique leaves out questions that were asked already.
func unique(list []mend.Question) []mend.Question {
	var out []mend.Question
	for i := range list {
		if !slices.ContainsFunc(out, func(q mend.Question) bool { return q.Ask.Format == list[i].Ask.Format && q.At == list[i].At }) {
			out = append(out, list[i])
		}
	}
	return out
}

// toLimit brings the sections that are still too flat to the limit, on top of the mends; where none is, the mends are the answer.
func (d *designer) toLimit(r *Result, now int) int {
	o := &r.Options[now]
	if o.Study == nil || o.PondsLeft == 0 && o.FlatLeft == 0 {
		return now
	}
	best := now
	if n := d.widened(o); n != nil && d.onTop(r, now, n, &best) {
		return best
	}
	if k := d.retapered(r, now); k >= 0 {
		return k
	}
	for _, slope := range d.sectionSlopes() {
		if n := d.section(&r.Options[now], slope); n != nil && d.onTop(r, now, n, &best) {
			break
		}
	}
	return best
}

// onTop appends an option that was made on top of option now, notes it where it comes nearer than the best, and reports whether it leaves nothing undone.
func (d *designer) onTop(r *Result, now int, n *Option, best *int) bool {
	n.Changes = append(n.reopened(r.Options[now].Changes), n.Changes...)
	n.questions = append(append([]mend.Question(nil), r.Options[now].questions...), n.questions...)
	n.addDecides(r.Options[now].Decides...)
	r.Options = append(r.Options, *n)
	k := len(r.Options) - 1
	if r.Options[k].nearer(&r.Options[*best]) {
		*best = k
	}
	return r.Options[k].whole()
}

// reopened returns changes that an option was made on top of, each with what it opens on that option's roof: where mends touch, each place is booked once.
func (o *Option) reopened(changes []mend.Change) []mend.Change {
	out := slices.Clone(changes)
	for i := range out {
		for k := range o.earlier {
			if e := &o.earlier[k]; e.At == out[i].At && e.Pond == out[i].Pond && e.Kind == out[i].Kind {
				out[i].Opened = e.Opened
			}
		}
	}
	return out
}

// made is what a maker of options returns.
type made struct {
	options []Option
	err     error
}

// ahead begins with the overlay on another processor where the roof as found falls less than new work must; nil elsewhere.
func (d *designer) ahead() chan made {
	found := Option{Study: d.Study}
	if !d.Steering.Allows(mend.Overlay) || !d.flatForNew(&found) {
		return nil
	}
	other := d.copied()
	var err error
	if other.Domain, err = domain.New(d.Surface.TIN); err != nil {
		return nil
	}
	other.Locate = surface.NewLocator(d.Surface.TIN)
	out := make(chan made, 1)
	go func() {
		var m made
		func() {
			defer halt.Caught(&m.err)
			m.options, m.err = other.overlay()
		}()
		out <- m
	}()
	return out
}

// atReroofing is what is done when the roof is renewed: a taper for new work where planes fall less than new work must, else what brings it to the limit.
func (d *designer) atReroofing(r *Result, limit int, ahead chan made) (int, error) {
	if o := &r.Options[limit]; o.Study != nil && o.PondsLeft == 0 && o.FlatLeft == 0 && !d.flatForNew(o) {
		return limit, nil
	}
	best := -1
	for _, k := range []mend.Kind{mend.Overlay, mend.Replace} {
		if !d.Steering.Allows(k) {
			continue
		}
		list, err := d.renewed(k, ahead)
		if err != nil {
			return 0, err
		}
		best = r.nearest(k, list, best)
		if best >= 0 && r.Options[best].whole() {
			break
		}
	}
	best, err := d.overReset(r, best)
	if err != nil {
		return 0, err
	}
	if best < 0 || !r.Options[best].whole() && r.Options[limit].nearer(&r.Options[best]) {
		return limit, nil
	}
	return best, nil
}

// renewed returns the options of an overlay, which may have been begun ahead, or of a replacement.
func (d *designer) renewed(k mend.Kind, ahead chan made) ([]Option, error) {
	switch {
	case k == mend.Replace:
		return d.replace()
	case ahead == nil:
		return d.overlay()
	}
	m := <-ahead
	return m.options, m.err
}

// nearest keeps options of a kind in the result and returns the index of the nearest to the limits of them and of best, -1 for none.
func (r *Result) nearest(k mend.Kind, list []Option, best int) int {
	for i := range list {
		list[i].Kind = k
		r.Options = append(r.Options, list[i])
		if n := len(r.Options) - 1; list[i].Possible && (best < 0 || list[i].nearer(&r.Options[best])) {
			best = n
		}
	}
	return best
}

// whole reports whether an option leaves nothing undone.
func (o *Option) whole() bool { return o.Meets && o.FlatLeft == 0 }

// flatForNew reports whether planes fall less than new work must.
func (d *designer) flatForNew(o *Option) bool {
	for i := range o.Study.Slopes.Planes {
		if p := &o.Study.Slopes.Planes[i]; p.Area >= moreFlat && p.Slope+2*p.Error() < o.Study.Criteria.MinSlopeNew {
			return true
		}
	}
	return false
}

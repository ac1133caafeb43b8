package record

import (
	"cmp"
	"slices"
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/gather"
)

// Finding adds the properties of finding i.
func (b *Book) Finding(o *Object, i int) {
	f := &b.Study.Findings[i]
	u := b.Units
	o.Text("kind", string(f.Kind))
	o.Text("severity", f.Severity.String())
	o.Text("what", u.SayText(f.What))
	o.Text("where", u.SayText(f.Where))
	o.Text("measured", b.SayMeasured(i))
	measured := f.Measured
	if k, ok := b.barelyOf(f); ok {
		p := b.pondBounds(k)
		depthUnit.addRange(o, u, "measured_depth", p.Depth)
		areaUnit.addRange(o, u, "measured_area", p.Area)
		measured = slices.DeleteFunc(slices.Clone(measured), func(q finding.Quantity) bool { return b.ofPond(k, q) != "" })
	}
	b.quantities(o, "measured_", measured)
	o.Text("required", u.SayAll(f.Required))
	b.quantities(o, "required_", f.Required)
	o.Text("source", f.Source)
	o.Text("why", u.SayText(f.Why))
	o.Text("do", u.SayText(f.Do))
	o.Text("decides", f.Decides)
	o.Text("confidence", f.Confidence.String())
	also := gather.Each(f.Also, func(kind finding.Kind) string { return string(kind) })
	o.Text("also", strings.Join(also, ", "))
	if f.Pond >= 0 {
		o.Text("pond", b.Names.Ponds[f.Pond])
	}
	if f.Outlet >= 0 {
		o.Text("outlet", b.Names.Outlets[f.Outlet])
	}
}

// SayMeasured writes what was measured of finding i. Of a pond that the spots barely show depth, area and weight stand as ranges.
func (b *Book) SayMeasured(i int) string {
	f := &b.Study.Findings[i]
	k, barely := b.barelyOf(f)
	parts := make([]string, len(f.Measured))
	for j, q := range f.Measured {
		said := b.Units.Say(q)
		if barely {
			said = cmp.Or(b.ofPond(k, q), said)
		}
		parts[j] = strings.TrimSpace(q.Name + " " + said)
	}
	return strings.Join(parts, ", ")
}

// SayConfidence says how sure finding i is. The property has three values; a reader is told besides where the spots barely show a pond.
func (b *Book) SayConfidence(i int) string {
	f := &b.Study.Findings[i]
	k, barely := b.barelyOf(f)
	if !barely {
		return f.Confidence.String()
	}
	return b.SayPondConfidence(k)
}

// SayPondConfidence says how sure listed pond i is.
func (b *Book) SayPondConfidence(i int) string {
	c := b.Study.Confidence(i)
	if c == finding.Shown && b.Barely(i) {
		return "barely " + c.String()
	}
	return c.String()
}

// barelyOf returns which listed pond a finding is about, where the spots barely show it.
func (b *Book) barelyOf(f *finding.Finding) (k int, ok bool) {
	k, ok = b.listedPonds()[f.Pond]
	return k, ok && b.Barely(k)
}

// ofPond writes a quantity that is the depth, area or weight of listed pond k as the range that it stands for; "" for others.
func (b *Book) ofPond(k int, q finding.Quantity) string {
	switch q.Name {
	case "depth":
		return b.SayPondDepth(k)
	case "area":
		return b.SayPondArea(k)
	case "weight":
		return b.SayPondWeight(k)
	}
	return ""
}

// Limit writes what finding i is compared with and where that stands. A source is said once a page: later findings name the first that has it.
func (b *Book) Limit(i int) string {
	f := &b.Study.Findings[i]
	limit, source := b.Units.SayAll(f.Required), f.Source
	for k := range i {
		if source != "" && b.Study.Findings[k].Source == source {
			source = "source: see " + b.Names.Local(b.Names.Finding(k))
			break
		}
	}
	switch {
	case limit == "":
		return source
	case source == "":
		return limit
	}
	return limit + " (" + source + ")"
}

// SayAll writes quantities with their names: "depth 1 3/8 in, area 12 sq ft".
func (u Units) SayAll(qs []finding.Quantity) string {
	return strings.Join(gather.Each(qs, func(q finding.Quantity) string { return strings.TrimSpace(q.Name + " " + u.Say(q)) }), ", ")
}

// quantities adds every quantity under prefix, its name with underscores and its unit.
func (b *Book) quantities(o *Object, prefix string, qs []finding.Quantity) {
	for _, q := range qs {
		name := prefix + propertyName(q.Name)
		b.Units.Quantity(o, name, q)
	}
}

// propertyName writes words as a name: small letters, digits and underscores, without apostrophes.
func propertyName(words string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '_':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r == ' ', r == '-':
			return '_'
		}
		return -1
	}, words)
}

// added says how a quantity of each dimension is written under a name.
var added = map[finding.Dimension]func(u Units, o *Object, name string, value float64){
	finding.Depth: Units.Depth, finding.Length: Units.Length, finding.Elevation: Units.Length, finding.Offset: Units.Length,
	finding.Area: Units.Area, finding.Volume: Units.Volume, finding.Mass: Units.Mass, finding.Pressure: Units.Pressure,
	finding.Slope: Units.Slope, finding.Flow: Units.flow, finding.Rain: Units.Rain,
	finding.Share:   func(_ Units, o *Object, name string, v float64) { o.Share(name+"_share", v) },
	finding.Bearing: func(_ Units, o *Object, name string, v float64) { o.Bearing(name+"_deg", v) },
	finding.Count:   func(_ Units, o *Object, name string, v float64) { o.Number(name, v, 0) },
}

// Quantity adds a number under name and its unit, a name as it stands.
func (u Units) Quantity(o *Object, name string, q finding.Quantity) {
	if q.Dim == finding.Name {
		o.Text(name, q.Word)
		return
	}
	added[q.Dim](u, o, name, q.Value)
}

package record_test

import (
	"strings"
	"testing"

	"runnel/analysis/bounds"
	"runnel/analysis/finding"
	"runnel/export/record"
	"runnel/export/sample"
)

// A pond that the spots barely show has a range and no single figure, in its finding too: 24.5 to 31.5 mm deep, 10 to 20 m2, 100 to 200 litres of
// water, which weigh 100 to 200 kg.
func TestABarelyShownPondHasNoSingleFigure(t *testing.T) {
	s := sample.Study(sample.Local())
	b := record.NewBook(s, "", record.SI)
	i := -1
	for k := range s.Findings {
		if s.Findings[k].Pond == int(s.Listed[0].Pond) {
			i = k
		}
	}
	if i < 0 {
		t.Fatal("the sample has no finding of a pond")
	}
	if said := b.SayMeasured(i); strings.Contains(said, " to ") || !strings.HasPrefix(said, "depth ") {
		t.Errorf("well shown: %q", said)
	}
	s.Findings[i].Confidence = finding.Shown
	if said := b.SayConfidence(i); said != "shown by the spots" {
		t.Errorf("well shown: %q", said)
	}
	s.Rests[0] = nil
	s.Bounds = &bounds.Bounds{Ponds: make([]bounds.Pond, len(s.Listed))}
	s.Bounds.Ponds[0] = bounds.Pond{
		Depth: bounds.Range{Low: 0.0245, High: 0.0315}, Area: bounds.Range{Low: 10, High: 20}, Volume: bounds.Range{Low: 0.1, High: 0.2}, Barely: true, Trials: 200,
	}
	if said := b.SayMeasured(i); !strings.HasPrefix(said, "depth 25 mm to 32 mm, area 10.0 m² to 20.0 m², weight 100 kg to 200 kg") {
		t.Errorf("barely shown: %q", said)
	}
	if said, pond := b.SayConfidence(i), b.SayPondConfidence(0); said != pond || s.Confidence(0) == finding.Shown && said != "barely shown by the spots" {
		t.Errorf("barely shown: %q, the pond %q", said, pond)
	}
	// 24.5 to 31.5 mm of water press by 1000 kg/m3 times 9.80665 m/s2: 240 to 309 Pa
	if said := b.SayPondLoad(0); said != "0.24 kPa to 0.31 kPa" {
		t.Errorf("barely shown: %q", said)
	}
	for low, want := range map[float64]string{0: "up to 32 mm", 0.0003: "up to 32 mm", 0.0006: "1 mm to 32 mm"} {
		s.Bounds.Ponds[0].Depth.Low = low
		if said := b.SayPondDepth(0); said != want || !strings.HasPrefix(b.SayMeasured(i), "depth "+want+", ") {
			t.Errorf("from %v m: %q, in the finding %q", low, said, b.SayMeasured(i))
		}
	}
	s.Bounds.Ponds[0].Depth.Low = 0.0245
	var o record.Object
	b.Finding(&o, i)
	text := string(o.Append(nil))
	for _, want := range []string{`"measured_depth_mm_5":24.5`, `"measured_depth_mm_95":31.5`, `"measured_area_m2_95":20`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
	for _, no := range []string{`"measured_depth_mm":`, `"measured_area_m2":`, `"measured_weight_kg":`} {
		if strings.Contains(text, no) {
			t.Errorf("a single figure %s in %s", no, text)
		}
	}
}

// Where low places are in doubt nobody says that there is no pond: the spots show none.
func TestPondsInDoubtAreNotShown(t *testing.T) {
	s := sample.Study(sample.Local())
	b := record.NewBook(s, "", record.SI)
	s.Listed = nil
	for count, want := range map[int]string{0: "No ponds found. ", 3: "No ponds shown. "} {
		if s.Unresolved.Count = count; !strings.HasPrefix(b.Ponds(), want+"Ponds smaller than the ") {
			t.Errorf("%d in doubt: %q", count, b.Ponds())
		}
	}
}

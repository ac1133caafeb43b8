package record

import "runnel/analysis/standard"

// CiteCriterion returns where a criterion of this roof comes from; usual says that it is that of its practice. Beside US practice,
// readers of metric results get what European practice gives.
func (b *Book) CiteCriterion(name string, usual bool) string {
	p := b.Study.Criteria.Practice
	source, _ := standard.CiteIn(p, name)
	how := source.Text
	if !usual {
		how = "stated for this roof"
		if source.Text != how && name != "max_travel" {
			how += "; usual: " + source.Text
		}
	}
	if b.Units == SI && p == standard.US {
		if beside := standard.Beside(name); beside != "" {
			how += "; " + beside
		}
	}
	return how
}

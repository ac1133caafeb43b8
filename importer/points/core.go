package points

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// core keeps a cut through the roof.
func (r *reader) core() {
	deck, _ := r.code.Value("deck")
	c := roof.Core{
		Feature: r.head(), Position: r.place, Deck: deck.Value,
		Cutter: r.oneOf("cutter", draft.Cutters), Reached: r.oneOf("reached", draft.Reaches),
	}
	if r.code.Number != "" { // as the crew wrote on the bag that it is in
		c.ID = r.code.Number
	}
	if p, ok := r.code.Value("layers"); ok {
		for i, text := range strings.Split(p.Value, "+") {
			l, ok := r.layer(text, i+1)
			if !ok {
				return
			}
			c.Layers = append(c.Layers, l)
		}
	}
	r.out.Cores = append(r.out.Cores, c)
}

// layer reads layer n of a core: its thickness with its unit, its material, and its condition where it is said.
func (r *reader) layer(text string, n int) (l roof.Layer, ok bool) {
	words := strings.Fields(r.pointed(text))
	const longest = 4 // words of a length: 0' 3 1/2 in
	i := min(longest, len(words))
	for ; i > 0; i-- {
		if t, imperial, err := quantity.ReadLength(strings.Join(words[:i], " "), quantity.Unstated); err == nil {
			l.Thickness, r.out.Imperial = t, r.out.Imperial || imperial
			break
		}
	}
	material := words[i:]
	if k := len(material) - 1; k >= 0 && slices.Contains(draft.Conditions, strings.ToLower(material[k])) {
		l.Condition, material = strings.ToLower(material[k]), material[:k]
	}
	l.Material = strings.Join(material, " ")
	if i == 0 || l.Thickness < 0 || l.Material == "" {
		r.refuseAt(fmt.Sprintf("layer %d of the core is %.40q, which is no thickness with its unit and a material", n, strings.TrimSpace(text)),
			`write layers="0.06 in EPDM + 3 in polyiso wet + 1 in perlite", top first`)
		return l, false
	}
	return l, true
}

// oneOf is draft.OneOf for a key of the row at hand.
func (r *reader) oneOf(key string, words []string) string {
	p, _ := r.code.Value(key)
	word, rule, mend := draft.OneOf(key, p.Value, words)
	if rule != "" {
		r.refuseAt(rule, mend)
	}
	return word
}

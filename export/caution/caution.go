// Package caution holds the safety texts with which every report ends, in one file of text.
package caution

import (
	_ "embed"
	"strings"

	"runnel/analysis/inspection"
)

// cautions.txt holds one paragraph a caution: its key on the first line, then the text.
//
//go:embed cautions.txt
var file string

// Texts returns the texts of keys, in their order; a key without a text is left out.
func Texts(keys []inspection.Caution) []string {
	texts := map[string]string{}
	for _, paragraph := range strings.Split(file, "\n\n") {
		key, text, _ := strings.Cut(strings.TrimSpace(paragraph), "\n")
		texts[key] = text
	}
	out := make([]string, 0, len(keys))
	for _, k := range keys {
		if t := texts[string(k)]; t != "" {
			out = append(out, t)
		}
	}
	return out
}

// Plan returns the cautions in the short form that a drawing has room for.
func Plan() []string { return Texts([]inspection.Caution{"plan"}) }

// Off is the first caution where there is room for no more.
const Off = "Keep off deep ponds and roofs that sag."

// Foot ends a sheet that has room for one line.
const Foot = Off + " Engineers decide what the roof carries."

// Design stands on everything that shows a roof which is not built yet.
const Design = "Preliminary, not for construction; verify on site before ordering."

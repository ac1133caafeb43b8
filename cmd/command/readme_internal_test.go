package command

import (
	"bytes"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/analysis/finding/findingtest"
	"runnel/analysis/standard"
	"runnel/cmd/call"
	"runnel/export/layer"
)

// README and reference must name every flag, kind of finding, criterion and layer, so that none is added without a word.
func TestReadmeNamesEverything(t *testing.T) {
	readme := readReadme(t)
	for _, page := range referencePages {
		readme += referencePage(page)
	}
	root := newRoot(call.Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}})
	var words []string
	for _, c := range root.Commands() {
		c.Flags().VisitAll(func(f *pflag.Flag) { words = append(words, "--"+f.Name) })
		if !c.IsAdditionalHelpTopicCommand() {
			words = append(words, "runnel "+c.Name())
		}
		for _, sub := range c.Commands() {
			sub.Flags().VisitAll(func(f *pflag.Flag) { words = append(words, "--"+f.Name) })
			words = append(words, "`"+sub.Name()+"`")
		}
	}
	for _, k := range findingtest.Kinds() {
		words = append(words, "`"+string(k)+"`")
	}
	for _, name := range standard.Names() {
		words = append(words, "`"+name+"`")
	}
	for _, name := range layer.All() {
		words = append(words, "`"+name+"`")
	}
	for _, word := range words {
		if !strings.Contains(readme, word) && !isCobras(word) {
			t.Errorf("README.md and the reference do not say %s", word)
		}
	}
}

// isCobras reports whether a word is one that every command line of this make has.
func isCobras(word string) bool {
	var none cobra.Command
	none.InitDefaultHelpFlag()
	return word == "runnel completion" || word == "runnel help" || none.Flags().Lookup(strings.TrimPrefix(word, "--")) != nil
}

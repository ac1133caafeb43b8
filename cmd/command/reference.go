package command

import (
	"embed"
	"strings"

	"github.com/spf13/cobra"
)

// pages are the reference, a page a file.
//
//go:embed reference/*.md
var pages embed.FS

// referencePages are the names of the pages of the reference, in the order of the README.
var referencePages = []string{
	"codes", "tape", "page", "flags", "files", "cores", "outlets", "rain", "mending", "many", "machines", "criteria", "findings", "properties", "exit-codes",
}

// newReference returns a topic of help for each page of the reference: "runnel help codes" prints it as it stands.
func newReference() []*cobra.Command {
	all := make([]*cobra.Command, len(referencePages))
	for i, name := range referencePages {
		text := referencePage(name)
		title, _, _ := strings.Cut(strings.TrimPrefix(text, "# "), "\n")
		all[i] = &cobra.Command{Use: name, Short: title, Long: strings.TrimSpace(text)}
		all[i].SetHelpFunc(func(c *cobra.Command, _ []string) { c.Println(c.Long) })
	}
	return all
}

func referencePage(name string) string {
	text, err := pages.ReadFile("reference/" + name + ".md")
	if err != nil {
		panic("the page " + name + " of the reference is not in the program: " + err.Error())
	}
	return string(text)
}

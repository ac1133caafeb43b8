package command

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/cmd/call"
)

func newMan(s call.Streams) *cobra.Command {
	return &cobra.Command{
		Use:   manName,
		Short: "Print the manual page",
		Long:  `man prints the manual page, for man(1): every command with its flags.`,
		Example: `  runnel man > runnel.1
  man ./runnel.1`,
		Args: call.NoArguments,
		RunE: func(c *cobra.Command, _ []string) error { return writeMan(s.Out, c.Root()) },
	}
}

// writeMan writes the manual page of a program, in the macros of man(7).
func writeMan(w io.Writer, root *cobra.Command) error {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s 1\n.SH NAME\n%s \\- %s\n.SH DESCRIPTION\n", strings.ToUpper(root.Name()), root.Name(), manText(root.Short))
	manBlock(&b, root.Long)
	b.WriteString(".SH COMMANDS\n")
	for _, c := range root.Commands() {
		if c.Hidden || c.IsAdditionalHelpTopicCommand() || c.Name() == "help" {
			continue
		}
		manCommand(&b, c)
		for _, sub := range c.Commands() {
			manCommand(&b, sub)
		}
	}
	b.WriteString(".SH REFERENCE\n")
	for _, name := range referencePages {
		fmt.Fprintf(&b, ".TP\n.B %s help %s\n%s\n", root.Name(), manText(name), manText(strings.SplitN(strings.TrimPrefix(referencePage(name), "# "), "\n", 2)[0]))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// manCommand writes one command with its flags.
func manCommand(b *strings.Builder, c *cobra.Command) {
	fmt.Fprintf(b, ".SS %s\n", manText(c.UseLine()))
	text := cmp.Or(c.Long, c.Short)
	manBlock(b, text)
	c.NonInheritedFlags().VisitAll(func(f *pflag.Flag) {
		value, usage := pflag.UnquoteUsage(f)
		name := "\\-\\-" + manText(f.Name)
		if f.Shorthand != "" {
			name = "\\-" + f.Shorthand + ", " + name
		}
		fmt.Fprintf(b, ".TP\n.B %s\n%s\n", strings.TrimSpace(name+" "+manText(value)), manText(usage))
	})
	if c.Example != "" {
		manBlock(b, c.Example)
	}
}

// manBlock writes lines as they stand.
func manBlock(b *strings.Builder, text string) {
	b.WriteString(".nf\n")
	for line := range strings.Lines(text) {
		b.WriteString(manText(strings.TrimSuffix(line, "\n")) + "\n")
	}
	b.WriteString(".fi\n")
}

// manText keeps a text from being taken for a macro.
func manText(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "\n", " ").Replace(text)
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		text = `\&` + text
	}
	return text
}

package command

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/cmd/call"
)

// refuseEmpty refuses flags that are given without a value, as by a variable that nobody set: whoever gives a flag means it.
func refuseEmpty(c *cobra.Command) error {
	var wrong error
	c.Flags().Visit(func(flag *pflag.Flag) {
		empty := flag.Value.Type() == "string" && flag.Value.String() == ""
		if list, ok := flag.Value.(pflag.SliceValue); ok {
			values := list.GetSlice()
			empty = len(values) == 0 || slices.Contains(values, "")
		}
		if empty && wrong == nil {
			name, _ := pflag.UnquoteUsage(flag)
			wrong = call.Usage("--%s is empty: give it a value (%s), or leave it out", flag.Name, name)
		}
	})
	return wrong
}

// flagError says in plain words what is wrong with a flag.
func flagError(err error) string {
	var invalid *pflag.InvalidValueError
	var number *strconv.NumError
	if !errors.As(err, &invalid) || !errors.As(err, &number) {
		return err.Error()
	}
	kinds := map[string]string{"int": "a whole number", "float64": "a number", "bool": "true or false"}
	kind := kinds[invalid.GetFlag().Value.Type()]
	if kind == "" {
		return err.Error()
	}
	return fmt.Sprintf("--%s %q: give %s", invalid.GetFlag().Name, invalid.GetValue(), kind)
}

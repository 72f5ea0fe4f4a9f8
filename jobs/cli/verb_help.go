package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"forkfront/jobs/process"
)

// VerbHelp prints the help of a command or topic. A topic that does not exist is wrong usage.
func VerbHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND | TOPIC]",
		Short: "Print help on a command or topic; `help measures NAME` on one measure",
		RunE: func(c *cobra.Command, args []string) error {
			found, rest, err := c.Root().Find(args)
			if err == nil && found.Name() == topicMeasures && len(rest) == 1 {
				return helpOnMeasure(c.OutOrStdout(), rest[0])
			}
			if err != nil || len(rest) > 0 {
				var names []string
				for _, sub := range c.Root().Commands() {
					names = append(names, sub.Name())
				}
				return process.BadInput(fmt.Errorf("no help on %q; allowed are %s", strings.Join(args, " "), strings.Join(names, ", ")))
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	}
}

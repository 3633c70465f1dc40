package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"plansheaf/design/finding"
)

func rulesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "rules [NAME]", Short: "List the rules, or tell what one says, why, and how to mend it",
		Example: "  plansheaf rules\n  plansheaf rules part-never-used",
		Args:    cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var names []string
			for _, r := range allRules() {
				names = append(names, r.Name)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			rules := allRules()
			slices.SortFunc(rules, func(a, b finding.Rule) int { return strings.Compare(a.Name, b.Name) })
			if len(args) == 0 {
				return listRules(cmd.OutOrStdout(), rules)
			}
			for _, r := range rules {
				if r.Name == args[0] {
					_, err := fmt.Fprintf(cmd.OutOrStdout(), "%s (%s)\n\nWhy it matters: %s\n\nTo mend it: %s.\n", r.Name, r.Severity, r.Reason, r.Remedy)
					return err
				}
			}
			return fmt.Errorf("there is no rule %q; plansheaf rules lists them", args[0])
		},
	}
}

func listRules(w io.Writer, rules []finding.Rule) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range rules {
		fmt.Fprintf(table, "%s\t%s\t%s\n", r.Name, r.Severity, r.Reason)
	}
	return table.Flush()
}

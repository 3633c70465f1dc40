package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"plansheaf/design/quantity"
	"plansheaf/design/ready"
)

func calculationsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "calculations [NAME]",
		Short: "List the ready calculations, or show one with what a plan writes to use it",
		Long: "Calculations lists the ready calculations that a plan may call by from:, subject by\n" +
			"subject. With a NAME it prints that one: what goes in, its formulas, within what it is\n" +
			"valid, where it comes from, and a file to start from.",
		Example: "  plansheaf calculations\n  plansheaf calculations power_screw",
		Args:    cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var names []string
			for _, c := range ready.All() {
				names = append(names, c.Name)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listCalculations(cmd.OutOrStdout(), ready.All())
			}
			c, found := ready.Named(args[0])
			if !found {
				return fmt.Errorf("there is no ready calculation %q; plansheaf calculations lists them", args[0])
			}
			return showCalculation(cmd.OutOrStdout(), c)
		},
	}
}

func listCalculations(w io.Writer, all []*ready.Calc) error {
	slices.SortStableFunc(all, func(a, b *ready.Calc) int { return strings.Compare(a.Subject, b.Subject) })
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	subject := ""
	for _, c := range all {
		if c.Subject != subject {
			if subject != "" {
				fmt.Fprintln(table)
			}
			subject = c.Subject
			fmt.Fprintln(table, subject)
		}
		fmt.Fprintf(table, "  %s\t%s\n", c.Name, c.Title)
	}
	return table.Flush()
}

func showCalculation(w io.Writer, c *ready.Calc) error {
	fmt.Fprintf(w, "%s: %s\n", c.Name, c.Title)
	if c.About != "" {
		fmt.Fprintf(w, "%s\n", c.About)
	}
	fmt.Fprintf(w, "\nGiven:\n")
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, in := range c.Inputs {
		without := ""
		if in.Default != nil {
			without = "; " + in.Default.Source() + " if not given"
		}
		fmt.Fprintf(table, "  %s\t%s\t%s\t%s%s\n", in.Name, in.Symbol, unitText(in.Unit), in.About, without)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "\nFound:\n")
	for _, f := range c.Finds {
		fmt.Fprintf(w, "  %s (%s) %s: %s\n    = %s\n", f.Name, f.Symbol, unitText(f.Unit), f.About, f.Is.Source())
	}
	for _, t := range c.Tables {
		fmt.Fprintf(w, "\nTable %s:\n  %s\n", t.Name, strings.Join(t.Data.Columns, "  "))
		for _, row := range t.Data.Rows {
			fmt.Fprintf(w, "  %s\n", strings.Trim(fmt.Sprint(row), "[]"))
		}
	}
	if len(c.Assumes) > 0 {
		fmt.Fprintf(w, "\nAssumed:\n")
		for _, say := range c.Assumes {
			fmt.Fprintf(w, "  %s\n", say)
		}
	}
	if len(c.Limits) > 0 {
		fmt.Fprintf(w, "\nValid while:\n")
		for _, l := range c.Limits {
			because := ""
			if l.Because != "" {
				because = ": " + l.Because
			}
			fmt.Fprintf(w, "  %s%s\n", l.That.Source(), because)
		}
	}
	_, err := fmt.Fprintf(w, "\nSource: %s\n\nTo use it, in a file of its own under calcs/:\n\n%s", c.Source, startOf(c))
	return err
}

// unitText is a unit as printed, in brackets.
func unitText(unit string) string {
	if unit == "" {
		return "[1]"
	}
	return "[" + quantity.UnitText(unit) + "]"
}

// startOf is a calculation of a plan to start from, what must be given left open.
func startOf(c *ready.Calc) string {
	var b strings.Builder
	fmt.Fprintf(&b, "title: %s\nfrom: %s\ngiven:\n", c.Title, c.Name)
	for _, in := range c.Inputs {
		if in.Default == nil {
			fmt.Fprintf(&b, "  %s: {is: %s}\n", in.Name, strings.TrimSpace("... "+in.Unit))
		}
	}
	last := c.Finds[len(c.Finds)-1]
	fmt.Fprintf(&b, "require:\n  - {that: %s %s}\n", last.Name, strings.TrimSpace("<= ... "+last.Unit))
	return b.String()
}

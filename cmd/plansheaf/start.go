package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"plansheaf/design/starter"
)

func startCommand() *cobra.Command {
	return &cobra.Command{
		Use: "start DIR", Short: "Begin a new plan that passes its own check",
		Long: "Start writes a small plan to the new or empty folder DIR: a stand of two posts on a board,\n" +
			"with a joint, steps, a calculation, a hazard and a page, to change into your own.",
		Example: "  plansheaf start my-press\n  plansheaf check my-press",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			files, err := starter.Write(args[0])
			if err != nil {
				return err
			}
			for _, f := range files {
				fmt.Fprintln(cmd.OutOrStdout(), "wrote", f)
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "next: plansheaf check %s\n", args[0])
			return err
		},
	}
}

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"plansheaf/design/source"
)

func schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema KIND",
		Short: "Print the JSON Schema of a kind of plan file",
		Long: "Schema prints the JSON Schema (draft 2020-12) by which an editor completes and checks a\n" +
			"plan's files. The kinds are: " + strings.Join(source.Kinds(), ", ") + ".",
		Example:   "  plansheaf schema parts > parts.schema.json",
		Args:      cobra.ExactArgs(1),
		ValidArgs: source.Kinds(),
		RunE: func(cmd *cobra.Command, args []string) error {
			schema, err := source.Schema(args[0])
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s\n", strings.TrimSpace(string(schema)))
			return err
		},
	}
}

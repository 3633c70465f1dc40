package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"plansheaf/design/source"
	"plansheaf/publish/changes"
)

// comparisonKind is what compare and review write as JSON.
const comparisonKind = "comparison"

func schemaCommand() *cobra.Command {
	kinds := append(source.Kinds(), comparisonKind)
	return &cobra.Command{
		Use:   "schema KIND",
		Short: "Print the JSON Schema of a kind of plan file",
		Long: "Schema prints the JSON Schema (draft 2020-12) by which an editor completes and checks a\n" +
			"plan's files. The kinds are: " + strings.Join(source.Kinds(), ", ") + ";\n" +
			"and " + comparisonKind + ", what compare writes with --form json.",
		Example:   "  plansheaf schema parts > parts.schema.json",
		Args:      cobra.ExactArgs(1),
		ValidArgs: kinds,
		RunE: func(cmd *cobra.Command, args []string) error {
			schema, err := schemaOf(args[0])
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s\n", strings.TrimSpace(string(schema)))
			return err
		},
	}
}

func schemaOf(kind string) ([]byte, error) {
	if kind == comparisonKind {
		return changes.Schema()
	}
	return source.Schema(kind)
}

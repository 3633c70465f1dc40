package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/publish"
	"plansheaf/publish/data"
)

func checkCommand() *cobra.Command {
	form := "text"
	var keep keeping
	cmd := &cobra.Command{
		Use: "check [PLAN]", Short: "Check a plan and say what does not hold",
		Long: "Check reads the plan directory PLAN (the current one when none is given), works it out\n" +
			"for every choice and both ends of every range, and writes what it finds.\n\n" + keepingHelp,
		Example: "  plansheaf check\n  plansheaf check my-press --form sarif > findings.sarif",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			say, done := progress()
			k := keep.open(planDir(args), cmd.ErrOrStderr())
			l, err := load(planDir(args), k, say)
			done()
			if err != nil {
				return err
			}
			defer l.root.Close()
			k.aged(l, false)
			defer k.save()
			if err := writeFindings(cmd, l, form); err != nil {
				return err
			}
			if l.errors() {
				return errFindings
			}
			return nil
		},
	}
	keep.flags(cmd)
	cmd.Flags().StringVar(&form, "form", form, "how to write the findings: text, json or sarif")
	cmd.RegisterFlagCompletionFunc("form", cobra.FixedCompletions([]string{"text", "json", "sarif"}, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// planDir is the plan that a command was given, or the current directory.
func planDir(args []string) string {
	if len(args) == 0 {
		return "."
	}
	return args[0]
}

func writeFindings(cmd *cobra.Command, l *loaded, form string) error {
	var out []byte
	var err error
	switch form {
	case "text":
		return l.write(cmd.OutOrStdout())
	case "json":
		out, err = data.FindingsJSON(l.findings)
	case "sarif":
		out, err = data.SARIF(l.findings, allRules(), version())
	default:
		return fmt.Errorf("there is no form %q: text, json or sarif", form)
	}
	if err != nil {
		return fmt.Errorf("write findings: %w", err)
	}
	_, err = cmd.OutOrStdout().Write(out)
	return err
}

// allRules are the rules of reading, checking and publishing.
func allRules() []finding.Rule {
	return slices.Concat(source.Rules(), check.Texts(), publish.Rules())
}

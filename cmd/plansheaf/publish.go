package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish"
	"plansheaf/publish/release"
)

// outDir is where a publication goes when no folder is given.
const outDir = "published"

func publishCommand() *cobra.Command {
	out, draft := outDir, false
	choose := map[string]string{}
	cmd := &cobra.Command{
		Use: "publish [PLAN]", Short: "Check a plan and publish it: site, binder, drawings, lists",
		Long: "Publish checks the plan directory PLAN (the current one when none is given) and, when it has\n" +
			"no errors, writes the publication: a site that opens from its folder, a binder to print,\n" +
			"drawings, lists and data. It is written beside an earlier publication and then takes its\n" +
			"place. A plan with errors is published only with --draft, and marked DRAFT throughout.",
		Example: "  plansheaf publish my-press\n  plansheaf publish my-press --out /srv/press --draft\n  plansheaf publish my-press --choose drive=crank",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return publishPlan(cmd, planDir(args), out, choose, draft)
		},
	}
	cmd.Flags().StringVar(&out, "out", out, "the folder to publish to")
	cmd.Flags().StringToStringVar(&choose, "choose", choose, "choices that the binder and the lists are for, as choice=option")
	cmd.Flags().BoolVar(&draft, "draft", draft, "publish despite errors, marked DRAFT")
	cmd.MarkFlagDirname("out")
	return cmd
}

func publishPlan(cmd *cobra.Command, dir, out string, choose plan.Selection, draft bool) error {
	say, done := progress()
	defer done()
	l, err := load(dir, say)
	if err != nil {
		return err
	}
	defer l.root.Close()
	if l.errors() && !draft {
		done()
		return refuse(cmd, l)
	}
	if l.work.Choosing(choose) == nil {
		return fmt.Errorf("publish for %v: the plan has no such choice or option", choose)
	}
	made, err := publish.Make(l.work, l.findings, publish.Options{
		Draft: draft, Choose: choose, Rules: allRules(), Version: version(), Say: say,
	})
	if err != nil {
		return err
	}
	l.findings = append(l.findings, made.Problems...)
	finding.Sort(l.findings)
	if l.errors() && !draft {
		done()
		return refuse(cmd, l)
	}
	say("writing")
	if err := release.Write(out, made.Files); err != nil {
		return err
	}
	done()
	if len(l.findings) > 0 {
		if err := l.write(cmd.ErrOrStderr()); err != nil {
			return err
		}
	}
	report(cmd, l.work, out, made)
	return nil
}

// refuse writes the findings of a plan that is not published.
func refuse(cmd *cobra.Command, l *loaded) error {
	if err := l.write(cmd.ErrOrStderr()); err != nil {
		return err
	}
	fmt.Fprintln(cmd.ErrOrStderr(), "not published: mend the errors, or publish a draft with --draft")
	return errFindings
}

// report says what was made and where.
func report(cmd *cobra.Command, w *check.Work, out string, made *publish.Publication) {
	var bytes int64
	for _, f := range made.Files {
		bytes += int64(len(f.Data))
	}
	o := cmd.OutOrStdout()
	fmt.Fprintf(o, "%s, revision %s: %d files, %.1f MB\n", w.Plan.Title.Value, w.Plan.Revision.Text, len(made.Files)+1, float64(bytes)/1e6)
	fmt.Fprintf(o, "  site    %s\n", filepath.Join(out, "index.html"))
	fmt.Fprintf(o, "  binder  %s\n", filepath.Join(out, filepath.FromSlash(publish.BinderPath)))
	fmt.Fprintf(o, "  lists   %s\n", filepath.Join(out, "lists"))
	fmt.Fprintf(o, "  data    %s\n", filepath.Join(out, "data"))
}

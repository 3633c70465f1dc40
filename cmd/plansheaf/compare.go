package main

import (
	"errors"
	"fmt"
	"io/fs"

	"github.com/spf13/cobra"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/source"
	"plansheaf/design/source/revision"
	"plansheaf/publish/changes"
)

// The ends of a comparison; what differs was already written.
var (
	errChanged = errors.New("the plan changed")
	errWorse   = errors.New("the plan changed for the worse")
)

// comparisonStatus is told by compare's help, review's and the README's.
const comparisonStatus = "Exit status: 0 nothing changed; 1 changed; 3 changed for the worse: a new error, a hazard added\n" +
	"or graded worse or with a measure less, a requirement or claim that held and does not any more,\n" +
	"or one that lost more than a tenth of what it had to spare; 2 could not run."

// operands tells what compare and review take.
const operands = "OLD and NEW are each a directory, a release archive, or a revision of the git repository that\n" +
	"the plan lies in: a branch, a tag, a commit (REV, or REV:path where the plan lay elsewhere). The\n" +
	"repository is the one around the other directory, or the current one; nothing is checked out,\n" +
	"fetched or run."

// A comparing is what compare was asked for.
type comparing struct {
	form   string
	done   []string
	choose map[string]string
	beside string
}

func compareCommand() *cobra.Command {
	c := comparing{form: "text", choose: map[string]string{}}
	cmd := &cobra.Command{
		Use: "compare OLD NEW", Short: "Say what differs between two revisions of a plan, and what follows",
		Long: "Compare works out two revisions of a plan and says what a reviewer wants to know: what of the\n" +
			"design was added, removed, renamed and changed, with old and new values; what that does to\n" +
			"counts, cost, mass, cut plans, tools and margins; findings new and gone; and what deserves a\n" +
			"look first. Only meaning counts: other words for the same value, another order of parts in a\n" +
			"file, blanks and comments are nothing.\n\n" + operands + "\n\n" +
			"With --done STEP it tells a builder who has done the old revision up to that step what to\n" +
			"undo, buy, cut, drill and do again, in the order of the new steps, and what may stay. The form\n" +
			"notes drafts an entry for the plan's history.\n\n" + comparisonStatus,
		Example: "  plansheaf compare main .\n  plansheaf compare press-B.zip my-press --form html > changes.html\n  plansheaf compare B C --done frame.square_up --choose drive=crank",
		Args:    cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.run(cmd, args[0], args[1])
		},
	}
	forms := []string{"text", "markdown", "html", "json", "notes"}
	cmd.Flags().StringVar(&c.form, "form", c.form, "how to write it: text, markdown, html, json or notes")
	cmd.Flags().StringArrayVar(&c.done, "done", nil, "the last step done of the old revision, as assembly.step; may be given several times")
	cmd.Flags().StringToStringVar(&c.choose, "choose", c.choose, "with --done: the builder's choices, as choice=option")
	cmd.Flags().StringVar(&c.beside, "repo", "", "a directory in the git repository, where neither OLD nor NEW is one")
	cmd.RegisterFlagCompletionFunc("form", cobra.FixedCompletions(forms, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func (c comparing) run(cmd *cobra.Command, old, new string) error {
	say, done := progress()
	was, is, err := openBoth(old, new, c.beside, say)
	if err != nil {
		return err
	}
	defer was.Close()
	defer is.Close()
	say("comparing")
	report := changes.Report{Comparison: change.Between(was.revision(), is.revision())}
	if len(c.done) > 0 {
		report.Midway, err = change.Midway(was.revision(), is.revision(), c.done, plan.Selection(c.choose))
		if err != nil {
			return err
		}
	}
	done()
	out, err := c.write(report, was.work, is.work)
	if err != nil {
		return err
	}
	if _, err := cmd.OutOrStdout().Write(out); err != nil {
		return err
	}
	return judged(report.Comparison)
}

func (c comparing) write(r changes.Report, old, new *check.Work) ([]byte, error) {
	switch c.form {
	case "text":
		return r.Text(), nil
	case "markdown":
		return r.Markdown(), nil
	case "json":
		return r.JSON()
	case "notes":
		return r.Notes(), nil
	case "html":
		pictures, err := changes.Pictures(r.Comparison, old, new)
		if err != nil {
			return nil, err
		}
		return r.HTML(pictures)
	}
	return nil, fmt.Errorf("there is no form %q: text, markdown, html, json or notes", c.form)
}

// judged is how a comparison ends.
func judged(c *change.Comparison) error {
	switch {
	case len(c.Worse) > 0:
		return errWorse
	case !c.Empty():
		return errChanged
	}
	return nil
}

// A readRevision is a revision opened, read, worked out and checked.
type readRevision struct {
	*revision.Opened
	work     *check.Work
	findings []finding.Finding
}

func (r *readRevision) revision() change.Revision {
	return change.Revision{Work: r.work, Findings: r.findings}
}

// text answers for the lines that findings quote.
func (r *readRevision) text(file string) ([]byte, bool) {
	data, err := fs.ReadFile(r.FS, file)
	return data, err == nil
}

// openBoth opens and reads both sides of a comparison; the repository of the one that is
// no directory is that around the other one, unless beside says where.
func openBoth(old, new, beside string, say func(string)) (was, is *readRevision, err error) {
	one, err := openBeside(old, new, beside)
	if err != nil {
		return nil, nil, err
	}
	other, err := openBeside(new, old, beside)
	if err != nil {
		one.Close()
		return nil, nil, err
	}
	if was, err = readOne(one, say); err == nil {
		is, err = readOne(other, say)
	}
	if err != nil {
		one.Close()
		other.Close()
		return nil, nil, err
	}
	return was, is, nil
}

// openBeside opens a revision; the other operand says which repository is meant where
// that is a directory.
func openBeside(where, other, beside string) (*revision.Opened, error) {
	if beside == "" && isDirectory(other) {
		beside = other
	}
	return revision.Open(where, beside)
}

func readOne(o *revision.Opened, say func(string)) (*readRevision, error) {
	say("reading " + o.Name)
	p, read, err := source.Read(o.FS, source.DefaultLimits())
	if err != nil {
		return nil, fmt.Errorf("read plan %q: %w", o.Name, err)
	}
	say("working out and checking " + o.Name)
	work := check.Out(p)
	return &readRevision{Opened: o, work: work, findings: check.Run(work, read)}, nil
}

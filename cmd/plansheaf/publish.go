package main

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/publish"
	"plansheaf/publish/release"
)

// outDir is where a publication goes when no folder is given.
const outDir = "published"

// everyChoice asks for all combinations of choices.
const everyChoice = "every"

// A publishing is what the publish command was asked for.
type publishing struct {
	plan, out      string
	since          string
	choose         []string
	draft, release bool
	keep           keeping
}

func publishCommand() *cobra.Command {
	p := publishing{out: outDir}
	cmd := &cobra.Command{
		Use: "publish [PLAN]", Short: "Check a plan and publish it: site, binder, drawings, lists",
		Long: "Publish checks the plan directory PLAN (the current one when none is given) and, when it has\n" +
			"no errors, writes the publication: a site that opens from its folder, a binder to print,\n" +
			"drawings, lists and data. It is written beside an earlier publication and then takes its\n" +
			"place. A plan with errors is published only with --draft, and marked DRAFT throughout.\n\n" +
			"Each --choose asks for a binder and lists for one combination of choices; those that it does\n" +
			"not name are the plan's own. The first stands at the usual paths, each other one in a folder\n" +
			"under choices/. --choose every asks for all combinations.\n\n" +
			"With --since OLD the page of changes also tells what differs from that earlier revision (a\n" +
			"directory, a release archive, or a branch, tag or commit of the plan's git repository), and a\n" +
			"builder who is in the middle of it what to undo, buy, cut, drill and do again. A release holds\n" +
			"that revision's source too.\n\n" +
			"With --release the publication is one to pass on: it holds the texts of its licences, the\n" +
			"plan's own source, a manifest for programs and one archive of it all. The same source and\n" +
			"program give the same bytes on any machine at any time: plansheaf verify says whether they do.\n\n" +
			keepingHelp + " A\nrelease rests on nothing kept: it is always worked out anew.",
		Example: "  plansheaf publish my-press\n  plansheaf publish my-press --out /srv/press --draft\n" +
			"  plansheaf publish my-press --choose drive=crank,tile=small\n  plansheaf publish my-press --release --choose every",
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p.plan = planDir(args)
			return p.run(cmd)
		},
	}
	cmd.Flags().StringVar(&p.out, "out", p.out, "the folder to publish to")
	cmd.Flags().StringArrayVar(&p.choose, "choose", nil, "choices that a binder and lists are for, as choice=option,...; again for another combination; every for all")
	cmd.Flags().BoolVar(&p.draft, "draft", false, "publish despite errors, marked DRAFT")
	cmd.Flags().StringVar(&p.since, "since", "", "an earlier revision that the page of changes compares with")
	cmd.Flags().BoolVar(&p.release, "release", false, "add licence texts, source, manifest and archive")
	cmd.MarkFlagsMutuallyExclusive("draft", "release")
	p.keep.flags(cmd)
	cmd.MarkFlagsMutuallyExclusive("cache", "release")
	cmd.MarkFlagDirname("out")
	return cmd
}

// earlier is the earlier revision asked for; nil for none.
func (p publishing) earlier(say func(string)) (*publish.Revision, error) {
	if p.since == "" {
		return nil, nil
	}
	o, err := openBeside(p.since, p.plan, "")
	if err != nil {
		return nil, err
	}
	defer o.Close()
	say("reading " + o.Name)
	read, err := publish.Read(o.FS)
	if err != nil {
		return nil, fmt.Errorf("read plan %q: %w", o.Name, err)
	}
	return read, nil
}

func (p publishing) run(cmd *cobra.Command) (err error) {
	// Whether it can be published there is found out before the work, not after.
	place, err := release.Claim(p.out)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, place.Close()) }()
	say, done := progress()
	defer done()
	p.keep.none = p.keep.none || p.release
	k := p.keep.open(p.plan, cmd.ErrOrStderr())
	l, err := loadWhole(p.plan, k, p.release, say)
	if err != nil {
		return err
	}
	defer l.root.Close()
	defer k.save()
	if l.errors() && !p.draft {
		k.aged(l, false)
		done()
		return p.refuse(cmd, l)
	}
	choose, err := selections(l.work, p.choose)
	if err != nil {
		return err
	}
	since, err := p.earlier(say)
	if err != nil {
		return err
	}
	made, err := publish.Make(l.work, l.findings, publish.Options{
		Since: since,
		Draft: p.draft, Choose: choose, Source: l.source, Rules: allRules(), Version: version(), Built: runtime.Version(), Say: say,
	})
	if err != nil {
		return err
	}
	k.aged(l, true)
	l.findings = append(l.findings, made.Problems...)
	finding.Sort(l.findings)
	if l.errors() && !p.draft {
		done()
		return p.refuse(cmd, l)
	}
	say("writing")
	if err := place.Write(made.Files); err != nil {
		return err
	}
	done()
	if len(l.findings) > 0 {
		if err := l.write(cmd.ErrOrStderr()); err != nil {
			return err
		}
	}
	p.report(cmd, l.work, made)
	return nil
}

// selections are the combinations of choices that were asked for.
func selections(w *check.Work, asked []string) ([]plan.Selection, error) {
	var list []plan.Selection
	for _, text := range asked {
		if text == everyChoice {
			for _, s := range w.Combinations() {
				list = append(list, maps.Clone(s.Case.Options))
			}
			continue
		}
		one := plan.Selection{}
		for _, pair := range strings.Split(text, ",") {
			choice, option, found := strings.Cut(pair, "=")
			if _, twice := one[choice]; !found || twice {
				return nil, fmt.Errorf("--choose %q: write choice=option, each choice once, with a comma between two", text)
			}
			one[choice] = option
		}
		if w.Choosing(one) == nil {
			return nil, fmt.Errorf("publish for %q: the plan has no such choice or option", text)
		}
		list = append(list, one)
	}
	return list, nil
}

// refuse writes the findings of a plan that is not published.
func (p publishing) refuse(cmd *cobra.Command, l *loaded) error {
	if err := l.write(cmd.ErrOrStderr()); err != nil {
		return err
	}
	if p.release {
		fmt.Fprintln(cmd.ErrOrStderr(), "not released: mend the errors first")
	} else {
		fmt.Fprintln(cmd.ErrOrStderr(), "not published: mend the errors, or publish a draft with --draft")
	}
	return errFindings
}

// report says what was made and where.
func (p publishing) report(cmd *cobra.Command, w *check.Work, made *publish.Publication) {
	var bytes int64
	for _, f := range made.Files {
		bytes += int64(len(f.Data))
	}
	o := cmd.OutOrStdout()
	at := func(name string) string { return filepath.Join(p.out, filepath.FromSlash(name)) }
	fmt.Fprintf(o, "%s, revision %s: %d files, %.1f MB\n", w.Plan.Title.Value, w.Plan.Revision.Text, len(made.Files)+1, float64(bytes)/1e6)
	fmt.Fprintf(o, "  site    %s\n", at("index.html"))
	for _, binder := range made.Binders {
		fmt.Fprintf(o, "  binder  %s\n", at(binder))
	}
	fmt.Fprintf(o, "  lists   %s\n", at("lists"))
	fmt.Fprintf(o, "  data    %s\n", at("data"))
	if made.Archive != "" {
		fmt.Fprintf(o, "  archive %s\n", at(made.Archive))
	}
}

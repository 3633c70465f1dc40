package main

import (
	"bytes"
	"fmt"
	"os"
	"path"
	"runtime/metrics"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"plansheaf/design/change"
	"plansheaf/design/finding"
	"plansheaf/publish/changes"
	"plansheaf/publish/data"
	"plansheaf/publish/picture"
	"plansheaf/publish/release"
)

// The files of a review.
const (
	reviewSummary  = "summary.md"
	reviewSARIF    = "findings.sarif"
	reviewPage     = "changes.html"
	reviewData     = "changes.json"
	reviewPictures = "pictures"
)

// A reviewing is what review was asked for.
type reviewing struct {
	out, beside string
	time        time.Duration
	memory      int // MB
}

func reviewCommand() *cobra.Command {
	r := reviewing{time: 10 * time.Minute, memory: 4096}
	cmd := &cobra.Command{
		Use: "review OLD NEW --out DIR", Short: "Check and compare two revisions for a review, into one folder",
		Long: "Review is what automation runs on a proposed change: it checks both revisions, compares them and\n" +
			"writes to the folder DIR\n\n" +
			"  " + reviewSummary + "      for a comment: short first, the rest folded\n" +
			"  " + reviewSARIF + "  the findings of NEW, for review tools\n" +
			"  " + reviewPage + "    the whole comparison on one page, with pictures\n" +
			"  " + reviewData + "    the same for programs\n" +
			"  " + reviewPictures + "/        changed parts and assemblies, old and new laid over each other, as SVG\n\n" +
			operands + "\n\n" +
			"NEW may come from a stranger: nothing of it is run, nothing outside of it is read, nothing is\n" +
			"written but DIR, no network is used, and time and memory are bounded (--time, --memory).\n\n" +
			comparisonStatus + "\nErrors that OLD had already count too: with any error in NEW the status is 3.",
		Example: "  plansheaf review main . --out review\n  plansheaf review origin/main HEAD --out review",
		Args:    cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return r.run(cmd, args[0], args[1])
		},
	}
	cmd.Flags().StringVar(&r.out, "out", "", "the folder to write to")
	cmd.Flags().StringVar(&r.beside, "repo", "", "a directory in the git repository, where neither OLD nor NEW is one")
	cmd.Flags().DurationVar(&r.time, "time", r.time, "how long it may take")
	cmd.Flags().IntVar(&r.memory, "memory", r.memory, "how many megabytes of memory it may take")
	cmd.MarkFlagRequired("out")
	cmd.MarkFlagDirname("out")
	return cmd
}

// A review is what was made.
type review struct {
	files      []release.File
	comparison *change.Comparison
	counts     finding.Counts
	err        error
}

func (r reviewing) run(cmd *cobra.Command, old, new string) error {
	say, done := progress()
	defer done()
	made := make(chan review, 1)
	go func() { made <- r.review(old, new, say) }()
	var got review
	select {
	case got = <-made:
	// An error ends the program, and the work with it.
	case <-time.After(r.time):
		return fmt.Errorf("the review has taken longer than %s and was ended", r.time)
	case err := <-r.beyond():
		return err
	}
	if got.err != nil {
		return got.err
	}
	if err := release.Write(r.out, got.files); err != nil {
		return err
	}
	done()
	c := got.comparison
	fmt.Fprintf(cmd.OutOrStdout(), "%s, revision %s → %s: %s in NEW\n", c.New.Title, c.Old.Revision, c.New.Revision, summary(got.counts))
	for _, why := range c.Worse {
		fmt.Fprintf(cmd.OutOrStdout(), "  %s\n", finding.Visible(why))
	}
	fmt.Fprintf(cmd.OutOrStdout(), "  written to %s\n", r.out)
	if got.counts.Errors > 0 {
		return errWorse
	}
	return judged(c)
}

// beyond tells when the review takes more memory than it may.
func (r reviewing) beyond() <-chan error {
	out := make(chan error, 1)
	go func() {
		sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		for {
			time.Sleep(100 * time.Millisecond)
			metrics.Read(sample)
			if sample[0].Value.Uint64() > uint64(r.memory)<<20 {
				out <- fmt.Errorf("the review has taken more than %d MB of memory and was ended", r.memory)
				return
			}
		}
	}()
	return out
}

// review makes the files; it writes none.
func (r reviewing) review(old, new string, say func(string)) review {
	fail := func(err error) review { return review{err: err} }
	was, is, err := openBoth(old, new, r.beside, say)
	if err != nil {
		return fail(err)
	}
	defer was.Close()
	defer is.Close()
	say("comparing")
	out := review{comparison: change.Between(was.revision(), is.revision()), counts: finding.Count(is.findings)}
	report := changes.Report{Comparison: out.comparison}
	say("drawing")
	pictures, err := changes.Pictures(out.comparison, was.work, is.work)
	if err != nil {
		return fail(err)
	}
	page, err := report.HTML(pictures)
	if err != nil {
		return fail(err)
	}
	asData, err := report.JSON()
	if err != nil {
		return fail(err)
	}
	sarif, err := data.SARIF(is.findings, allRules(), version())
	if err != nil {
		return fail(err)
	}
	out.files = []release.File{
		{Path: reviewSummary, Data: r.summary(report, is, out.counts, pictures)},
		{Path: reviewSARIF, Data: sarif},
		{Path: reviewPage, Data: page},
		{Path: reviewData, Data: asData},
	}
	for _, d := range slices.Concat(pictures.Assemblies, pictures.Parts) {
		svg, err := picture.SVG(d.Lone())
		if err != nil {
			return fail(fmt.Errorf("write the picture of %q: %w", d.ID, err))
		}
		out.files = append(out.files, release.File{Path: path.Join(reviewPictures, path.Base(d.Picture.Name)+".svg"), Data: svg})
	}
	return out
}

// summary is the comparison as Markdown, with what checking NEW found and what was drawn
// above it.
func (r reviewing) summary(report changes.Report, is *readRevision, n finding.Counts, drawn *changes.Drawings) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "Checked: %s.\n\n", summary(n))
	if n := len(drawn.Assemblies) + len(drawn.Parts); n > 0 {
		fmt.Fprintf(&b, "Pictures of what looks otherwise: %d, in `%s/`.\n\n", n, reviewPictures)
	}
	for _, left := range drawn.Left {
		fmt.Fprintf(&b, "Not drawn: %s\n\n", left)
	}
	b.Write(report.Markdown())
	return b.Bytes()
}

// isDirectory reports whether a path is that of a directory.
func isDirectory(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

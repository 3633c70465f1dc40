package main

import (
	"errors"
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"

	"plansheaf/design/finding"
	"plansheaf/publish"
	"plansheaf/publish/release"
)

// errDiffers ends a command that has said what differs.
var errDiffers = fmt.Errorf("%w: the release is not as it should be", errFindings)

func verifyCommand() *cobra.Command {
	return &cobra.Command{
		Use: "verify RELEASE", Short: "Check that a release is whole and is what its source gives",
		Long: "Verify looks into RELEASE, an archive or a folder that publish wrote. It compares every file\n" +
			"with the list in it and names what is missing, added or changed; then it compiles the source in\n" +
			"the release again, all of it anew, and names what does not come out byte for byte. Nothing is\n" +
			"unpacked or written.\n\n" +
			"Exit status: 0 whole and as its source gives it, 1 it differs, 2 could not run.",
		Example: "  plansheaf verify press-C.zip\n  plansheaf verify published",
		Args:    cobra.ExactArgs(1),
		RunE:    func(cmd *cobra.Command, args []string) error { return verify(cmd, args[0]) },
	}
}

func verify(cmd *cobra.Command, name string) (err error) {
	c, err := release.Open(name, release.DefaultLimits())
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, c.Close()) }()
	faults, err := c.Check()
	if err != nil {
		return fmt.Errorf("verify %q: %w", name, err)
	}
	out := cmd.OutOrStdout()
	writeFaults(out, faults)
	if len(c.Faults) > 0 {
		fmt.Fprintln(out, "its source was not compiled: it holds what no release may hold")
		return errDiffers
	}
	say, done := progress()
	again, err := publish.Again(c, publish.Options{Rules: allRules(), Version: version(), Built: runtime.Version(), Say: say})
	done()
	if err != nil {
		return fmt.Errorf("verify %q: %w", name, err)
	}
	if err := writeAgain(out, again); err != nil {
		return err
	}
	differs := len(faults) > 0 || len(again.Findings) > 0 || len(again.Faults) > 0
	if differs {
		return errDiffers
	}
	fmt.Fprintf(out, "whole: %d files\n", len(c.Paths()))
	return nil
}

// writeFaults writes a line for each fault.
func writeFaults(w io.Writer, faults []release.Fault) {
	for _, f := range faults {
		fmt.Fprintf(w, "%-8s %s", f.Kind, shown(f.Path))
		if f.Says != "" {
			fmt.Fprintf(w, ": %s", f.Says)
		}
		fmt.Fprintln(w)
	}
}

// shown is a path as it may be shown on a terminal: quoted where it holds anything
// that a terminal could take for an order.
func shown(path string) string {
	const most = 300
	if len(path) > most {
		path = path[:most] + "..."
	}
	if q := fmt.Sprintf("%q", path); q != `"`+path+`"` {
		return q
	}
	return path
}

// writeAgain says how the release compares with what its source gives.
func writeAgain(w io.Writer, again *publish.Comparison) error {
	m := again.Manifest
	if m == nil {
		fmt.Fprintln(w, "it holds no source and no manifest, so only its list was checked: publish --release adds them")
		return nil
	}
	fmt.Fprintf(w, "%s, revision %s\n", shown(m.Title), shown(m.Revision))
	if m.Program.Version != version() || m.Program.Built != runtime.Version() {
		fmt.Fprintf(w, "made by %s %s (%s); this is %s (%s), which may give other bytes\n",
			shown(m.Program.Name), shown(m.Program.Version), shown(m.Program.Built), version(), runtime.Version())
	}
	if len(again.Findings) > 0 {
		fmt.Fprintln(w, "its source has errors, so this program does not release it:")
		return finding.Write(w, again.Findings, func(string) ([]byte, bool) { return nil, false }, coloured(w))
	}
	writeFaults(w, again.Faults)
	return nil
}

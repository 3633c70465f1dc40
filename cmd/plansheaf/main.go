// Command plansheaf reads a build plan, checks it, and publishes it as a site, a
// binder and data.
package main

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// The exit statuses.
const (
	statusClean    = 0
	statusFindings = 1 // findings of error severity
	statusFailed   = 2 // could not run
	statusChanged  = 1 // of a comparison
	statusWorse    = 3 // of a comparison
)

// errFindings ends a command whose findings were already written.
var errFindings = errors.New("the plan has errors")

func main() { os.Exit(run()) }

// run is main without the exit, so that tests can call it in their own process.
func run() int {
	root := rootCommand()
	err := root.Execute()
	switch {
	case err == nil:
		return statusClean
	case errors.Is(err, errFindings):
		return statusFindings
	case errors.Is(err, errChanged):
		return statusChanged
	case errors.Is(err, errWorse):
		return statusWorse
	}
	fmt.Fprintf(os.Stderr, "plansheaf: %v\n", err)
	return statusFailed
}

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "plansheaf",
		Short: "Compile build plans: read, work out, check, publish",
		Long: "plansheaf compiles a build plan: it reads a plan directory, works out sizes, counts,\n" +
			"masses, costs and calculations, checks that all of it agrees, and publishes a site,\n" +
			"a binder to print, drawings and lists.\n\n" +
			"Exit status: 0 clean, 1 findings of error severity, 2 could not run. Of compare and review:\n" +
			"0 nothing changed, 1 changed, 2 could not run, 3 changed for the worse.",
		Example:       "  plansheaf check my-press\n  plansheaf publish my-press --out published",
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.AddCommand(checkCommand(), publishCommand(), verifyCommand(), recordCommand(), compareCommand(), reviewCommand(), previewCommand(), startCommand(), rulesCommand(), schemaCommand(), calculationsCommand(), versionCommand())
	return root
}

// version is the program's version: that of the module it was built from, or of the
// commit.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			return "commit " + s.Value[:12]
		}
	}
	return "development"
}

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "Print the program's version", Args: cobra.NoArgs,
		Example: "  plansheaf version",
		Run: func(cmd *cobra.Command, _ []string) {
			fmt.Fprintln(cmd.OutOrStdout(), "plansheaf", version())
		},
	}
}

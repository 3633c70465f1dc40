package main

import (
	"context"
	"fmt"
	"net"
	"os/signal"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"plansheaf/design/finding"
	"plansheaf/publish"
	"plansheaf/publish/preview"
)

func previewCommand() *cobra.Command {
	port := 7461
	var keep keeping
	cmd := &cobra.Command{
		Use: "preview [PLAN]", Short: "Show the site of a plan while it is being written",
		Long: "Preview serves the site of the plan directory PLAN (the current one when none is given) to this\n" +
			"machine alone. It watches the plan, publishes it again in memory after each change, shows the\n" +
			"page anew where its reader was, and lists the findings in the page. Nothing is published. Ctrl-C\n" +
			"ends it.\n\n" + keepingHelp,
		Example: "  plansheaf preview my-press\n  plansheaf preview my-press --port 8000",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), syscall.SIGINT, syscall.SIGTERM)
			defer stop()
			k := keep.open(planDir(args), cmd.ErrOrStderr())
			defer k.save()
			return previewPlan(ctx, cmd, planDir(args), k, port)
		},
	}
	keep.flags(cmd)
	cmd.Flags().IntVar(&port, "port", port, "the port to listen on; 0: any that is free")
	return cmd
}

func previewPlan(ctx context.Context, cmd *cobra.Command, dir string, k *kept, port int) error {
	changes, err := preview.Watch(ctx, dir)
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", fmt.Sprint(port)))
	if err != nil {
		return fmt.Errorf("listen for the preview, perhaps with another --port: %w", err)
	}
	s := preview.New(func() preview.Built { return previewed(dir, k) })
	first := true
	s.Built = func(b preview.Built, took time.Duration) {
		said := summary(finding.Count(b.Findings))
		if b.Err != nil {
			said = "not built: " + b.Err.Error()
		}
		fmt.Fprintf(cmd.ErrOrStderr(), "%.1f s, %s\n", took.Seconds(), said)
		if first && b.Err == nil { // it took the longest; the rest is saved at the end
			first = false
			k.save()
		}
	}
	fmt.Fprintf(cmd.OutOrStdout(), "preview of %s at http://%s/\n", dir, l.Addr())
	return s.Serve(ctx, l, changes)
}

// previewed publishes a plan in memory, errors or not.
func previewed(dir string, k *kept) preview.Built {
	l, err := load(dir, k, func(string) {})
	if err != nil {
		return preview.Built{Err: err}
	}
	defer l.root.Close()
	made, err := publish.Make(l.work, l.findings, publish.Options{Draft: true, Rules: allRules(), Version: version()})
	if err != nil {
		return preview.Built{Findings: l.findings, Err: err}
	}
	k.aged(l, true)
	l.findings = append(l.findings, made.Problems...)
	finding.Sort(l.findings)
	return preview.Built{Files: made.Files, Findings: l.findings}
}

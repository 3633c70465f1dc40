package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"plansheaf/design/record"
)

func recordCommand() *cobra.Command {
	write := false
	cmd := &cobra.Command{
		Use: "record [PLAN] [NAME]...", Short: "Bring the recorded results of a plan up to date",
		Long: "Record works the plan directory PLAN out (the current one when none is given) and shows what\n" +
			"would bring its records up to date: results of calculations with what they were made from,\n" +
			"and screws that fits chose. With --write it writes that, and nothing else: comments, order\n" +
			"and layout of the files stay. NAME is a calculation, one of its results or a joint; without\n" +
			"a name all records are looked at. A result that is named and has no record yet gets one.",
		Example: "  plansheaf record my-press\n  plansheaf record my-press press_force.force --write\n  plansheaf record press.guard_to_post",
		RunE: func(cmd *cobra.Command, args []string) error {
			dir, names := planAndNames(args)
			say, done := progress()
			l, err := load(dir, &kept{}, say)
			done()
			if err != nil {
				return err
			}
			defer l.root.Close()
			read := func(file string) ([]byte, error) { return fs.ReadFile(l.root.FS(), file) }
			edits, refused, err := record.Edits(l.work, read, names)
			if err != nil {
				return err
			}
			if len(edits) > 0 || len(refused) == 0 {
				if err := settleRecords(cmd.OutOrStdout(), l.root, edits, write); err != nil {
					return err
				}
			}
			for _, r := range refused {
				fmt.Fprintf(cmd.ErrOrStderr(), "%s is not recorded: %s\n", r.Name, r.Why)
			}
			if len(refused) > 0 {
				return errFindings
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&write, "write", false, "write the changes into the plan's files")
	return cmd
}

// planAndNames takes the first argument for the plan when it is a directory.
func planAndNames(args []string) (dir string, names []string) {
	if len(args) > 0 {
		if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
			return args[0], args[1:]
		}
	}
	return ".", args
}

// settleRecords shows what changes, and writes it where that is asked for.
func settleRecords(out io.Writer, root *os.Root, edits []record.Edit, write bool) error {
	records := 0
	for _, e := range edits {
		if write {
			if err := record.Write(root, e); err != nil {
				return err
			}
		}
		for _, c := range e.Changes {
			records++
			fmt.Fprintf(out, "%s:%d: %s\n", e.File, c.Line, c)
			for _, in := range c.Inputs {
				fmt.Fprintf(out, "    made from %s\n", in)
			}
		}
	}
	switch {
	case records == 0:
		fmt.Fprintln(out, "all records are up to date")
	case write:
		fmt.Fprintf(out, "%s written\n", counted(records))
	default:
		fmt.Fprintf(out, "%s would change; --write writes them\n", counted(records))
	}
	return nil
}

func counted(records int) string {
	if records == 1 {
		return "1 record"
	}
	return fmt.Sprintf("%d records", records)
}

package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"sync"

	"golang.org/x/term"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/source"
)

// A loaded plan is a plan read, worked out and checked.
type loaded struct {
	root     *os.Root
	work     *check.Work
	findings []finding.Finding
	source   []plan.File // the plan as it was read; nil unless it was asked for
	partial  bool        // some of it could not be read
}

// load reads and checks the plan in dir. The error is for what keeps the program
// from running, never for what is wrong with the plan.
// What was kept of earlier runs is taken over.
func load(dir string, k *kept, say func(string)) (*loaded, error) {
	return loadWhole(dir, k, false, say)
}

// room counts as memory in use and is never touched, so that it takes none. The collector
// runs each time when there is as much garbage as memory in use: in a short run that holds
// little it would run all the time. However large the plan, no more than the size of this
// is taken beyond what a run would take anyway.
var room = sync.OnceValue(func() []byte { return make([]byte, 128<<20) })

// loadWhole is load; with whole it holds the plan's source too.
func loadWhole(dir string, k *kept, whole bool, say func(string)) (*loaded, error) {
	room()
	root, err := source.Open(dir)
	if err != nil {
		return nil, fmt.Errorf("open plan %q: %w", dir, err)
	}
	say("reading")
	from := root.FS()
	var keeper *source.Keeper
	if whole {
		keeper = source.Keep(from)
		from = keeper
	}
	p, read, err := source.Read(from, source.DefaultLimits())
	if err != nil {
		root.Close()
		return nil, fmt.Errorf("read plan %q: %w", dir, err)
	}
	say("working out and checking")
	work := check.Keeping(p, k.results())
	l := &loaded{root: root, work: work, partial: finding.Count(read).Errors > 0}
	if whole {
		read = append(read, keeper.Beside(source.DefaultLimits())...)
		l.source = keeper.Files()
	}
	l.findings = check.Run(work, read)
	return l, nil
}

// text answers for the lines that findings quote.
func (l *loaded) text(file string) ([]byte, bool) {
	data, err := fs.ReadFile(l.root.FS(), file)
	return data, err == nil
}

// write writes the findings as text; waived ones are counted, not listed.
func (l *loaded) write(w io.Writer) error {
	var shown []finding.Finding
	for _, f := range l.findings {
		if f.Waived == nil {
			shown = append(shown, f)
		}
	}
	if err := finding.Write(w, shown, l.text, coloured(w)); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, summary(finding.Count(l.findings)))
	return err
}

// errors reports whether findings of error severity stand.
func (l *loaded) errors() bool { return finding.Count(l.findings).Errors > 0 }

// summary counts findings in words.
func summary(n finding.Counts) string {
	if n == (finding.Counts{}) {
		return "no findings"
	}
	text := ""
	add := func(k int, one, many string) {
		if k == 0 {
			return
		}
		if text != "" {
			text += ", "
		}
		if k == 1 {
			text += "1 " + one
		} else {
			text += fmt.Sprintf("%d %s", k, many)
		}
	}
	add(n.Errors, "error", "errors")
	add(n.Warnings, "warning", "warnings")
	add(n.Advice, "piece of advice", "pieces of advice")
	add(n.Notes, "note", "notes")
	add(n.Waived, "finding waived", "findings waived")
	return text
}

// coloured reports whether w is a terminal that wants colour.
func coloured(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd())) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// progress writes what the program is at, on one line, when standard error is a
// terminal; the second function clears it.
func progress() (say func(string), done func()) {
	if !term.IsTerminal(int(os.Stderr.Fd())) {
		return func(string) {}, func() {}
	}
	const clear = "\r\x1b[K"
	return func(what string) { fmt.Fprintf(os.Stderr, "%s%s ...", clear, what) },
		func() { fmt.Fprint(os.Stderr, clear) }
}

package inspect

import (
	"bytes"
	"os"
	"os/exec"
	"testing"
)

// packages are the Debian packages that hold the programs named otherwise.
var packages = map[string]string{
	"pdffonts": "poppler-utils", "pdfinfo": "poppler-utils", "pdftoppm": "poppler-utils", "pdftotext": "poppler-utils",
	"pdfdetach": "poppler-utils", "rsvg-convert": "librsvg2-bin", "xmllint": "libxml2-utils", "node": "nodejs",
}

// Missing ends a test that cannot run for want of what it names: it fails where
// CI=true and is skipped elsewhere.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is missing", what)
	}
	t.Skipf("%s is missing", what)
}

// Program is the path of the first of the named programs that is installed.
func Program(t testing.TB, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	what := names[0]
	if pkg := packages[what]; pkg != "" {
		what += " (Debian package " + pkg + ")"
	}
	Missing(t, what)
	return ""
}

// Setting is the value of an environment variable that names a tool; what says
// which.
func Setting(t testing.TB, variable, what string) string {
	t.Helper()
	value := os.Getenv(variable)
	if value == "" {
		Missing(t, variable+", "+what+",")
	}
	return value
}

// Run runs a program and gives its standard output; the test ends when the program
// fails.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	return RunOn(t, nil, name, args...)
}

// RunOn is Run with input on the program's standard input.
func RunOn(t testing.TB, input []byte, name string, args ...string) string {
	t.Helper()
	var errs bytes.Buffer
	cmd := exec.Command(Program(t, name), args...)
	cmd.Stdin, cmd.Stderr = bytes.NewReader(input), &errs
	out, err := cmd.Output()
	if err != nil {
		if len(args) > 12 {
			args = append(args[:12:12], "...")
		}
		t.Fatalf("%s %v: %v\n%s%s", name, args, err, out, errs.String())
	}
	return string(out)
}

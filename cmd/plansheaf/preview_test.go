package main

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A person previews a plan, breaks it, removes it, brings it back, and ends the preview.
func TestPreview(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "small")
	begin := rootCommand()
	begin.SetArgs([]string{"start", dir})
	begin.SetOut(io.Discard)
	if err := begin.Execute(); err != nil {
		t.Fatal(err)
	}
	ctx, end := context.WithCancel(t.Context())
	defer end()
	said, out := io.Pipe()
	command := rootCommand()
	command.SetArgs([]string{"preview", dir, "--port", "0"})
	command.SetOut(out)
	command.SetErr(io.Discard)
	ended := make(chan error, 1)
	go func() { ended <- command.ExecuteContext(ctx) }()
	line, err := bufio.NewReader(said).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	address := regexp.MustCompile(`http://\S+/`).FindString(line)
	get := func(path string) string {
		t.Helper()
		answer, err := http.Get(address + path)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	type told struct {
		Version  int
		Failure  string
		Findings []struct{ Rule string }
	}
	// until waits for a build that is as wanted.
	until := func(what string, wanted func(told) bool) {
		t.Helper()
		for after, tries := "-1", 0; tries < 40; tries++ {
			var s told
			if err := json.Unmarshal([]byte(get("-preview/state?after="+after)), &s); err != nil {
				t.Fatal(err)
			}
			if s.Version > 0 && wanted(s) {
				return
			}
			after = strconv.Itoa(s.Version)
		}
		t.Fatalf("no build: %s", what)
	}
	until("the plan as it was started", func(s told) bool { return s.Failure == "" && len(s.Findings) == 0 })
	if page := get(""); !strings.Contains(page, "preview.js") {
		t.Errorf("the front page does not wait for the next build: %.300s", page)
	}
	file := filepath.Join(dir, "plan.yaml")
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	write := func(data []byte) {
		t.Helper()
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(append([]byte("nonsense: [\n"), whole...))
	until("a plan that is no YAML", func(s told) bool { return len(s.Findings) > 0 || s.Failure != "" })
	write(whole[:len(whole)/2])
	until("a half-saved plan", func(s told) bool { return len(s.Findings) > 0 || s.Failure != "" })
	if err := os.Rename(dir, dir+"-away"); err != nil {
		t.Fatal(err)
	}
	until("no plan at all", func(s told) bool { return s.Failure != "" })
	if err := os.Rename(dir+"-away", dir); err != nil {
		t.Fatal(err)
	}
	write(whole)
	until("the plan whole again", func(s told) bool { return s.Failure == "" && len(s.Findings) == 0 })
	end()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

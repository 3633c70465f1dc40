package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"plansheaf/publish/release"
)

// whole fails unless a release stands in dir with nothing missing, changed or added.
func whole(t *testing.T, dir string) {
	t.Helper()
	c, err := release.Open(dir, release.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if faults, err := c.Check(); err != nil || len(faults) > 0 {
		t.Fatalf("%v, %v", faults, err)
	}
}

// The program itself, killed at any moment of a release, leaves the old one or the new
// one whole; the next run goes through and leaves nothing else.
func TestReleaseKilled(t *testing.T) {
	if runtime.GOOS != "linux" && runtime.GOOS != "darwin" {
		t.Skip("this system cannot exchange two folders: between two moves the place is empty")
	}
	folder := t.TempDir()
	plan, out := filepath.Join(folder, "tiles"), filepath.Join(folder, "published", "out")
	run := func(args ...string) *exec.Cmd { return exec.Command("plansheaf", args...) }
	publish := func() *exec.Cmd { return run("publish", plan, "--release", "--out", out) }
	for _, c := range []*exec.Cmd{run("start", plan), publish()} {
		if said, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
	}
	began := time.Now()
	if said, err := publish().CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	took := time.Since(began)
	draw := rand.New(rand.NewPCG(3, 5))
	kills := 0
	for range 10 {
		// The writing comes last.
		c := publish()
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(float64(took) * (0.3 + 0.7*draw.Float64())))
		if err := c.Process.Kill(); err != nil {
			t.Logf("it was done: %v", err)
		}
		if c.Wait() != nil {
			kills++
		}
		whole(t, out)
	}
	if kills == 0 {
		t.Error("no run was killed before it was done")
	}
	if said, err := publish().CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	whole(t, out)
	entries, err := os.ReadDir(filepath.Dir(out))
	if err != nil || len(entries) != 1 {
		t.Errorf("beside the release lies %v, %v", entries, err)
	}
}

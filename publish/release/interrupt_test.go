package release

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A second run of the test program publishes to the folder that the first of these
// names, and is killed before the operation that the second numbers; where that is
// "never" it publishes one thing after the other until it is killed from outside.
const (
	publishTo  = "PLANSHEAF_TEST_PUBLISH_TO"
	killBefore = "PLANSHEAF_TEST_KILL_BEFORE"
	exchanging = "PLANSHEAF_TEST_EXCHANGE" // "no": as on a system that cannot exchange folders
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(publishTo); dir != "" {
		if err := secondRun(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func secondRun(dir string) error {
	stop, err := strconv.Atoi(os.Getenv(killBefore))
	done := 0
	before := func(operation, _ string) error {
		if done++; done == stop {
			self, err := os.FindProcess(os.Getpid())
			if err != nil {
				return err
			}
			if err := self.Kill(); err != nil {
				return err
			}
			select {} // until it arrives
		}
		if operation == "exchange" && os.Getenv(exchanging) == "no" {
			return errors.ErrUnsupported
		}
		return nil
	}
	for once := err == nil; ; {
		for _, name := range []string{"new", "old"} {
			p, err := claim(dir, before)
			if err != nil {
				return err
			}
			if err := errors.Join(p.Write(edition(name)), p.Close()); err != nil || once {
				return err
			}
		}
	}
}

// edition is a publication of some files that all say which it is; the old one has a
// file and a folder that the new one has not, and the other way round.
func edition(name string) []File {
	files := []File{{Path: name + ".txt", Data: []byte(name)}, {Path: name + "/only.txt", Data: []byte(name)}}
	for i := range 8 {
		files = append(files, File{Path: fmt.Sprintf("pages/%d/%d.html", i%2, i), Data: []byte(strings.Repeat(name, 1000*i))})
	}
	return files
}

// standing says which edition stands in dir, and fails unless it is whole and holds
// what somebody else added.
func standing(t *testing.T, dir string) string {
	t.Helper()
	for _, name := range []string{"old", "new"} {
		files, err := listed(edition(name))
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]string{"notes/mine.txt": "mine"}
		for _, f := range files {
			want[f.Path] = string(f.Data)
		}
		whole := true
		err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			rel, err := filepath.Rel(dir, path)
			if err != nil {
				return err
			}
			rel = filepath.ToSlash(rel)
			data, err := os.ReadFile(path)
			if text, known := want[rel]; !known || text != string(data) {
				whole = false
			}
			delete(want, rel)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if whole && len(want) == 0 {
			return name
		}
	}
	t.Fatalf("%s holds neither edition whole", dir)
	return ""
}

// stand publishes an edition to a new folder, adds a file of somebody else's, and
// returns the folder.
func stand(t *testing.T, name string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	if err := Write(dir, edition(name)); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "notes", "mine.txt"), "mine")
	return dir
}

// nothingLeft fails when anything but the publication lies in its parent.
func nothingLeft(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(dir) {
			t.Errorf("%s was left", e.Name())
		}
	}
}

// killed runs the test program again with these settings; whether it was killed.
func killed(t *testing.T, settings ...string) bool {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), settings...)
	out, err := c.CombinedOutput()
	var ended *exec.ExitError
	switch {
	case err == nil:
		return false
	case errors.As(err, &ended) && ended.ExitCode() == -1:
		return true
	case runtime.GOOS == "windows" && errors.As(err, &ended) && len(out) == 0: // no signals there
		return true
	}
	t.Fatalf("%v: %s", err, out)
	return false
}

// Killed before any of its operations a run leaves a whole publication, the old or the
// new, and the next run goes through and clears up.
func TestKilledAtEveryPoint(t *testing.T) {
	for _, c := range []struct{ name, exchange string }{{"in one move", "yes"}, {"in two moves", "no"}} {
		t.Run(c.name, func(t *testing.T) {
			dir := stand(t, "old")
			kills, seen := 0, map[string]int{}
			for stop := 1; ; stop++ {
				if !killed(t, publishTo+"="+dir, killBefore+"="+strconv.Itoa(stop), exchanging+"="+c.exchange) {
					break
				}
				kills++
				p, err := Claim(dir) // puts the old one back where it stood aside
				if _, there := os.Stat(dir); c.exchange == "yes" && there != nil {
					t.Errorf("killed before operation %d: the place is empty", stop)
				}
				if err != nil {
					t.Fatalf("killed before operation %d: %v", stop, err)
				}
				seen[standing(t, dir)]++
				if err := errors.Join(p.Write(edition("old")), p.Close()); err != nil {
					t.Fatal(err)
				}
				standing(t, dir)
				nothingLeft(t, dir)
			}
			if got := standing(t, dir); got != "new" {
				t.Errorf("not killed, the %s edition stands", got)
			}
			nothingLeft(t, dir)
			if kills < 15 || seen["old"] < 10 || seen["new"] == 0 {
				t.Errorf("%d kills, after which stood %v", kills, seen)
			}
		})
	}
}

// Killed from outside at any moment, in the midst of an operation too, a run leaves a
// whole publication in its place.
func TestKilledAtAnyMoment(t *testing.T) {
	if runtime.GOOS != "linux" && runtime.GOOS != "darwin" {
		t.Skip("this system cannot exchange two folders: between two moves the place is empty")
	}
	dir := stand(t, "old")
	draw := rand.New(rand.NewPCG(7, 11))
	seen := map[string]int{}
	for range 40 {
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), publishTo+"="+dir, killBefore+"=never")
		var said strings.Builder
		c.Stderr = &said
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(draw.IntN(60)) * time.Millisecond)
		if err := c.Process.Kill(); err != nil {
			t.Fatalf("%v: %s", err, said.String())
		}
		if err := c.Wait(); err == nil || said.Len() > 0 {
			t.Fatalf("it ended by itself: %s", said.String())
		}
		seen[standing(t, dir)]++
	}
	if err := Write(dir, edition("new")); err != nil {
		t.Fatal(err)
	}
	standing(t, dir)
	nothingLeft(t, dir)
	t.Logf("40 kills, after which stood %v", seen)
}

// Where any operation fails, as on a full disk, the error says so, what stood stands or
// the new one does, and nothing is left beside it.
func TestFailedAtEveryPoint(t *testing.T) {
	for _, exchange := range []bool{true, false} {
		for fail := 1; ; fail++ {
			dir := stand(t, "old")
			done := 0
			fails := ""
			p, err := claim(dir, func(operation, name string) error {
				if operation == "exchange" && !exchange {
					return errors.ErrUnsupported
				}
				if done++; done == fail {
					fails = operation + " " + name
					return syscall.ENOSPC
				}
				return nil
			})
			if err == nil {
				err = errors.Join(p.Write(edition("new")), p.Close())
			}
			stands := standing(t, dir)
			if fails == "" {
				if err != nil || stands != "new" || fail < 15 {
					t.Errorf("nothing of %d operations failed: %v, %s stands", fail, err, stands)
				}
				break
			}
			if !errors.Is(err, syscall.ENOSPC) {
				t.Errorf("%s failed: error is %v", fails, err)
			}
			if removing := strings.HasPrefix(fails, "remove"); (stands == "new") != removing {
				t.Errorf("%s failed: %s stands", fails, stands)
			} else if !removing {
				nothingLeft(t, dir)
			}
			if err := Write(dir, edition("new")); err != nil {
				t.Errorf("after %s failed: %v", fails, err)
			}
			standing(t, dir)
			nothingLeft(t, dir)
		}
	}
}

// Of two runs at once one is told to wait, and the other is not disturbed.
func TestTwoAtOnce(t *testing.T) {
	dir := stand(t, "old")
	p, err := Claim(dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, edition("old")); err == nil || !strings.Contains(err.Error(), "another run is publishing there") {
		t.Errorf("error is %v", err)
	}
	if err := p.Write(edition("new")); err != nil {
		t.Error(err)
	}
	if err := p.Close(); err != nil {
		t.Error(err)
	}
	if got := standing(t, dir); got != "new" {
		t.Errorf("%s stands", got)
	}
	nothingLeft(t, dir)
	if err := Write(dir, edition("old")); err != nil {
		t.Error(err)
	}
}

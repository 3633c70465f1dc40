//go:build unix

package release

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// nobody is a user without rights to what others have not opened to all.
const nobody = 65534

// Where nothing may be written beside a publication, the error says so and what stands
// stays.
func TestReadOnlyFolder(t *testing.T) {
	dir := stand(t, "old")
	parent := filepath.Dir(dir)
	if err := os.Chmod(parent, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(parent, 0o755) })
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), publishTo+"="+dir, killBefore+"=0")
	if os.Getuid() == 0 { // whom modes do not hold
		program := filepath.Join(t.TempDir(), "program")
		data, err := os.ReadFile(os.Args[0])
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(program, data, 0o755); err != nil {
			t.Fatal(err)
		}
		for folder := filepath.Dir(program); folder != os.TempDir() && folder != "/"; folder = filepath.Dir(folder) {
			if err := os.Chmod(folder, 0o755); err != nil {
				t.Fatal(err)
			}
		}
		c.Path, c.Dir = program, "/"
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	out, err := c.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "permission denied") || !strings.Contains(string(out), dir) {
		t.Errorf("%v: %s", err, out)
	}
	if got := standing(t, dir); got != "old" {
		t.Errorf("%s stands", got)
	}
	nothingLeft(t, dir)
}

package release

import (
	"archive/zip"
	"bytes"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// packed is an edition as an archive.
func packed(t testing.TB, files []File) []byte {
	t.Helper()
	all, err := Pack(files, "press-C.zip", "press-C", "2026-05-02")
	if err != nil {
		t.Fatal(err)
	}
	return all[len(all)-1].Data
}

// zipped is an archive of entries that a test makes up.
func zipped(t testing.TB, entries func(z *zip.Writer)) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	entries(z)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// member adds one entry; change alters its header before it is written.
func member(t testing.TB, z *zip.Writer, name, text string, change func(*zip.FileHeader)) {
	t.Helper()
	head := &zip.FileHeader{Name: name, Method: zip.Deflate}
	head.SetMode(0o644)
	if change != nil {
		change(head)
	}
	w, err := z.CreateHeader(head)
	if err == nil {
		_, err = io.WriteString(w, text)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// sample are some files and, as an archive's members, their list.
var sample = []File{{Path: "index.html", Data: []byte("front")}, {Path: "parts/a.html", Data: []byte("a part")}}

// with is the archive of the sample with more in it.
func with(t testing.TB, more func(z *zip.Writer)) []byte {
	return zipped(t, func(z *zip.Writer) {
		files, err := listed(sample)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			member(t, z, "press-C/"+f.Path, string(f.Data), nil)
		}
		more(z)
	})
}

func open(t testing.TB, data []byte, limits Limits) (*Contents, error) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "some.zip")
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
	c, err := Open(name, limits)
	if c != nil {
		t.Cleanup(func() { c.Close() })
	}
	return c, err
}

func TestArchiveIsWhole(t *testing.T) {
	c, err := open(t, packed(t, sample), DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	if faults, err := c.Check(); err != nil || len(faults) > 0 {
		t.Errorf("%v, %v", faults, err)
	}
	if faults, err := c.Compare(sample); err != nil || len(faults) > 0 {
		t.Errorf("%v, %v", faults, err)
	}
	if got := c.Paths(); !slices.Equal(got, []string{ListName, "index.html", "parts/a.html"}) {
		t.Errorf("it holds %v", got)
	}
	if err := fstest.TestFS(c.FS(""), c.Paths()...); err != nil {
		t.Error(err)
	}
	if err := fstest.TestFS(c.FS("parts"), "a.html"); err != nil {
		t.Error(err)
	}
}

// The same files and date give the same bytes whatever their order; the archive is one
// that an independent program finds no fault with.
func TestPackRepeats(t *testing.T) {
	one := packed(t, sample)
	other := packed(t, []File{sample[1], sample[0]})
	if !bytes.Equal(one, other) {
		t.Error("files in another order give another archive")
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3 is missing")
		}
		t.Skip("python3 is missing")
	}
	name := filepath.Join(t.TempDir(), "some.zip")
	if err := os.WriteFile(name, one, 0o644); err != nil {
		t.Fatal(err)
	}
	const script = `import sys, zipfile
z = zipfile.ZipFile(sys.argv[1])
assert z.testzip() is None
for i in z.infolist(): print(i.filename, i.date_time, oct(i.external_attr >> 16))`
	out, err := exec.Command(python, "-c", script, name).CombinedOutput()
	want := ""
	for _, path := range []string{"index.html", "parts/a.html", ListName} {
		want += "press-C/" + path + " (2026, 5, 2, 0, 0, 0) 0o100644\n"
	}
	if err != nil || string(out) != want {
		t.Errorf("%v: %s", err, out)
	}
}

// What is missing, added or changed is named, in archives and in folders.
func TestCheckNames(t *testing.T) {
	want := []Fault{{Changed, "index.html", ""}, {Extra, "mine.txt", ""}, {Missing, "parts/a.html", ""}}
	archive := zipped(t, func(z *zip.Writer) {
		member(t, z, ListName, string(list(sample)), nil)
		member(t, z, "index.html", "another front", nil)
		member(t, z, "mine.txt", "mine", nil)
	})
	c, err := open(t, archive, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	if got, err := c.Check(); err != nil || !slices.Equal(got, want) {
		t.Errorf("archive: %v, %v", got, err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	if err := Write(dir, sample); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "index.html"), "another front")
	write(t, filepath.Join(dir, "mine.txt"), "mine")
	if err := os.Remove(filepath.Join(dir, "parts", "a.html")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("/etc/passwd", filepath.Join(dir, "parts", "b.html")); err != nil {
		t.Fatal(err)
	}
	c, err = Open(dir, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if got, err := c.Check(); err != nil || !slices.Equal(got, append(want, Fault{Unsafe, "parts/b.html", "a link"})) {
		t.Errorf("folder: %v, %v", got, err)
	}
}

func TestCompareNames(t *testing.T) {
	c, err := open(t, packed(t, sample), DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	got, err := c.Compare([]File{{Path: "index.html", Data: []byte("other")}, {Path: "new.html"}})
	want := []Fault{{Differs, ListName, ""}, {Differs, "index.html", ""}, {Lacking, "new.html", ""}, {Unmade, "parts/a.html", ""}}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
}

// What an archive may not hold is a fault that names it, and the rest is looked into.
func TestHostileMembers(t *testing.T) {
	mode := func(m fs.FileMode) func(*zip.FileHeader) {
		return func(h *zip.FileHeader) { h.SetMode(m) }
	}
	cases := []struct {
		name string
		path string // of the member, below the top folder unless it leads out
		head func(*zip.FileHeader)
		want string // the path in the fault
		says string
	}{
		{name: "leads out", path: "../../evil", want: "../../evil", says: "leads out"},
		{name: "leads out from within", path: "press-C/parts/../../../evil", want: "parts/../../../evil", says: "leads out"},
		{name: "absolute", path: "/etc/cron.d/evil", want: "/etc/cron.d/evil", says: "leads out"},
		{name: "backslashes", path: `press-C/..\..\evil`, want: `..\..\evil`, says: "leads out"},
		{name: "drive", path: "press-C/c:evil", want: "c:evil", says: "leads out"},
		{name: "end of line", path: "press-C/a\nb", want: "a\nb", says: "leads out"},
		{name: "zero byte", path: "press-C/a\x00b", want: "a\x00b", says: "leads out"},
		{name: "empty step", path: "press-C/a//b", want: "a//b", says: "leads out"},
		{name: "twice", path: "press-C/index.html", want: "index.html", says: "there twice"},
		{name: "below a file", path: "press-C/index.html/x", want: "index.html/x", says: "is a file there"},
		{name: "link", path: "press-C/link", head: mode(fs.ModeSymlink | 0o777), want: "link", says: "a link"},
		{name: "device", path: "press-C/dev", head: mode(fs.ModeDevice | 0o666), want: "dev", says: "a device"},
		{name: "pipe", path: "press-C/pipe", head: mode(fs.ModeNamedPipe | 0o666), want: "pipe", says: "a device"},
		{name: "locked", path: "press-C/locked", head: func(h *zip.FileHeader) { h.Flags |= 1 }, want: "locked", says: "locked"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := open(t, with(t, func(z *zip.Writer) { member(t, z, c.path, "evil", c.head) }), DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			faults, err := got.Check()
			if err != nil || len(faults) != 1 || faults[0].Kind != Unsafe || faults[0].Path != c.want || !strings.Contains(faults[0].Says, c.says) {
				t.Errorf("%q, %v", faults, err)
			}
		})
	}
}

// lying is a member whose header says other sizes than its data has.
func lying(t testing.TB, z *zip.Writer, name string, data []byte, says uint64) {
	t.Helper()
	w, err := z.CreateRaw(&zip.FileHeader{
		Name: name, Method: zip.Store, CRC32: crc32.ChecksumIEEE(data), CompressedSize64: uint64(len(data)), UncompressedSize64: says,
	})
	if err == nil {
		_, err = w.Write(data)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Archives that would cost more than the limits allow, or are none, are refused before
// that is spent.
func TestRefusedArchives(t *testing.T) {
	small := Limits{Archive: 1 << 20, Directory: 4 << 10, Files: 20, File: 1000, All: 3000, Name: 100}
	whole := packed(t, sample)
	zeros := strings.Repeat("0", 1001)
	cases := []struct {
		name string
		data []byte
		want string
	}{
		{name: "empty", data: nil, want: "too short"},
		{name: "no archive", data: bytes.Repeat([]byte("clay"), 100), want: "not at its end"},
		{name: "cut off", data: whole[:len(whole)-1], want: "not at its end"},
		{name: "more behind", data: append(slices.Clone(whole), 0), want: "not at its end"},
		{name: "more before", data: append([]byte("#!/bin/sh\n"), whole...), want: "not where it says"},
		{name: "too large", data: make([]byte, 1<<20+1), want: "archive is larger"},
		{name: "a large file", data: with(t, func(z *zip.Writer) { member(t, z, "press-C/x", zeros, nil) }), want: "larger than 1000"},
		{name: "much together", data: with(t, func(z *zip.Writer) {
			for i := range 4 {
				member(t, z, fmt.Sprint("press-C/", i), zeros[:900], nil)
			}
		}), want: "all files together"},
		{name: "many", data: with(t, func(z *zip.Writer) {
			for i := range 20 {
				member(t, z, fmt.Sprint("press-C/", i), "", nil)
			}
		}), want: "more than 20 files"},
		{name: "a long list", data: with(t, func(z *zip.Writer) {
			for i := range 90 {
				member(t, z, fmt.Sprint("press-C/", i), "", nil)
			}
		}), want: "list of its files is larger"},
		{name: "a long name", data: with(t, func(z *zip.Writer) { member(t, z, "press-C/"+strings.Repeat("n", 101), "", nil) }), want: "longer than 100"},
		{name: "no list", data: zipped(t, func(z *zip.Writer) { member(t, z, "index.html", "", nil) }), want: "there is no " + ListName},
		{name: "a list that is none", data: zipped(t, func(z *zip.Writer) { member(t, z, ListName, "rubbish\n", nil) }), want: "not a list"},
		{name: "a list that leads out", data: zipped(t, func(z *zip.Writer) {
			member(t, z, ListName, strings.Repeat("0", 64)+"  ../../etc/passwd\n", nil)
		}), want: "not a list"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := open(t, c.data, small)
			if err == nil {
				_, err = got.Check()
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want one with %q", err, c.want)
			}
		})
	}
	if _, err := Open(os.DevNull, small); err == nil || !strings.Contains(err.Error(), "neither an archive nor a folder") {
		t.Errorf("a device: %v", err)
	}
}

// A member that unpacks to more, or less, than it says counts as changed; no more than
// it says is read.
func TestLyingSizes(t *testing.T) {
	text := bytes.Repeat([]byte("x"), 5000)
	for _, says := range []uint64{0, 10, 4999, 5001} {
		data := zipped(t, func(z *zip.Writer) {
			member(t, z, ListName, string(list([]File{{Path: "x", Data: text}})), nil)
			lying(t, z, "x", text, says)
		})
		c, err := open(t, data, DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		if faults, err := c.Check(); err != nil || len(faults) != 1 || faults[0].Kind != Changed || faults[0].Path != "x" {
			t.Errorf("said to have %d bytes: %v, %v", says, faults, err)
		}
		if got, err := c.Read("x", 1<<20); err == nil {
			t.Errorf("said to have %d bytes: %d were read", says, len(got))
		}
	}
}

// Whatever an archive holds, looking into it ends, and whatever it lists stays inside.
func FuzzOpen(f *testing.F) {
	f.Add(packed(f, sample))
	f.Add(with(f, func(z *zip.Writer) { member(f, z, "../evil", "x", nil) }))
	f.Add(with(f, func(z *zip.Writer) { lying(f, z, "press-C/x", []byte("x"), 9) }))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := open(t, data, Limits{Archive: 1 << 20, Directory: 64 << 10, Files: 1000, File: 1 << 20, All: 4 << 20, Name: 200})
		if err != nil {
			return
		}
		for _, path := range c.Paths() {
			if !filepath.IsLocal(filepath.FromSlash(path)) {
				t.Errorf("%q leads out", path)
			}
		}
		c.Check() // its faults and errors are the answer; it may not panic
	})
}

package dxf

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"plansheaf/publish/inspect"
)

// A reading is what ezdxf, a reader of DXF that is no part of this project,
// understands of a file.
type reading struct {
	Version  string
	Units    int
	Metric   int
	Low      [2]float64
	High     [2]float64
	Faults   []string
	Layers   map[string][2]any // line type, width in hundredths of a millimetre
	Dashes   []string
	Entities []item
}

type item struct {
	Kind    string
	Layer   string
	Colour  int
	Points  [][2]float64
	Radius  float64
	Angles  [2]float64
	Ratio   float64
	Control int
	Closed  bool
	Area    float64
	Words   string
	Height  float64
	Turn    float64
	Held    string
	Style   string
	Loops   []string
}

// read has files read; faults that the reader finds or mends fail the test.
func read(t *testing.T, files map[string][]byte) map[string]reading {
	t.Helper()
	dir := t.TempDir()
	args := []string{filepath.Join("testdata", "read.py")}
	for name, data := range files {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	var byPath map[string]reading
	if err := json.Unmarshal([]byte(inspect.Run(t, python(t), args...)), &byPath); err != nil {
		t.Fatal(err)
	}
	out := map[string]reading{}
	for path, r := range byPath {
		name := filepath.Base(path)
		for _, fault := range r.Faults {
			t.Errorf("%s: %s", name, fault)
		}
		if r.Version != "AC1015" || r.Units != 4 || r.Metric != 1 {
			t.Errorf("%s: version %s, unit %d, metric %d; want AC1015, 4 (millimetres), 1", name, r.Version, r.Units, r.Metric)
		}
		out[name] = r
	}
	return out
}

// readOne has one file read.
func readOne(t *testing.T, data []byte) reading {
	t.Helper()
	return read(t, map[string][]byte{"one.dxf": data})["one.dxf"]
}

// python is a Python with ezdxf: the first one in the path may be another than the
// one that Debian's packages are for.
func python(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(name, "-c", "import ezdxf").Run() == nil {
			return name
		}
	}
	inspect.Missing(t, "ezdxf for Python (Debian package python3-ezdxf)")
	return ""
}

// kinds counts entities by kind and layer.
func (r reading) kinds() map[string]int {
	count := map[string]int{}
	for _, e := range r.Entities {
		count[e.Kind+" "+e.Layer]++
	}
	return count
}

package ready

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A file of ready calculations:
//
//	subject: Screws
//	calculations:
//	  power_screw:
//	    title: Power screw
//	    about: ...
//	    given:
//	      load: {symbol: F, unit: N, about: axial load, default: 0 N}
//	    tables:
//	      plate: {columns: [ratio, k], units: ["", ""], rows: [[1, 0.1], [2, 0.2]]}
//	    find:
//	      force: {symbol: F, unit: N, is: 2 * load, about: ...}
//	    assumes: [...]
//	    holds_while: [{that: load > 0 N, because: ...}]
//	    source: ...

// names are what ids look like in plans.
var names = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// node is a place in an embedded file, with what is read so far of its faults.
type node struct {
	*yaml.Node
	file string
}

func (n node) fail(format string, args ...any) error {
	return fmt.Errorf("%s:%d:%d: %s", n.file, n.Line, n.Column, fmt.Sprintf(format, args...))
}

// parse reads a file of ready calculations, in the order written.
func parse(file string, data []byte) ([]*Calc, error) {
	var doc yaml.Node
	if err := yaml.NewDecoder(bytes.NewReader(data)).Decode(&doc); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(doc.Content) != 1 {
		return nil, fmt.Errorf("%s: is empty", file)
	}
	var subject string
	var calcs []*Calc
	err := node{doc.Content[0], file}.keys(map[string]func(node) error{
		"subject": textual(&subject),
		"calculations": func(n node) error {
			return n.each(func(name string, n node) error {
				c := &Calc{Name: name}
				calcs = append(calcs, c)
				return c.read(n)
			})
		},
	}, "subject", "calculations")
	for _, c := range calcs {
		c.Subject = subject
	}
	return calcs, err
}

func (c *Calc) read(n node) error {
	err := n.keys(map[string]func(node) error{
		"title":  textual(&c.Title),
		"about":  textual(&c.About),
		"source": textual(&c.Source),
		"given": func(n node) error {
			return n.each(func(name string, n node) error {
				in, err := readInput(name, n)
				c.Inputs = append(c.Inputs, in)
				return err
			})
		},
		"tables": func(n node) error {
			return n.each(func(name string, n node) error {
				t, err := readTable(name, n)
				c.Tables = append(c.Tables, t)
				return err
			})
		},
		"find": func(n node) error {
			return n.each(func(name string, n node) error {
				f, err := readFind(name, n)
				c.Finds = append(c.Finds, f)
				return err
			})
		},
		"assumes": func(n node) error {
			return n.list(func(n node) error {
				var say string
				err := textual(&say)(n)
				c.Assumes = append(c.Assumes, say)
				return err
			})
		},
		"holds_while": func(n node) error {
			return n.list(func(n node) error {
				var l Limit
				err := n.keys(map[string]func(node) error{
					"that": expression(&l.That), "because": textual(&l.Because),
				}, "that")
				c.Limits = append(c.Limits, l)
				return err
			})
		},
	}, "title", "given", "find", "source")
	if err != nil {
		return err
	}
	return c.check(n)
}

// check finds names given twice.
func (c *Calc) check(n node) error {
	seen := map[string]bool{}
	for _, in := range c.Inputs {
		seen[in.Name] = true
	}
	for _, f := range c.Finds {
		if seen[f.Name] {
			return n.fail("%s: %q is an input, too", c.Name, f.Name)
		}
	}
	return nil
}

func readInput(name string, n node) (Input, error) {
	in := Input{Name: name}
	err := n.keys(map[string]func(node) error{
		"symbol": textual(&in.Symbol), "unit": unit(&in.Unit, &in.Dim),
		"about": textual(&in.About), "default": expression(&in.Default),
	}, "symbol", "unit", "about")
	return in, err
}

func readFind(name string, n node) (Find, error) {
	f := Find{Name: name}
	err := n.keys(map[string]func(node) error{
		"symbol": textual(&f.Symbol), "unit": unit(&f.Unit, &f.Dim),
		"is": expression(&f.Is), "about": textual(&f.About),
	}, "symbol", "unit", "is", "about")
	return f, err
}

func readTable(name string, n node) (plan.TableFile, error) {
	data := &plan.Table{}
	t := plan.TableFile{Name: plan.Word{Text: name}, Data: data}
	err := n.keys(map[string]func(node) error{
		"columns": func(n node) error { return n.list(appendTo(&data.Columns)) },
		"units":   func(n node) error { return n.list(appendTo(&data.Units)) },
		"between": textual(&t.Between.Text),
		"rows": func(n node) error {
			return n.list(func(n node) error {
				var row []float64
				err := n.list(func(n node) error {
					x, err := strconv.ParseFloat(n.Value, 64)
					row = append(row, x)
					return err
				})
				if err == nil && len(row) != len(data.Columns) {
					err = n.fail("%d numbers in %d columns", len(row), len(data.Columns))
				}
				data.Rows = append(data.Rows, row)
				return err
			})
		},
	}, "columns", "units", "rows")
	if err == nil && len(data.Units) != len(data.Columns) {
		err = n.fail("%d units for %d columns", len(data.Units), len(data.Columns))
	}
	return t, err
}

func appendTo(list *[]string) func(node) error {
	return func(n node) error {
		if n.Kind != yaml.ScalarNode {
			return n.fail("is no word")
		}
		*list = append(*list, n.Value)
		return nil
	}
}

// keys reads a map with settled keys, each once.
func (n node) keys(known map[string]func(node) error, must ...string) error {
	seen := map[string]bool{}
	err := n.pairs(func(key, value node) error {
		read, found := known[key.Value]
		if !found {
			return key.fail("nothing is named %q here", key.Value)
		}
		seen[key.Value] = true
		return read(value)
	})
	if err != nil {
		return err
	}
	for _, key := range must {
		if !seen[key] {
			return n.fail("%s is missing", key)
		}
	}
	return nil
}

// each reads a map whose keys are names.
func (n node) each(read func(name string, n node) error) error {
	return n.pairs(func(key, value node) error {
		if !names.MatchString(key.Value) {
			return key.fail("%q is no name", key.Value)
		}
		return read(key.Value, value)
	})
}

func (n node) pairs(read func(key, value node) error) error {
	if n.Kind != yaml.MappingNode {
		return n.fail("is no map")
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := node{n.Content[i], n.file}, node{n.Content[i+1], n.file}
		if key.Kind != yaml.ScalarNode || seen[key.Value] {
			return key.fail("%q stands here twice or is no name", key.Value)
		}
		seen[key.Value] = true
		if err := read(key, value); err != nil {
			return err
		}
	}
	return nil
}

func (n node) list(read func(node) error) error {
	if n.Kind != yaml.SequenceNode {
		return n.fail("is no list")
	}
	for _, item := range n.Content {
		if err := read(node{item, n.file}); err != nil {
			return err
		}
	}
	return nil
}

// textual reads a text that must not be empty; folded lines lose their last break.
func textual(into *string) func(node) error {
	return func(n node) error {
		*into = strings.TrimSpace(n.Value)
		if n.Kind != yaml.ScalarNode || *into == "" {
			return n.fail("is no text")
		}
		return nil
	}
}

// unit reads a unit, "" for a plain number.
func unit(into *string, dim *quantity.Dimension) func(node) error {
	return func(n node) error {
		if n.Kind != yaml.ScalarNode {
			return n.fail("is no unit")
		}
		u, err := quantity.ParseUnit(n.Value)
		if err != nil {
			return n.fail("%v", err)
		}
		*into, *dim = n.Value, u.Dim
		return nil
	}
}

func expression(into **formula.Expr) func(node) error {
	return func(n node) error {
		if n.Kind != yaml.ScalarNode {
			return n.fail("is no formula")
		}
		e, failed := formula.Parse(n.Value)
		if failed != nil {
			return n.fail("%s: %s", n.Value, failed.Message)
		}
		*into = e
		return nil
	}
}

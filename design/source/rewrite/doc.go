// Package rewrite changes values of a YAML file in its text: what is not changed keeps
// its bytes, with comments, order, quoting and layout.
//
//	f, err := rewrite.Parse(text)
//	err = f.Set([]string{"recorded", "force", "is"}, "4.31 kN ± 1 %")
//	err = f.Put([]string{"recorded", "force", "made_from", "friction"}, "0.15")
//	err = f.Remove([]string{"recorded", "force", "made_from", "collar"})
//
// Each change is made at the positions that the YAML reader gives, and the result is read
// again and compared with what was meant; where they differ the text stays as it was and
// the change is refused. So a layout that the package does not understand (a value over
// several lines, an anchor) costs a refusal, never a file.
package rewrite

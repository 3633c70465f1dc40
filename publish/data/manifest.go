package data

import (
	"encoding/json"
	"errors"
	"fmt"

	"plansheaf/design/finding"
)

// ManifestForm is the name and version of the form of a Manifest.
const ManifestForm = "plansheaf release 1"

// A Manifest tells a program what a release is and what it holds. ManifestSchema
// describes it key by key.
type Manifest struct {
	Form     string         `json:"form" about:"name and version of this form"`
	Title    string         `json:"title" about:"of the plan, for people"`
	Machine  string         `json:"machine" about:"id of the assembly that is built"`
	Revision string         `json:"revision" about:"of the plan"`
	Date     string         `json:"date" about:"of the revision, YYYY-MM-DD; empty where the plan has none"`
	License  string         `json:"license" about:"SPDX expression"`
	Language string         `json:"language" about:"BCP 47 tag of the plan's texts"`
	Authors  []string       `json:"authors" about:"as the plan names them"`
	Program  Program        `json:"program" about:"what compiled the plan: the same program and source give the same bytes"`
	Front    string         `json:"front" about:"path of the first page"`
	Source   string         `json:"source" about:"path of the folder that holds the plan as it was compiled"`
	Earlier  string         `json:"earlier" about:"path of the folder that holds the earlier revision that the page of changes compares with; empty for none"`
	List     string         `json:"list" about:"path of the list of all files with their SHA-256, in the form that checksum tools read"`
	Archive  string         `json:"archive" about:"path of the archive that holds everything but itself"`
	Editions []Edition      `json:"editions" about:"what was made for one combination of options each, in the order asked for"`
	Tally    finding.Counts `json:"findings" about:"how many findings of each severity stand"`
	Waived   []WaivedNote   `json:"waived" about:"what the checks found and the designer lets stand"`
	Files    []FileNote     `json:"files" about:"every file but this one, the list and the archive"`
}

// A Program is the program that made a release.
type Program struct {
	Name    string `json:"name" about:"of the program"`
	Version string `json:"version" about:"of the program"`
	Built   string `json:"built" about:"version of the compiler and libraries that it was built with"`
}

// An Edition is what was made for one combination of options.
type Edition struct {
	Options map[string]string `json:"options" about:"option by choice"`
	Says    string            `json:"says" about:"the options in words; empty where the plan leaves no choice"`
	Binder  string            `json:"binder" about:"path of the binder"`
	Lists   []string          `json:"lists" about:"paths of the lists"`
}

// A WaivedNote is a finding that is let stand.
type WaivedNote struct {
	Rule    string `json:"rule" about:"that found it"`
	At      string `json:"at" about:"where: file, line and column in the source"`
	Message string `json:"message" about:"what was found"`
	Because string `json:"because" about:"why it may stand"`
	Until   string `json:"until" about:"the last revision that it may stand in; empty for no end"`
}

// A FileNote is one file of a release.
type FileNote struct {
	Path   string `json:"path" about:"from the release's root, with forward slashes"`
	Type   string `json:"type" about:"media type"`
	Bytes  int    `json:"bytes" about:"size"`
	SHA256 string `json:"sha256" about:"of its bytes, in hexadecimal digits"`
}

// WaivedNotes are the findings that are let stand.
func WaivedNotes(found []finding.Finding) []WaivedNote {
	list := []WaivedNote{}
	for _, f := range found {
		if f.Waived != nil {
			list = append(list, WaivedNote{Rule: f.Rule, At: f.At.String(), Message: f.Message, Because: f.Waived.Because, Until: f.Waived.Until})
		}
	}
	return list
}

// JSON is the manifest as a file.
func (m Manifest) JSON() ([]byte, error) {
	text, err := json.MarshalIndent(m, "", "  ")
	return append(text, '\n'), err
}

// ReadManifest reads a manifest as JSON wrote it. It is an error when it is of another
// form.
func ReadManifest(text []byte) (Manifest, error) {
	var m Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		return m, fmt.Errorf("read the manifest: %w", err)
	}
	if m.Form != ManifestForm {
		return m, fmt.Errorf("read the manifest: its form is %.100q, not %q", m.Form, ManifestForm)
	}
	if m.Program.Name == "" || len(m.Editions) == 0 {
		return m, errors.New("read the manifest: it names no program or no edition")
	}
	return m, nil
}

// ManifestSchema is the JSON Schema (draft 2020-12) of a manifest.
func ManifestSchema() ([]byte, error) { return Schema(Manifest{}, "A release") }

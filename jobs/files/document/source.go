package document

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"forkfront/jobs/process"
	"forkfront/results/display"
)

// MaxFileBytes is the largest file that is read. A job of a hundred mechanisms stays under 100 kB;
// what is larger is most likely not a job.
const MaxFileBytes = 1 << 20

// Fault is one fault of a file. Line and column count from 1; 0 means the whole file.
type Fault struct {
	File      string
	Line, Col int
	Path      string // dotted, as in pivots.lower_rear[1]; empty: the whole file
	Text      string // the value and what is allowed
}

func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Line, f.Col)
	}
	if f.Path != "" {
		b.WriteString(": " + f.Path)
	}
	return b.String() + ": " + f.Text
}

// Faults are all faults of a file, in the order of its lines.
type Faults []Fault

// Error lists the faults, one per line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i := range f {
		lines[i] = f[i].String()
	}
	return strings.Join(lines, "\n")
}

// Source is a file that was read: the line of each of its values, and their faults.
type Source struct {
	File   string
	Root   *yaml.Node
	at     map[string]*yaml.Node // value by path
	keys   map[string][]string   // keys of a mapping by its path, in the order of the file
	faults Faults

	Packed  bool // written by forkfront from a job that passed, defaults included
	Partial bool // some of a concept's points are given elsewhere
}

// At notes a fault of the value at a path. A path that the file does not have is reported at its nearest parent.
func (s *Source) At(path, format string, args ...any) {
	f := Fault{File: s.File, Path: path, Text: fmt.Sprintf(format, args...)}
	if n := s.nearest(path); n != nil {
		f.Line, f.Col = n.Line, n.Column
	}
	s.faults = append(s.faults, f)
}

func (s *Source) nearest(path string) *yaml.Node {
	for {
		if n := s.at[path]; n != nil || path == "" {
			return n
		}
		path = path[:max(0, strings.LastIndexAny(path, ".["))]
	}
}

// Has tells whether the file gives a value at a path, so that absent differs from 0.
func (s *Source) Has(path string) bool { return s.at[path] != nil }

// Faulty tells whether something at or below a path is wrong.
func (s *Source) Faulty(path string) bool {
	return slices.ContainsFunc(s.faults, func(f Fault) bool {
		below, at := strings.CutPrefix(f.Path, path)
		return at && (below == "" || below[0] == '.' || below[0] == '[')
	})
}

// Keys lists the keys of the mapping at a path, in the order of the file.
func (s *Source) Keys(path string) []string { return s.keys[path] }

// Err returns the faults noted so far as Faults, in the order of lines, or nil.
func (s *Source) Err() error {
	if len(s.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(s.faults, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	return s.faults
}

// Open reads and parses one document. Only a failing reader is an error; what is wrong with the
// text is a fault of the source.
func Open(file string, r io.Reader) (*Source, error) { return OpenUpTo(file, r, MaxFileBytes) }

// OpenUpTo reads and parses one document of at most the given number of bytes. Only a failing reader is an error; what is wrong
// with the text, its length included, is a fault of the source.
func OpenUpTo(file string, r io.Reader, most int64) (*Source, error) {
	s := &Source{File: file, at: map[string]*yaml.Node{}, keys: map[string][]string{}}
	text, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return s, fmt.Errorf("read %s: %w", file, err)
	}
	if int64(len(text)) > most {
		s.At("", "longer than %d bytes; a job, concept or mechanism is far shorter: is this the right file?", most)
		return s, nil
	}
	s.parse(text)
	return s, nil
}

func (s *Source) parse(text []byte) {
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var doc yaml.Node
	if err := dec.Decode(&doc); errors.Is(err, io.EOF) || err == nil && empty(&doc) {
		s.At("", "empty; expected a YAML mapping, see the examples")
		return
	} else if err != nil {
		s.syntax(err)
		return
	}
	var second yaml.Node
	if err := dec.Decode(&second); err == nil {
		s.faults = append(s.faults, Fault{s.File, max(second.Line, 1), max(second.Column, 1), "", "a second document begins here; one file holds one document"})
		return
	} else if !errors.Is(err, io.EOF) {
		s.syntax(err)
		return
	}
	s.Root = doc.Content[0]
	s.index("", s.Root, 0)
}

func empty(doc *yaml.Node) bool {
	return len(doc.Content) == 0 || doc.Content[0].ShortTag() == "!!null" && doc.Content[0].Value == ""
}

// syntax notes what the YAML parser objects to.
func (s *Source) syntax(err error) {
	f := Fault{File: s.File, Text: "not valid YAML: " + display.Printable(err.Error())}
	var load *yaml.LoadError
	if errors.As(err, &load) {
		f.Line, f.Col = load.Mark.Line, load.Mark.Column
		f.Text = "not valid YAML: " + display.Printable(load.Message)
	}
	s.faults = append(s.faults, f)
}

// maxDepth is far deeper than any of the files nests.
const maxDepth = 32

// maxText is the length of a name, in bytes; the names of cases and candidates, which are in every row of the
// results, are made up of such names.
const maxText = 255

// index records the line of every value, and refuses what no kind of file may contain.
func (s *Source) index(path string, n *yaml.Node, depth int) {
	s.at[path] = n
	switch {
	case depth > maxDepth:
		s.At(path, "nested more than %d deep", maxDepth)
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		s.At(path, "anchors and aliases (& and *) are not allowed; write the value itself")
	case n.Kind == yaml.ScalarNode && len(n.Value) > maxText && !strings.ContainsAny(n.Value, `/\`):
		s.At(path, "text of %d bytes; at most %d are allowed, except for paths", len(n.Value), maxText)
	case n.Kind == yaml.ScalarNode && hidden(n.Value):
		s.At(path, "%s; expected text on one line without control characters", Said(n))
	case n.Kind == yaml.SequenceNode:
		for i, v := range n.Content {
			s.index(fmt.Sprintf("%s[%d]", path, i), v, depth+1)
		}
	case n.Kind == yaml.MappingNode:
		s.indexKeys(path, n, depth)
	}
}

// hidden tells whether a text has characters that would control a terminal.
func hidden(text string) bool { return strings.ContainsFunc(text, display.IsHidden) }

func (s *Source) indexKeys(path string, n *yaml.Node, depth int) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, child := n.Content[i], Join(path, n.Content[i].Value)
		if key.Kind != yaml.ScalarNode || strings.ContainsAny(key.Value, ".[]") || hidden(key.Value) || key.Value == "" {
			s.faults = append(s.faults, Fault{s.File, key.Line, key.Column, path, Said(key) + " as a key; expected a name without . [ ] and control characters"})
			continue
		}
		if s.at[child] != nil {
			s.faults = append(s.faults, Fault{s.File, key.Line, key.Column, child, "given twice; keep one"})
			continue
		}
		s.keys[path] = append(s.keys[path], key.Value)
		s.index(child, n.Content[i+1], depth+1)
	}
}

// InputOr is bad input when err is faults of a file, and something outside otherwise.
func InputOr(err error) error {
	var faults Faults
	if errors.As(err, &faults) {
		return process.BadInput(err)
	}
	return err
}

// Add notes faults that were found elsewhere, such as those of another file.
func (s *Source) Add(faults Faults) { s.faults = append(s.faults, faults...) }

// AddUnder notes the faults of the part at a path, which Under gave.
func (s *Source) AddUnder(path string, part *Source) {
	for _, f := range part.faults {
		f.Path = Join(path, f.Path)
		s.faults = append(s.faults, f)
	}
}

// Under is the part of a file at a path, as a file of its own.
func (s *Source) Under(path string) *Source {
	part := &Source{File: s.File, at: map[string]*yaml.Node{}, keys: map[string][]string{}}
	part.at[""], part.keys[""] = s.at[path], s.keys[path]
	for at, n := range s.at {
		if rest, ok := strings.CutPrefix(at, path+"."); ok {
			part.at[rest] = n
		}
	}
	for at, keys := range s.keys {
		if rest, ok := strings.CutPrefix(at, path+"."); ok {
			part.keys[rest] = keys
		}
	}
	return part
}

package jobs

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// largestKnot is how many files of a package may depend on each other in a circle, by use of each other's
// names, fields and methods.
const largestKnot = 12

// tree is the module's source, one package per folder, tests left out.
type tree struct {
	files *token.FileSet
	parts map[string][]*ast.File    // by folder
	done  map[string]*types.Package // by import path
	uses  map[string]map[*ast.Ident]types.Object
}

// readTree parses all files below a folder.
func readTree(t *testing.T, root fs.FS) *tree {
	t.Helper()
	tr := &tree{token.NewFileSet(), map[string][]*ast.File{}, map[string]*types.Package{}, map[string]map[*ast.Ident]types.Object{}}
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return fs.SkipDir
		case d.IsDir() && name != ".":
			if _, err := fs.Stat(root, name+"/go.mod"); err == nil {
				return fs.SkipDir // a module of its own
			}
		case strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go"):
			text, err := fs.ReadFile(root, name)
			if err != nil {
				return err
			}
			file, err := parser.ParseFile(tr.files, name, text, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			tr.parts[path.Dir(name)] = append(tr.parts[path.Dir(name)], file)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// Import type-checks a package of the module; of the standard library and others only the name is known, which
// is enough to resolve names within the module.
func (tr *tree) Import(name string) (*types.Package, error) {
	if p := tr.done[name]; p != nil {
		return p, nil
	}
	folder, ours := strings.CutPrefix(name, "forkfront/")
	if !ours {
		p := types.NewPackage(name, path.Base(name))
		p.MarkComplete()
		tr.done[name] = p
		return p, nil
	}
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: tr, Error: func(error) {}} // names of other modules do not resolve
	p, _ := config.Check(name, tr.files, tr.parts[folder], info)
	tr.done[name], tr.uses[folder] = p, info.Uses
	return p, nil
}

var _ types.Importer = (*tree)(nil)

// links lists, for every file of a folder, the other files of it whose names it uses.
func (tr *tree) links(folder string) map[string][]string {
	links := map[string][]string{}
	for _, f := range tr.parts[folder] {
		links[tr.files.File(f.Pos()).Name()] = nil
	}
	for id, o := range tr.uses[folder] {
		if !o.Pos().IsValid() {
			continue
		}
		from, to := tr.files.File(id.Pos()).Name(), tr.files.File(o.Pos()).Name()
		if _, here := links[to]; here && from != to && !slices.Contains(links[from], to) {
			links[from] = append(links[from], to)
		}
	}
	return links
}

// knot is the largest set of nodes of a graph that all reach each other (Tarjan's strongly connected components).
func knot(links map[string][]string) (largest []string) {
	index, low, onStack := map[string]int{}, map[string]int{}, map[string]bool{}
	var stack []string
	var visit func(string)
	visit = func(v string) {
		index[v] = len(index) + 1
		low[v] = index[v]
		stack, onStack[v] = append(stack, v), true
		for _, to := range links[v] {
			if index[to] == 0 {
				visit(to)
				low[v] = min(low[v], low[to])
			} else if onStack[to] {
				low[v] = min(low[v], index[to])
			}
		}
		if low[v] != index[v] {
			return
		}
		at := slices.Index(stack, v)
		for _, w := range stack[at:] {
			onStack[w] = false
		}
		if len(stack)-at > len(largest) {
			largest = slices.Sorted(slices.Values(stack[at:]))
		}
		stack = stack[:at]
	}
	for _, v := range slices.Sorted(maps.Keys(links)) {
		if index[v] == 0 {
			visit(v)
		}
	}
	return largest
}

func TestNoPackageIsAKnot(t *testing.T) {
	t.Parallel()
	tr := readTree(t, os.DirFS(".."))
	if len(tr.parts) < 30 {
		t.Fatalf("only %d packages were read", len(tr.parts))
	}
	for _, folder := range slices.Sorted(maps.Keys(tr.parts)) {
		if _, err := tr.Import("forkfront/" + folder); err != nil {
			t.Fatal(err)
		}
		k := knot(tr.links(folder))
		t.Logf("%-28s %3d files, largest knot %d", folder, len(tr.parts[folder]), len(k))
		if len(k) > largestKnot {
			t.Errorf("%s: %d files depend on each other in a circle, %d are allowed: %s", folder, len(k), largestKnot, strings.Join(k, " "))
		}
	}
}

// A circle through a name, a method and a field is found; a file that only uses is not in it.
func TestKnotIsFound(t *testing.T) {
	tr := readTree(t, fstest.MapFS{
		"x/a.go":    {Data: []byte("package x\nimport \"other/lib\"\ntype A struct{ n int }\nfunc f() { b(lib.Y) }\n")},
		"x/b.go":    {Data: []byte("package x\nfunc b(any) { var c C; c.m() }\n")},
		"x/c.go":    {Data: []byte("package x\ntype C struct{}\nfunc (C) m() { var a A; a.n = 1 }\n")},
		"x/uses.go": {Data: []byte("package x\nfunc g() { f() }\n")},
	})
	if _, err := tr.Import("forkfront/x"); err != nil {
		t.Fatal(err)
	}
	if k := knot(tr.links("x")); !slices.Equal(k, []string{"x/a.go", "x/b.go", "x/c.go"}) {
		t.Errorf("found %v", k)
	}
}

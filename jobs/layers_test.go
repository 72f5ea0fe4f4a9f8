package jobs

import (
	"flag"
	"fmt"
	"go/ast"
	"go/doc"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var rewriteMap = flag.Bool("rewrite-map", false, "write the table of packages in DEVELOPERS.md again")

// mapBegins and mapEnds enclose the table of packages in DEVELOPERS.md.
const mapBegins, mapEnds = "<!-- packages, highest first -->\n", "<!-- end of packages -->\n"

// importsOf lists the packages of the module that a folder's files import.
func (tr *tree) importsOf(folder string) (all []string) {
	for _, f := range tr.parts[folder] {
		for _, i := range f.Imports {
			name, _ := strconv.Unquote(i.Path.Value)
			if inner, ours := strings.CutPrefix(name, "forkfront/"); ours {
				all = append(all, inner)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// purpose is the first sentence of a package's comment, without its name.
func purpose(files []*ast.File) string {
	for _, f := range files {
		if f.Doc == nil {
			continue
		}
		text := strings.Join(strings.Fields(new(doc.Package).Synopsis(f.Doc.Text())), " ")
		words := strings.SplitN(text, " ", 3)
		if len(words) == 3 && (words[0] == "Package" || words[0] == "Command") {
			return strings.TrimSuffix(words[2], ".")
		}
	}
	return ""
}

// layered lists packages so that each comes before all that it imports, in the order given where that is
// free, and those that are missing there by name; ok is false where they go in a circle.
func layered(imports map[string][]string, order []string) (sorted []string, ok bool) {
	for _, p := range slices.Sorted(maps.Keys(imports)) {
		if !slices.Contains(order, p) {
			order = append(order, p)
		}
	}
	order = slices.DeleteFunc(order, func(p string) bool { _, there := imports[p]; return !there })
	for len(order) > 0 {
		at := slices.IndexFunc(order, func(p string) bool {
			return !slices.ContainsFunc(order, func(q string) bool { return slices.Contains(imports[q], p) })
		})
		if at < 0 {
			return sorted, false
		}
		sorted, order = append(sorted, order[at]), slices.Delete(order, at, at+1)
	}
	return sorted, true
}

// The table of packages in DEVELOPERS.md says who may import whom: a row for every package, its imports as
// they are, and none of them above it.
func TestThePackagesAreAsDrawn(t *testing.T) {
	tr := readTree(t, os.DirFS(".."))
	imports := map[string][]string{}
	for folder := range tr.parts {
		if folder != "." {
			imports[folder] = tr.importsOf(folder)
		}
	}
	const page = "../DEVELOPERS.md"
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, begins := strings.Cut(string(text), mapBegins)
	table, after, ends := strings.Cut(rest, mapEnds)
	if !begins || !ends {
		t.Fatalf("%s has no table of packages", page)
	}
	var order []string
	for _, row := range regexp.MustCompile("(?m)^\\| `([^`]+)`").FindAllStringSubmatch(table, -1) {
		order = append(order, row[1])
	}
	sorted, ok := layered(imports, slices.Clone(order))
	if !ok {
		t.Fatal("the packages import each other in a circle")
	}
	want := "| package | what it is | imports |\n| --- | --- | --- |\n"
	for _, p := range sorted {
		if purpose(tr.parts[p]) == "" {
			t.Errorf("%s has no package comment", p)
		}
		named := strings.Join(imports[p], ", ")
		if named == "" {
			named = "–"
		}
		want += fmt.Sprintf("| `%s` | %s | %s |\n", p, purpose(tr.parts[p]), named)
	}
	if *rewriteMap {
		if err := os.WriteFile(page, []byte(before+mapBegins+want+mapEnds+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if table != want {
		for _, line := range strings.Split(want, "\n") {
			if !strings.Contains(table, line) {
				t.Errorf("the table of packages in DEVELOPERS.md lacks: %s", line)
			}
		}
		t.Error("if the change is meant: go test ./jobs -run PackagesAreAsDrawn -rewrite-map, and read the diff")
	}
}

// A package above another may not be imported by it, and a circle is seen.
func TestLayersAreOrdered(t *testing.T) {
	imports := map[string][]string{"low": nil, "high": {"low", "middle"}, "middle": {"low"}, "aside": {"low"}}
	if got, ok := layered(imports, []string{"low", "aside", "middle"}); !ok || !slices.Equal(got, []string{"aside", "high", "middle", "low"}) {
		t.Errorf("ordered as %v, %v", got, ok)
	}
	imports["low"] = []string{"middle"}
	if _, ok := layered(imports, nil); ok {
		t.Error("a circle passed")
	}
}

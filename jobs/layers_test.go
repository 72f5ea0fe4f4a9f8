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
		if !slices.Contains(order, row[1]) { // a merge may have kept a row twice
			order = append(order, row[1])
		}
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

// drawnLayers are the drawings of layers in a page: for each top-level folder the packages of each line.
func drawnLayers(page string) map[string][][]string {
	all := map[string][][]string{}
	for _, drawing := range regexp.MustCompile("<!-- layers of (\\w+) -->\n```\n((?s:.*?))```").FindAllStringSubmatch(page, -1) {
		for _, line := range strings.Split(strings.TrimSpace(drawing[2]), "\n") {
			names, _, _ := strings.Cut(line, "  ") // what follows says what they are
			all[drawing[1]] = append(all[drawing[1]], strings.Split(names, ", "))
		}
	}
	return all
}

// against lists what a drawing of the layers below a folder gets wrong: packages that it lacks or has without
// reason, and imports that do not point down.
func against(lines [][]string, top string, imports map[string][]string) (faults []string) {
	layer := map[string]int{}
	for i, names := range lines {
		for _, name := range names {
			found := top
			for folder := range imports {
				if folder != top && strings.HasPrefix(folder, top+"/") && strings.HasSuffix(folder, "/"+name) {
					found = folder
				}
			}
			if found == top && name != top {
				faults = append(faults, fmt.Sprintf("%s has no package %s", top, name))
				continue
			}
			layer[found] = i
		}
	}
	for folder, uses := range imports {
		if folder != top && !strings.HasPrefix(folder, top+"/") {
			continue
		}
		at, drawn := layer[folder]
		if !drawn {
			faults = append(faults, folder+" is not drawn")
		}
		for _, below := range uses {
			if under, ok := layer[below]; ok && under <= at {
				faults = append(faults, fmt.Sprintf("%s imports %s, which is not drawn below it", folder, below))
			}
		}
	}
	slices.Sort(faults)
	return faults
}

// In the drawings of layers in DEVELOPERS.md, imports point down only.
func TestLayersMatchTheDrawing(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	tr, imports := readTree(t, os.DirFS("..")), map[string][]string{}
	inner := map[string]bool{} // top-level folders that have rooms
	for folder := range tr.parts {
		imports[folder] = tr.importsOf(folder)
		if top, _, below := strings.Cut(folder, "/"); below {
			inner[top] = true
		}
	}
	drawn := drawnLayers(string(text))
	for top := range inner {
		if drawn[top] == nil {
			t.Errorf("the layers of %s are not drawn", top)
		}
		for _, fault := range against(drawn[top], top, imports) {
			t.Error(fault)
		}
	}
	imports = map[string][]string{"a": {"a/b"}, "a/b": {"a/c"}, "a/c": nil}
	if faults := against([][]string{{"a"}, {"b"}, {"c"}}, "a", imports); len(faults) > 0 {
		t.Error(faults)
	}
	for name, wrong := range map[string][][]string{
		"an arrow that points up":  {{"a"}, {"c"}, {"b"}},
		"one within a line":        {{"a"}, {"b", "c"}},
		"a package that is absent": {{"a"}, {"b"}},
		"one too many":             {{"a"}, {"b"}, {"c"}, {"d"}},
	} {
		if len(against(wrong, "a", imports)) == 0 {
			t.Errorf("%s passed", name)
		}
	}
}

// Files and folders that DEVELOPERS.md names are there.
func TestNamedFilesExist(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile("`((?:jobs|objectives|constraints|kinematics|optimize|results)/[\\w/.-]+)`").FindAllStringSubmatch(string(text), -1)
	if len(named) < 30 {
		t.Fatalf("only %d files named", len(named))
	}
	for _, n := range named {
		if _, err := os.Stat("../" + n[1]); err != nil {
			t.Errorf("DEVELOPERS.md names %s: %v", n[1], err)
		}
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

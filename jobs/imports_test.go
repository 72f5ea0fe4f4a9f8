package jobs

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is who may import whom among the six packages.
var mayImport = map[string][]string{
	"kinematics":  {},
	"optimize":    {},
	"objectives":  {"kinematics"},
	"constraints": {"kinematics", "objectives"},
	"results":     {"kinematics", "optimize", "objectives", "constraints"},
	"jobs":        {"kinematics", "optimize", "objectives", "constraints", "results"},
}

// onlyIn is the one package that each of these libraries shows up in.
var onlyIn = map[string]string{
	"github.com/MaxHalford/eaopt":      "optimize",
	"gonum.org/v1/gonum/optimize":      "optimize",
	"github.com/parquet-go/parquet-go": "results",
	"github.com/rs/zerolog":            "jobs",
	"github.com/spf13/cobra":           "jobs",
	"go.yaml.in/yaml/v4":               "jobs",
	"github.com/invopop/jsonschema":    "jobs",
	"golang.org/x/term":                "jobs",
}

// wrongImport says why a package may not import a path; empty when it may. Folders below optimize
// are programs of its own and may import it.
func wrongImport(pkg, path string) string {
	top := strings.Split(pkg, "/")[0]
	if inner, ours := strings.CutPrefix(path, "forkfront/"); ours {
		other := strings.Split(inner, "/")[0]
		if other != top && !slices.Contains(mayImport[top], other) {
			return "imports " + path
		}
		return ""
	}
	for library, home := range onlyIn {
		if (path == library || strings.HasPrefix(path, library+"/")) && top != home {
			return "imports " + library + ", which belongs to " + home
		}
	}
	return ""
}

// The files are read here, not through the go command, so that a cached answer is never taken.
func TestImportsRunOneWay(t *testing.T) {
	root := os.DirFS("..")
	read := 0
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != "." && strings.HasPrefix(d.Name(), ".") {
			return fs.SkipDir
		}
		pkg := filepath.ToSlash(filepath.Dir(path))
		if !strings.HasSuffix(path, ".go") || pkg == "." {
			return nil
		}
		if _, known := mayImport[strings.Split(pkg, "/")[0]]; !known {
			t.Errorf("%s lies outside the six packages", path)
		}
		text, err := fs.ReadFile(root, path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, i := range file.Imports {
			name, _ := strconv.Unquote(i.Path.Value)
			if why := wrongImport(pkg, name); why != "" && !strings.HasSuffix(path, "_test.go") {
				t.Errorf("%s %s", path, why)
			}
		}
		read++
		return nil
	})
	if err != nil || read < 20 {
		t.Fatalf("read %d files: %v", read, err)
	}
}

func TestWrongImportsAreDetected(t *testing.T) {
	for _, x := range [][2]string{
		{"kinematics", "forkfront/objectives"},
		{"results", "forkfront/jobs"},
		{"optimize/bench", "forkfront/kinematics"},
		{"jobs", "github.com/parquet-go/parquet-go"},
		{"objectives", "gonum.org/v1/gonum/optimize/functions"},
	} {
		if wrongImport(x[0], x[1]) == "" {
			t.Errorf("%s may not import %s", x[0], x[1])
		}
	}
}

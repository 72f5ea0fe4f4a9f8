package jobs

import (
	"bytes"
	"context"
	"encoding/gob"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/examples"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/jobs/shards"
	"forkfront/jobs/store"
	"forkfront/kinematics"
	"forkfront/results/cad"
)

// seeds adds files to a corpus.
func seeds(f *testing.F, patterns ...string) {
	f.Helper()
	n := 0
	for _, pattern := range patterns {
		files, _ := filepath.Glob(pattern)
		for _, path := range files {
			text, err := os.ReadFile(path)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
			n++
		}
	}
	if n == 0 {
		f.Fatalf("no file matches %v", patterns)
	}
}

// A concept is either refused or scored, and what is scored has no NaN in it.
func FuzzReadConcept(f *testing.F) {
	seeds(f, "examples/*girder*.yaml", "examples/*arm*.yaml", "testdata/broken/concept*.yaml", "testdata/broken-concepts/*.yaml")
	f.Fuzz(func(t *testing.T, text []byte) {
		c, s, err := files.ReadConcept("fuzz.yaml", bytes.NewReader(text))
		if (c == nil) == (err == nil) {
			t.Fatalf("concept %v with error %v; exactly one is expected", c, err)
		}
		if err != nil {
			return
		}
		d, err := cases.Design(c, s, &strings.Builder{})
		if err != nil {
			return
		}
		out, score := score.Examine(c.Concept, cases.Conditions(c), d)
		var json strings.Builder
		if err := out.WriteJSON(&json); err != nil { // NaN and infinities cannot be written
			t.Fatalf("%v; fault %q", err, score.Fault)
		}
	})
}

// A drawing or table is either refused or says where points of the mechanism are, with finite numbers.
func FuzzReadPivots(f *testing.F) {
	text, err := os.ReadFile("examples/cargo-girder.yaml")
	if err != nil {
		f.Fatal(err)
	}
	c, _, err := files.ReadConcept("girder.yaml", bytes.NewReader(text))
	if err != nil {
		f.Fatal(err)
	}
	for _, form := range []string{"drawing", "drawing-r12", "table"} {
		var out strings.Builder
		if code := Main(context.Background(), process.Env{Args: []string{"extract", "examples/cargo-girder.yaml", "--as", form}, Out: &out, Err: io.Discard}); code != process.Done {
			f.Fatalf("exit %d", code)
		}
		f.Add([]byte(out.String()))
	}
	f.Add([]byte("name;along_mm;ahead_mm\naxle;408,0;38,0\n"))
	m, chassis := files.Compile(c.Spec), c.Chassis()
	f.Fuzz(func(t *testing.T, text []byte) {
		drawn, err := cad.ReadDrawing("fuzz.dxf", bytes.NewReader(text), m, &chassis)
		if (drawn == nil) == (err == nil) {
			t.Fatalf("points %v with error %v; exactly one is expected", drawn, err)
		}
		listed, err := cad.ReadPivotTable("fuzz.csv", bytes.NewReader(text), m, &chassis, nil)
		if (listed == nil) == (err == nil) {
			t.Fatalf("points %v with error %v; exactly one is expected", listed, err)
		}
		for _, all := range []map[string]kinematics.Vec[float64]{drawn, listed} {
			for name, at := range all {
				if size := math.Hypot(at.Along, at.Ahead); math.IsNaN(size) || math.IsInf(size, 0) {
					t.Fatalf("%s is at %v", name, at)
				}
			}
		}
	})
}

// A mechanism is either refused or compiles to something that says how it is solved.
func FuzzReadMechanism(f *testing.F) {
	seeds(f, "mechanisms/*.yaml")
	f.Fuzz(func(t *testing.T, text []byte) {
		m, _, err := files.ReadMechanism("fuzz.yaml", bytes.NewReader(text))
		if (m == nil) == (err == nil) {
			t.Fatalf("mechanism %v with error %v; exactly one is expected", m, err)
		}
		if m != nil && len(m.Solution()) == 0 {
			t.Fatal("compiles and cannot be solved")
		}
	})
}

// A plan is either refused or whole.
func FuzzReadPlan(f *testing.F) {
	job, _, err := files.ReadJob("demo", bytes.NewReader(examples.Demo()))
	if err != nil {
		f.Fatal(err)
	}
	b := &store.Begun{}
	if b, err = store.Pack(job, "demo", "", 0, b.Started); err != nil {
		f.Fatal(err)
	}
	p, err := shards.NewPlan(job, b, 2, 0, "x")
	if err != nil {
		f.Fatal(err)
	}
	path := filepath.Join(f.TempDir(), "plan.json")
	if err := p.Write(path); err != nil {
		f.Fatal(err)
	}
	seeds(f, path)
	f.Fuzz(func(t *testing.T, text []byte) {
		p, j, err := shards.ReadPlan("fuzz.json", bytes.NewReader(text))
		if err == nil && (j == nil || len(cases.Cases(j)) != len(p.Cases)) {
			t.Fatal("a plan whose job has other cases was taken")
		}
	})
}

// Whatever stands behind a good seal: an error or something read, never a panic.
func FuzzUnseal(f *testing.F) {
	var body bytes.Buffer
	if err := gob.NewEncoder(&body).Encode(&store.DoneCase{Digest: "d"}); err != nil {
		f.Fatal(err)
	}
	f.Add(body.Bytes(), true)
	f.Add([]byte{}, false)
	f.Fuzz(func(t *testing.T, body []byte, good bool) {
		path := filepath.Join(t.TempDir(), "x.checkpoint")
		sealed := store.Sealed(body)
		if !good {
			sealed[len(store.SealLine)]++
		}
		if err := os.WriteFile(path, sealed, 0o644); err != nil {
			t.Fatal(err)
		}
		err := store.Unseal(path, new(store.DoneCase))
		if !good && err == nil {
			t.Fatal("a broken seal was taken")
		}
		_ = store.Unseal(path, new(store.AtWork))
		_ = store.Unseal(path, new(store.Begun))
	})
}

// A folder with anything in its files: report, extract and resume end with an exit code.
func FuzzFolder(f *testing.F) {
	f.Add([]byte("PAR1"), []byte("{}"), []byte("cases:"))
	f.Fuzz(func(t *testing.T, front, record, cases []byte) {
		dir := t.TempDir()
		for name, text := range map[string][]byte{"front.parquet": front, "curves.parquet": front, "history.parquet": front, "run.json": record, "cases.yaml": cases} {
			if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		for _, args := range [][]string{{"extract", dir, "a/b/1/2"}, {"resume", dir}, {"merge", "--plan", filepath.Join(dir, "run.json"), "--out", dir}} {
			var o, e strings.Builder
			if code := Main(context.Background(), process.Env{Args: args, In: strings.NewReader(""), Out: &o, Err: &e}); code == process.Done {
				t.Fatalf("%v went through: %s", args, o.String())
			}
		}
	})
}

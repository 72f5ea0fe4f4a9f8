package record

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"
)

func TestRunRecordRoundTrip(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "run.json")
	start := time.Date(2031, 5, 6, 7, 8, 9, 0, time.FixedZone("east", 3600))
	r := New(start)
	r.JobSHA256, r.Seed, r.Workers = strings.Repeat("ab", 32), 1<<63+1, 2
	r.Cases = []Case{{Name: "girder", Stop: "budget spent", Evaluations: 100, Feasible: 40, Front: 12, Seconds: 1.5}}
	if err := r.Write(path); err != nil {
		t.Fatal(err)
	}
	back, err := Read(path)
	if err == nil && back.Sealed() {
		back.sealed = false // what was not read from a file is not
	} else {
		t.Error("the record has no checksum")
	}
	if err != nil || !reflect.DeepEqual(*back, r) {
		t.Errorf("wrote %+v\nread %+v (%v)", r, back, err)
	}
	text, _ := os.ReadFile(path)
	for _, says := range []string{`"started": "2031-05-06T06:08:09Z"`, `"seed": 9223372036854775809`, "ISO 4210-6"} {
		if !strings.Contains(string(text), says) {
			t.Errorf("run.json does not say %s", says)
		}
	}
	if strings.Contains(string(text), `"finished"`) {
		t.Error("a run at work says that it has finished")
	}
	left, _ := filepath.Glob(filepath.Join(dir, "*run.json?*"))
	if len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestRunRecordRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "run.json")
	for text, says := range map[string]string{
		"":                      "unexpected end",
		`{"program"`:            "unexpected end",
		`{"schema_version": 9}`: "version 9",
		`{"colour": 1}`:         "colour",
	} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Read(path); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: got %v, want %q", text, err, says)
		}
	}
}

// A digit that is not the one that was written makes no other record.
func TestADamagedRunRecordIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "run.json")
	r := New(time.Now())
	r.Cases = []Case{{Name: "girder", Evaluations: 100}}
	if err := r.Write(path); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	damaged := strings.Replace(string(text), `"evaluations": 100`, `"evaluations": 108`, 1)
	if err := os.WriteFile(path, []byte(damaged), 0o600); err != nil {
		t.Fatal(err)
	}
	if back, err := Read(path); err == nil || !strings.Contains(err.Error(), "checksum") || !strings.Contains(err.Error(), path) {
		t.Errorf("read %+v, %v", back, err)
	}
}

package progress

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/results/sealed"
)

// A line that was cut off is gone when the log is opened again; whole lines stay.
func TestTornLineIsRemoved(t *testing.T) {
	long := strings.Repeat("x", 10_000)
	for text, kept := range map[string]string{
		"":                             "",
		"{\"a\":1}\n":                  "{\"a\":1}\n",
		"{\"a\":1}\n{\"b\":":           "{\"a\":1}\n",
		"{\"cut":                       "",
		long + "\n" + long:             long + "\n",
		"\n" + long[:4096]:             "\n",
		long[:4095] + "\n":             long[:4095] + "\n",
		long[:4096] + "\n" + long[:17]: long[:4096] + "\n",
	} {
		path := filepath.Join(t.TempDir(), "log.jsonl")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		l, err := openLines(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := l.Write([]byte("{}\n")); err != nil {
			t.Fatal(err)
		}
		l.Close()
		if got, err := os.ReadFile(path); err != nil || string(got) != kept+string(sealed.Line(nil, []byte("{}"))) {
			t.Errorf("%.20q (%d bytes) became %.20q (%d bytes), %v", text, len(text), got, len(got), err)
		}
	}
}

// A file that may not grow beyond a few bytes takes part of a line, as a full disk does; nothing of it stays.
func TestLineThatDoesNotFitLeavesNothing(t *testing.T) {
	if path := os.Getenv("FORKFRONT_TEST_LOG"); path != "" {
		l, err := openLines(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range []string{strings.Repeat("a", 400) + "\n", strings.Repeat("b", 2000) + "\n", "c\n"} {
			_, err := l.Write([]byte(line))
			t.Logf("WROTE %d: %v", len(line), err)
		}
		return
	}
	path := filepath.Join(t.TempDir(), "log.jsonl")
	limited := exec.Command("bash", "-c", `ulimit -f 1 && trap '' XFSZ && exec "$0" -test.run=^TestLineThatDoesNotFitLeavesNothing$ -test.v`, os.Args[0])
	limited.Env = append(os.Environ(), "FORKFRONT_TEST_LOG="+path)
	said, err := limited.CombinedOutput()
	if err != nil {
		t.Skipf("no limit on the size of files here: %v: %s", err, said)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != strings.Repeat("a", 400)+"\nc\n" {
		t.Errorf("%d bytes, %v: %.500q\n%s", len(got), err, got, said)
	}
}

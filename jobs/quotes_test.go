package jobs

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/process"
)

func fileText(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// What the page on a user's own mechanism quotes of its files stands there, and the two refusals that it
// quotes are said.
func TestThePageOnAnOwnMechanismQuotesItsFiles(t *testing.T) {
	page := fileText(t, "docs/own-mechanism.md")
	files := fileText(t, "examples/own/three-links.yaml") + fileText(t, "examples/short/own-three-links.yaml")
	blocks := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllStringSubmatch(page, -1)
	for _, b := range blocks {
		if !strings.Contains(files, b[1]) {
			t.Errorf("no longer in the files:\n%s", b[1])
		}
	}
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	write("loose.yaml", loose(fileText(t, "examples/own/three-links.yaml")))
	one := write("one.yaml", regexp.MustCompile(`(?m)^mechanism: .*$`).ReplaceAllString(fileText(t, "examples/own-three-links.yaml"), "mechanism: loose.yaml"))
	two := write("two.yaml", strings.Replace(fileText(t, "examples/cargo-low-four-bar.yaml"), "travel_mm: 100", "travel_mm: 300", 1))
	said := ""
	for path, want := range map[string]int{one: process.Input, two: process.Nothing} {
		code, out, errs := command(t, "score", path)
		if code != want {
			t.Errorf("%s: exit %d, want %d: %s", path, code, want, errs)
		}
		said += out + strings.ReplaceAll(errs, dir+"/", "")
	}
	refusals := regexp.MustCompile("(?s)```\n(?:loose|the axle).*?```").FindAllString(page, -1)
	for _, r := range refusals {
		if line := strings.Trim(r, "`\n"); !strings.Contains(said, line) {
			t.Errorf("nobody says %q but %s", line, said)
		}
	}
	if len(blocks) != 3 || len(refusals) != 2 {
		t.Errorf("%d quotes and %d refusals were checked", len(blocks), len(refusals))
	}
}

// loose is the mechanism without its stay.
func loose(own string) string {
	var lines []string
	for _, line := range strings.Split(own, "\n") {
		if !strings.HasPrefix(line, "  stay") {
			lines = append(lines, line)
		}
	}
	return strings.NewReplacer(", stay, leg", ", leg", ", [root, stay_pivot], [stay_pivot, shock_upper]", ", [root, shock_upper]", ", [rear_bottom, stay_end]", "").Replace(strings.Join(lines, "\n"))
}

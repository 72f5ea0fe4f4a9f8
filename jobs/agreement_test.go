package jobs

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// twoBikes runs the sweep of 24 cases over two bikes with few evaluations and wider limits, so that both bikes have
// forks, and returns its folder and what it printed.
func twoBikes(t *testing.T) (dir, printed string) {
	t.Helper()
	text := fileText(t, "examples/bikes.yaml")
	for _, change := range [][2]string{
		{"evaluations: 6000", "evaluations: 300"},
		{"front_size: 100", "front_size: 25"},
		{"{measure: spring_rate_n_per_mm, max: 114}", "{measure: spring_rate_n_per_mm, max: 200}"},
		{"{measure: hub_clearance_mm, min: 1}", "{measure: hub_clearance_mm, min: 0.2}"},
		{"{measure: shock_stroke_used_pct, min: 88, max: 100}", "{measure: shock_stroke_used_pct, min: 70, max: 100}"},
	} {
		if !strings.Contains(text, change[0]) {
			t.Fatalf("the example does not have %q", change[0])
		}
		text = strings.Replace(text, change[0], change[1], 1)
	}
	dir = filepath.Join(t.TempDir(), "out")
	code, printed, said := command(t, "run", jobFile(t, text), "--out", dir)
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	if code, _, said := command(t, "report", dir, "--figures"); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	return dir, printed
}

// suggestion is a row of shortlist.parquet.
type suggestion struct{ id, bike, name, reason string }

func suggestions(t *testing.T, dir string) (all []suggestion, ids []string) {
	t.Helper()
	list, err := table.Read(filepath.Join(dir, results.ShortlistFile))
	if err != nil {
		t.Fatal(err)
	}
	text := func(column string, row int) string { return list.Series[list.Index(column)].Texts[row] }
	for row := range list.Rows {
		s := suggestion{text("candidate", row), text("bike", row), text("name", row), text("reason", row)}
		all = append(all, s)
		if !slices.Contains(ids, s.id) {
			ids = append(ids, s.id)
		}
	}
	return all, ids
}

// In a sweep of two bikes and 24 cases, shortlist, console, report, figures, extract and score name the same forks and
// give them the same values.
func TestReadersOfASweepAgree(t *testing.T) {
	t.Parallel()
	dir, printed := twoBikes(t)
	all, ids := suggestions(t, dir)
	bikes := map[string]bool{}
	for _, s := range all {
		bikes[s.bike] = true
	}
	if len(bikes) != 2 || len(ids) < 12 {
		t.Fatalf("%d suggested forks of %d bikes", len(ids), len(bikes))
	}
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]int{}
	for row, id := range front.Series[front.Index("candidate")].Texts {
		rows[id] = row
	}
	var listed []string // on the console: the table before the comparison with the telescopic fork
	before, _, _ := strings.Cut(printed, "compared with the telescopic fork")
	for _, line := range strings.Split(before, "\n") {
		if id, _, _ := strings.Cut(line, "  "); rows[id] > 0 || id == front.Series[front.Index("candidate")].Texts[0] {
			listed = append(listed, id)
		}
	}
	if !slices.Equal(listed, ids) {
		t.Errorf("the console lists\n%s\nthe shortlist\n%s", strings.Join(listed, "\n"), strings.Join(ids, "\n"))
	}
	agreeReport(t, dir, ids, front, rows)
	agreeFigures(t, dir, all)
	for i, s := range all {
		if i%3 > 0 {
			continue // one in three is enough
		}
		agreeExtract(t, dir, s, front, rows[s.id])
	}
}

// agreeReport compares the list of suggestions in the page, and the numbers packed for its script, with the front.
func agreeReport(t *testing.T, dir string, ids []string, front *table.Table, rows map[string]int) {
	t.Helper()
	page := fileText(t, filepath.Join(dir, results.ReportFile))
	var shown []string
	for _, m := range regexp.MustCompile(`data-pick="\d+"><td class="tick"></td><th scope="row">(.*?)</th>`).FindAllStringSubmatch(page, -1) {
		shown = append(shown, html.UnescapeString(strings.ReplaceAll(m[1], "<wbr>", "")))
	}
	if !slices.Equal(shown, ids) {
		t.Errorf("the report lists\n%s\nthe shortlist\n%s", strings.Join(shown, "\n"), strings.Join(ids, "\n"))
	}
	var packed struct {
		IDs     []string
		Columns []struct{ Name string }
		Picks   []struct{ Row int }
	}
	if err := json.Unmarshal(pageScript(t, page, "packed"), &packed); err != nil {
		t.Fatal(err)
	}
	planes, n := pageScript(t, page, "values"), len(packed.IDs)
	value := func(column, row int) float64 { // to four digits, see results/report/values.go
		of := func(plane int) int { return int(planes[(4*column+plane)*n+row]) }
		if whole := int16(of(0) | of(1)<<8); whole != math.MinInt16 {
			return float64(whole) * math.Pow10((of(2)|of(3)<<8)-512)
		}
		return math.NaN()
	}
	for i, p := range packed.Picks {
		if packed.IDs[p.Row] != ids[i] {
			t.Errorf("the page's suggestion %d is %s, not %s", i, packed.IDs[p.Row], ids[i])
		}
		for k, c := range packed.Columns {
			want, got := front.Number(front.Index(c.Name), rows[ids[i]]), value(k, p.Row)
			if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 0.00051*math.Abs(want) {
				t.Errorf("%s: the page has %v for %s, the front %g", ids[i], got, c.Name, want)
			}
		}
	}
}

// pageScript unpacks a script of the page: base64 of deflate.
func pageScript(t *testing.T, page, id string) []byte {
	t.Helper()
	coded, err := base64.StdEncoding.DecodeString(regexp.MustCompile(`id="` + id + `">([^<]*)<`).FindStringSubmatch(page)[1])
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(flate.NewReader(bytes.NewReader(coded)))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// agreeFigures reads the numbered forks out of the figures of curves: each is a balanced one of its bike.
func agreeFigures(t *testing.T, dir string, all []suggestion) {
	t.Helper()
	number := 0
	for bike := 1; bike <= 2; bike++ {
		text := fileText(t, filepath.Join(dir, results.FiguresDir, fmt.Sprintf("fork-curves-%d.svg", bike)))
		named := regexp.MustCompile(`>(\d+): ([^<]*)<`).FindAllStringSubmatch(text, -1)
		if len(named) == 0 {
			t.Errorf("figure %d names no fork", bike)
		}
		for _, m := range named {
			if number++; m[1] != fmt.Sprint(number) {
				t.Errorf("figure %d has fork %s where %d is due", bike, m[1], number)
			}
			parts := strings.Split(html.UnescapeString(m[2]), "/")
			if !slices.ContainsFunc(all, func(s suggestion) bool {
				return s.reason == "balanced" && strings.HasSuffix(s.id, "/"+parts[len(parts)-1]) && strings.Contains(s.id, parts[0])
			}) {
				t.Errorf("figure %d shows %s, which the shortlist does not have as balanced", bike, m[2])
			}
			if _, err := os.Stat(filepath.Join(dir, results.FiguresDir, fmt.Sprintf("fork-side-%d.svg", number))); err != nil {
				t.Error(err)
			}
		}
	}
}

// agreeExtract takes a fork out by the name of its suggestion and scores it: all measures are those of the front.
func agreeExtract(t *testing.T, dir string, s suggestion, front *table.Table, row int) {
	t.Helper()
	code, concept, said := command(t, "extract", dir, s.name)
	if code != process.Done || !strings.Contains(concept, "concept: "+s.id+"\n") {
		t.Errorf("extract %s: exit %d, %s, not %s", s.name, code, said, s.id)
		return
	}
	code, text, said := command(t, "score", jobFile(t, concept), "--json")
	if code != process.Done {
		t.Errorf("score %s: exit %d, %s", s.name, code, said)
		return
	}
	var scored struct {
		Measures map[string]*float64
	}
	if err := json.Unmarshal([]byte(text), &scored); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for name, value := range scored.Measures {
		want := front.Number(front.Index(name), row)
		if value == nil || math.IsNaN(want) {
			continue
		}
		compared++
		// Coordinates are written to 0.1 µm, which measures that are small differences feel most.
		if math.Abs(*value-want) > 1e-4*math.Abs(want)+1e-3 {
			t.Errorf("%s: %s is %g as scored, %g in the front", s.name, name, *value, want)
		}
	}
	if compared < 20 {
		t.Errorf("%s: %d measures compared", s.name, compared)
	}
}

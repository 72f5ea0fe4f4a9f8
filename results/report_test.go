package results

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"forkfront/results/record"
	"forkfront/results/report"
	"forkfront/results/table"
)

// smallFront writes a front of three candidates: straightness low, margin high (as the search
// writes it, negated), and a band.
func smallFront(t *testing.T, f *Folder, id string) {
	t.Helper()
	columns := []table.Column{
		{Name: "candidate", Kind: table.Text},
		{Name: "case", Kind: table.Text},
		{Name: "trail_variation_mm", Unit: "mm", Sense: "low", Kind: table.Float, Source: "measure"},
		{Name: "transmission_angle_min_deg", Unit: "deg", Kind: table.Float, Source: "measure"},
		{Name: "anti_dive_at_sag_pct", Unit: "%", Kind: table.Float, Source: "measure", Optional: true},
		{Name: "objective_trail_variation_mm", Unit: "mm", Sense: "low", Kind: table.Float, Source: "objective"},
		{Name: "objective_transmission_angle_min_deg", Unit: "deg", Sense: "low", Kind: table.Float, Source: "objective"},
		{Name: "objective_anti_dive_at_sag_pct", Unit: "%", Sense: "low", Kind: table.Float, Source: "objective"},
	}
	trail, angle, band := []float64{12.5, 30, 20}, []float64{40, 60, 55}, []float64{5, 0, 1}
	err := table.Write(f.Path(FrontFile), columns, nil, 3, func(w *table.Writer, row int) {
		w.Text(0, id)
		w.Text(1, "cargo/girder/1")
		w.Float(2, trail[row])
		w.Float(3, angle[row])
		w.FloatOrNull(4, nil)
		w.Float(5, trail[row])
		w.Float(6, -angle[row])
		w.Float(7, band[row])
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestReport(t *testing.T) {
	f, err := Open(t.TempDir(), false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.WriteReport(report.Forks{}, 1); err == nil {
		t.Error("a report of no front")
	}
	hostile := `</script><script>alert(1)</script>`
	smallFront(t, f, hostile)
	r := record.New(time.Now())
	r.JobName = "<b>night</b>"
	r.Cases = []record.Case{{Name: "cargo/girder/1", Stop: "evaluations", Evaluations: 200, Feasible: 50, Front: 3}}
	if err := f.WriteRun(&r); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteReport(report.Forks{}, 1); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(f.Path(ReportFile))
	if err != nil {
		t.Fatal(err)
	}
	checkPage(t, string(text), hostile)
	checkPacked(t, unpackPage(t, string(text)))
}

func checkPage(t *testing.T, page, hostile string) {
	t.Helper()
	for _, says := range []string{"ISO 4210-6", "3 candidates", "25 %", "&lt;b&gt;night", "trail variation, mm", "<td>12.5</td>"} {
		if !strings.Contains(page, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	if strings.Contains(page, hostile) {
		t.Error("text from the table stands in the page as markup")
	}
	// Nothing may be fetched; the SVG namespace is a name, not an address.
	outside := strings.ReplaceAll(page, "http://www.w3.org/2000/svg", "")
	if at := regexp.MustCompile(`https?:|src=|@import|url\(|fetch\(`).FindString(outside); at != "" {
		t.Errorf("the page refers to something outside: %s", at)
	}
}

// unpackPage reads the packed data of a page, with the values in their columns.
func unpackPage(t *testing.T, page string) map[string]any {
	t.Helper()
	var p map[string]any
	if err := json.Unmarshal(unpackScript(t, page, "packed"), &p); err != nil {
		t.Fatal(err)
	}
	planes, rows := unpackScript(t, page, "values"), len(p["ids"].([]any))
	for i, c := range p["columns"].([]any) {
		of := func(plane, row int) int { return int(planes[(4*i+plane)*rows+row]) }
		var values []any
		for row := range rows {
			whole, power := int16(of(0, row)|of(1, row)<<8), of(2, row)|of(3, row)<<8
			var value any
			if whole != math.MinInt16 {
				var err error
				if value, err = strconv.ParseFloat(fmt.Sprintf("%de%d", whole, power-512), 64); err != nil {
					t.Fatal(err)
				}
			}
			values = append(values, value)
		}
		c.(map[string]any)["values"] = values
	}
	return p
}

// unpackScript reads a packed script of a page: base64 of deflate.
func unpackScript(t *testing.T, page, id string) []byte {
	t.Helper()
	coded := regexp.MustCompile(`id="` + id + `">([^<]*)<`).FindStringSubmatch(page)
	if coded == nil {
		t.Fatalf("no script %s in the page", id)
	}
	raw, err := base64.StdEncoding.DecodeString(coded[1])
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(flate.NewReader(bytes.NewReader(raw)))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// Objectives are read as people name them: as the measure with its own sense where the search's
// number is that of the measure (trail) or its negative (angle, so high is better), as the search's
// own where it is neither (a band).
func checkPacked(t *testing.T, p map[string]any) {
	t.Helper()
	columns := p["columns"].([]any)
	want := []struct {
		name   string
		better float64
	}{{"trail_variation_mm", 1}, {"transmission_angle_min_deg", -1}, {"objective_anti_dive_at_sag_pct", 1}, {"anti_dive_at_sag_pct", 0}}
	if len(columns) != len(want) {
		t.Fatalf("%d columns", len(columns))
	}
	for i, w := range want {
		c := columns[i].(map[string]any)
		if c["name"] != w.name || c["better"] != w.better {
			t.Errorf("column %d is %v, %v; want %v", i, c["name"], c["better"], w)
		}
	}
	if values := columns[3].(map[string]any)["values"].([]any); len(values) != 3 || values[0] != nil {
		t.Errorf("NULL became %v", values)
	}
	if first := columns[0].(map[string]any)["values"].([]any)[0]; first != 12.5 {
		t.Errorf("12.5 became %v", first)
	}
	// Ranks by hand: trail 0 2 1, angle 2 0 1, band 2 0 1 (thirds): the third candidate's worst is 1.
	var rows []any
	for _, x := range p["picks"].([]any) {
		rows = append(rows, x.(map[string]any)["row"])
	}
	if len(rows) != 3 || rows[0] != 2.0 || rows[1] != 0.0 || rows[2] != 1.0 {
		t.Errorf("picks %v; want the balanced 2, then 0 for trail and 1 for angle and band", rows)
	}
}

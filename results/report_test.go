package results

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"io"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

// smallFront writes a front of three candidates: straightness low, margin high (as the search
// writes it, negated), and a band.
func smallFront(t *testing.T, f *Folder, id string) {
	t.Helper()
	columns := []Column{
		{Name: "candidate", Kind: Text},
		{Name: "case", Kind: Text},
		{Name: "trail_variation_mm", Unit: "mm", Sense: "low", Kind: Float, Source: "measure"},
		{Name: "transmission_angle_min_deg", Unit: "deg", Kind: Float, Source: "measure"},
		{Name: "anti_dive_at_sag_pct", Unit: "%", Kind: Float, Source: "measure", Optional: true},
		{Name: "objective_trail_variation_mm", Unit: "mm", Sense: "low", Kind: Float, Source: "objective"},
		{Name: "objective_transmission_angle_min_deg", Unit: "deg", Sense: "low", Kind: Float, Source: "objective"},
		{Name: "objective_anti_dive_at_sag_pct", Unit: "%", Sense: "low", Kind: Float, Source: "objective"},
	}
	trail, angle, band := []float64{12.5, 30, 20}, []float64{40, 60, 55}, []float64{5, 0, 1}
	err := WriteTable(f.Path(FrontFile), columns, nil, 3, func(w *TableWriter, row int) {
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
	if err := f.WriteReport(nil, 1); err == nil {
		t.Error("a report of no front")
	}
	hostile := `</script><script>alert(1)</script>`
	smallFront(t, f, hostile)
	r := NewRunRecord(time.Now())
	r.JobName = "<b>night</b>"
	r.Cases = []CaseRecord{{Name: "cargo/girder/1", Stop: "evaluations", Evaluations: 200, Feasible: 50, Front: 3}}
	if err := f.WriteRun(&r); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteReport(nil, 1); err != nil {
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

// unpackPage reads the packed data of a page: base64 of deflate of a length, JSON and motions.
func unpackPage(t *testing.T, page string) map[string]any {
	t.Helper()
	coded := regexp.MustCompile(`id="packed">([^<]*)<`).FindStringSubmatch(page)
	if coded == nil {
		t.Fatal("no packed data in the page")
	}
	raw, err := base64.StdEncoding.DecodeString(coded[1])
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(flate.NewReader(bytes.NewReader(raw)))
	if err != nil {
		t.Fatal(err)
	}
	var p map[string]any
	if err := json.Unmarshal(text[4:4+binary.LittleEndian.Uint32(text)], &p); err != nil {
		t.Fatal(err)
	}
	return p
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

// A track read back by the rule that its comment states is off by half a step at most.
func TestTracksReadBack(t *testing.T) {
	values := make([]float64, 33)
	for i := range values {
		values[i] = -150 + 40*math.Sin(float64(i)/9) + float64(i)*float64(i)
	}
	b := appendTrack(nil, values, placeMM)
	n, used := binary.Uvarint(b)
	b = b[used:]
	var last, before int64
	for i := range int(n) {
		d, used := binary.Varint(b)
		b = b[used:]
		v := d + 2*last - before
		before, last = last, v
		if off := math.Abs(float64(v)*placeMM - values[i]); off > placeMM/2+1e-9 {
			t.Errorf("value %d is off by %g", i, off)
		}
	}
	if int(n) != len(values) || len(b) != 0 {
		t.Errorf("%d values, %d bytes left", n, len(b))
	}
}

// Growth by hand: of a last hypervolume of 0.5, 0.49 was there at 80 % of the evaluations, so the
// last fifth added 2 %, which is not settled; 0.498 makes it 0.4 %, which is.
func TestConvergenceIsJudged(t *testing.T) {
	for _, x := range []struct {
		before  float64
		settled bool
		says    string
	}{{0.49, false, "still growing: the last fifth of the evaluations added 2 %"}, {0.498, true, "settled: the last fifth of the evaluations added 0.4 %"}} {
		var c caseTrust
		c.converged([]step{{100, 0.1}, {800, x.before}, {900, 0.499}, {1000, 0.5}})
		if c.Settled != x.settled || !strings.HasPrefix(c.Verdict, x.says) {
			t.Errorf("%v: %t, %q", x.before, c.Settled, c.Verdict)
		}
	}
	var c caseTrust
	if c.converged(nil); c.Settled || !strings.HasPrefix(c.Verdict, "nothing feasible found") {
		t.Errorf("nothing found: %t, %q", c.Settled, c.Verdict)
	}
}

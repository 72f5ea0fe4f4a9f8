package results

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

func TestReport(t *testing.T) {
	f, err := Open(t.TempDir(), false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.WriteReport(); err == nil {
		t.Error("a report of no front")
	}
	columns := []Column{
		{Name: "mechanism", Kind: Text},
		{Name: "trail_variation_mm", Unit: "mm", Sense: "low", Kind: Float, Source: "objective"},
		{Name: "anti_dive_min_pct", Unit: "%", Sense: "high", Kind: Float, Source: "objective", Optional: true},
	}
	hostile := `</script><script>alert(1)</script>`
	err = WriteTable(f.Path(FrontFile), columns, nil, 2, func(w *TableWriter, row int) {
		w.Text(0, hostile)
		w.Float(1, 12.5)
		w.FloatOrNull(2, nil)
	})
	if err != nil {
		t.Fatal(err)
	}
	r := NewRunRecord(time.Now())
	r.JobName = "<b>night</b>"
	if err := f.WriteRun(&r); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteReport(); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(f.Path(ReportFile))
	if err != nil {
		t.Fatal(err)
	}
	checkPage(t, string(text), hostile)
}

func checkPage(t *testing.T, page, hostile string) {
	t.Helper()
	for _, says := range []string{"ISO 4210-6", "2 candidates", "12.5,null", "trail_variation_mm", "&lt;b&gt;night"} {
		if !strings.Contains(page, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	if strings.Contains(page, hostile) {
		t.Error("text from the table stands in the page as markup")
	}
	// Nothing may be fetched; the SVG namespace is a name, not an address.
	outside := strings.ReplaceAll(page, "http://www.w3.org/2000/svg", "")
	outside = strings.ReplaceAll(outside, `http:\/\/www.w3.org\/2000\/svg`, "")
	if at := regexp.MustCompile(`https?:|src=|@import|url\(`).FindString(outside); at != "" {
		t.Errorf("the page refers to something outside: %s", at)
	}
}

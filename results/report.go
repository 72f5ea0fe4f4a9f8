package results

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"strings"

	"github.com/google/renameio/v2"
)

//go:embed page
var pageFiles embed.FS

// pageScripts are the parts of the page's script, in the order in which they need each other.
var pageScripts = []string{
	"unpack.js", "scales.js", "state.js", "draw.js", "lines.js", "scatter.js", "table.js", "sideview.js", "curves.js", "parts.js", "chosen.js", "start.js",
}

var reportTemplate = template.Must(template.ParseFS(pageFiles, "page/page.html.tmpl"))

// maxReportRows bounds what goes into the page, which has to open at once.
const maxReportRows = 5000

// ForkOf gives the candidate of a row of front.parquet. Several goroutines may call it at once.
type ForkOf func(row int) (*Fork, error)

// reportPage is what the template shows. Packed is read by the page's script, the rest stands in the
// page without one.
type reportPage struct {
	Style   template.CSS
	Script  template.JS
	Run     *RunRecord
	Caution string
	Rows    int
	Left    int // candidates that the page leaves out
	Title   string
	Cases   []caseTrust
	Settled int      // of them
	Nothing int      // of them that found nothing feasible
	Tried   int      // evaluations of all of them
	Kept    []string // constraints
	Overlap string   // how many candidates have parts that overlap; empty: none
	Picks   pickTable
	Packed  template.HTML // base64 alone, nothing to escape
}

// WriteReport makes report.html of the folder's tables and, where there is one, run.json: one page
// that needs no network. With forks it shows the candidates in motion, worked out on so many processors; forks
// may be nil.
func (f *Folder) WriteReport(forks ForkOf, processors int) error {
	page, err := f.reportPage(forks, processors)
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	var text bytes.Buffer
	if err := reportTemplate.Execute(&text, page); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	if err := renameio.WriteFile(f.Path(ReportFile), text.Bytes(), 0o644, renameio.WithTempDir(f.Dir)); err != nil {
		return fmt.Errorf("write the report: %w", err)
	}
	return nil
}

func (f *Folder) reportPage(forks ForkOf, processors int) (*reportPage, error) {
	table, err := ReadTable(f.Path(FrontFile))
	if err != nil {
		return nil, err
	}
	run, err := ReadRun(f.Path(RunFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	history, err := ReadTable(f.Path(HistoryFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	shown := min(table.Rows, maxReportRows)
	wanted := wantedOf(table)
	picks := picksOf(table, wanted, shown)
	packed, err := pack(table, wanted, picks, shown, forks, processors)
	if err != nil {
		return nil, err
	}
	page := &reportPage{
		Style: template.CSS(part("page.css")), Script: template.JS(script()), Run: run, Caution: Caution, //nolint:gosec // our own files
		Rows: table.Rows, Left: table.Rows - shown, Title: "front", Cases: trust(run, history), Picks: pickRows(table, wanted, picks), Packed: template.HTML(packed),
	}
	for i := range page.Cases {
		page.Tried += page.Cases[i].Evaluations
		if page.Cases[i].Settled {
			page.Settled++
		}
		if !page.Cases[i].Found {
			page.Nothing++
		}
	}
	if n := overlapping(table); n > 0 {
		page.Overlap = overlaps(n, table.Rows)
	}
	if run != nil {
		page.Kept = keptConstraints(run.Cases)
		if run.JobName != "" {
			page.Title = run.JobName
		}
	}
	return page, nil
}

// Growing counts the searches that found something and have not settled.
func (p *reportPage) Growing() int { return len(p.Cases) - p.Settled - p.Nothing }

// part is a file of the page.
func part(name string) string {
	text, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic("results: a part of the page is not in the program: " + err.Error())
	}
	return string(text)
}

func script() string {
	var all strings.Builder
	for _, name := range pageScripts {
		all.WriteString(part(name))
	}
	return all.String()
}

// Package report turns the tables and the record of a run into one HTML page that needs no network.
package report

import (
	"bytes"
	"embed"
	"html/template"
	"regexp"
	"strings"

	"forkfront/results/display"
	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/rounds"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

//go:embed page
var pageFiles embed.FS

// pageScripts are the parts of the page's script, in the order in which they need each other.
var pageScripts = []string{
	"unpack.js", "theme.js", "scales.js", "state.js", "draw.js", "raster.js", "facets.js", "lines.js", "scatter.js", "table.js", "sideview.js", "curves.js", "events.js", "parts.js", "chosen.js", "tray.js", "export.js", "link.js", "start.js",
}

var pageTemplate = template.Must(template.New("page.html.tmpl").Funcs(template.FuncMap{"signed": signed}).ParseFS(pageFiles, "page/page.html.tmpl"))

var minus = regexp.MustCompile(` -(\d)`)

// signed has negative numbers begin with a minus sign instead of a hyphen.
func signed(text string) string { return minus.ReplaceAllString(text, " −$1") }

// maxRows bounds what goes into the page, which has to open at once.
const maxRows = 20_000

// page is what the template shows. Packed is read by the page's script, the rest stands in the
// page without one.
type page struct {
	Style   template.CSS
	Script  template.JS
	Run     *record.Run
	Caution string
	Rows    int
	Left    int // candidates that the page leaves out
	Title   string
	Cases   []caseTrust
	Settled int      // of them
	Nothing int      // of them that found nothing feasible
	Tried   int      // evaluations of all of them
	Kept    []string // constraints
	Dropped string   // limits on events, with how many candidates of the fronts were outside each; empty: none
	Overlap string   // how many candidates have parts that overlap; empty: none
	Picks   picks.List
	Ride    *picks.Ride // what the suggested candidates did in events; without rows where nothing was simulated
	Several bool        // bikes or packages: candidates are ranked within each
	Packed  texts
	Misses  []missGroup
	Alike   []alike     // searches that found nothing
	Missing int         // cases with near misses that the page leaves out
	Proof   *proofTable // nil: the job has no test loads
	Race    *racePage   // nil: the cases did not race
}

// Contents are what a report is made of.
type Contents struct {
	Front      *table.Table
	Run        *record.Run  // nil: no record
	History    *table.Table // nil: no history
	Nearest    *table.Table // near misses; nil: none
	Trades     *table.Table // of suggested candidates; nil: none
	Events     *table.Table // what candidates did in events; nil: nothing was simulated
	Topologies *table.Table // what the linkages of a race came to; nil: there was no race
	Race       []rounds.Line
	Forks      Forks
	Processors int // to work the motions out on
}

// Forks give the candidates that the page shows; where one is nil, they are listed without being drawn.
type Forks struct {
	Front   sideview.ForkOf // of rows of the front, shown in motion
	Nearest sideview.ForkOf // of rows of the near misses
}

// HTML renders the report.
func HTML(c *Contents) ([]byte, error) {
	page, err := newPage(c)
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	if err := pageTemplate.Execute(&text, page); err != nil {
		return nil, err
	}
	return text.Bytes(), nil
}

func newPage(c *Contents) (*page, error) {
	front := c.Front
	criteria := picks.Criteria(front)
	var prefer picks.Preference
	var telescopic picks.TelescopicOf
	if c.Run != nil {
		prefer, telescopic = c.Run.Prefer, c.Run.Telescopic()
	}
	chosen := picks.Choose(front, criteria, prefer)
	shown := sample(front, chosen, maxRows)
	outcomes := picks.NewOutcomes(c.Events)
	packed, err := packSample(&source{front, criteria, chosen, c.Trades, outcomes, c.Forks.Front, c.Processors}, shown)
	if err != nil {
		return nil, err
	}
	misses, missing, err := missGroups(c.Nearest, c.Run, c.Forks.Nearest)
	if err != nil {
		return nil, err
	}
	p := &page{
		Race:   raceOf(c.Topologies, c.Race),
		Misses: misses, Missing: missing, Alike: stoppedAlike(c.Run),
		Style: template.CSS(part("page.css")), Script: template.JS(script()), Run: c.Run, Caution: display.Caution, //nolint:gosec // our own files
		Rows: front.Rows, Left: front.Rows - len(shown), Title: "front", Cases: trust(c.Run, c.History, front), Picks: picks.NewList(front, criteria, chosen, prefer, telescopic), Packed: packed,
	}
	for i := range p.Cases {
		p.Tried += p.Cases[i].Evaluations
		if p.Cases[i].Settled {
			p.Settled++
		}
		if !p.Cases[i].Found {
			p.Nothing++
		}
	}
	if p.Proof, err = proofOf(chosen, c.Forks.Front); err != nil {
		return nil, err
	}
	var ids []string
	for _, row := range p.Picks.Rows {
		ids = append(ids, row.ID)
	}
	p.Ride = picks.NewRide(outcomes, ids)
	p.Several = len(chosen) > 0 && chosen[0].Setting != ""
	if n := picks.Overlapping(front); n > 0 {
		p.Overlap = picks.OverlapText(n, front.Rows)
	}
	if c.Run != nil {
		p.Dropped = record.DroppedInWords(c.Run.Cases)
		p.Kept = record.ConstraintsInWords(c.Run.Cases)
		if c.Run.JobName != "" {
			p.Title = c.Run.JobName
		}
	}
	return p, nil
}

// Sampled is how many candidates the page shows.
func (p *page) Sampled() int { return p.Rows - p.Left }

// Growing counts the searches that found something and have not settled.
func (p *page) Growing() int { return len(p.Cases) - p.Settled - p.Nothing }

// part is a file of the page.
func part(name string) string {
	text, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic("report: a part of the page is not in the program: " + err.Error())
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

package atlas

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"forkfront/jobs/files"
	"forkfront/jobs/words"
	"forkfront/results/display"
)

//go:embed page.html.tmpl
var pageText string

var pageTemplate = template.Must(template.New("topologies").Parse(pageText))

type page struct {
	Title, Intro, Caution, Command string
	TravelMM                       float64
	Slides                         bool
	Groups                         []*group
}

// group are the linkages whose bodies have the same duties.
type group struct {
	ID, Heading string
	Cards       []card
}

type card struct {
	Code, Names, Text, None string
	Graph, Side             template.HTML // pictures, of which every text is a code or a name of ours
}

// WritePage writes the list as a page that needs no network, with a picture of each linkage on the first bike of a job.
// It returns how many linkages have a sketch.
func WritePage(w io.Writer, entries []Entry, j *files.JobFile, command string) (sketched int, err error) {
	room, differ := j.Room()
	if differ != "" {
		return 0, fmt.Errorf("the bikes and packages of job %s differ in %s; sketches need one bike", j.Job, differ)
	}
	p := page{
		Title: words.Plural(len(entries), "linkage", "linkages") + " for a fork", Caution: display.Caution, TravelMM: j.TravelMM, Command: command,
		Intro: "Every way to join the bodies of a fork by pivots, and to put axle, caliper and shock on them, without those that are the same with other names. They are " +
			"grouped by what the bodies are there for: to guide the axle (the ground included), to carry the caliper, to drive the shock.",
	}
	sketches := allSketches(entries, j, room)
	for i := range entries {
		e := &entries[i]
		p.Slides = p.Slides || e.Slide >= 0
		id := fmt.Sprintf("d%d-%s", e.Bodies, strings.ReplaceAll(e.Duties.String(), "+", "-"))
		if len(p.Groups) == 0 || p.Groups[len(p.Groups)-1].ID != id {
			p.Groups = append(p.Groups, &group{ID: id, Heading: fmt.Sprintf("%s (%s)", e.Duties, heading(e))})
		}
		c := card{
			Code: e.Code, Names: strings.Join(e.BuiltIn, ", "), Text: fmt.Sprintf("shock between %s; solved by %s", e.Drives(), e.Solved()),
			Graph: template.HTML(e.graphPicture()), //nolint:gosec // see card
			None:  fmt.Sprintf("none of %d layouts drawn in each arrangement moves through the travel with a shock that shortens", tries),
		}
		if s := sketches[i]; s != nil {
			sketched++
			c.Text += fmt.Sprintf("; sketch: %s", s.kind)
			c.Side = template.HTML(e.sidePicture(s, j)) //nolint:gosec // see card
		}
		g := p.Groups[len(p.Groups)-1]
		g.Cards = append(g.Cards, c)
	}
	return sketched, pageTemplate.Execute(w, &p)
}

// heading says in words what the bodies of a group are there for.
func heading(e *Entry) string {
	text := fmt.Sprintf("%d bodies guide the axle", e.Duties.Guide)
	if n := e.Duties.Caliper; n > 0 {
		text += fmt.Sprintf(", %d more carry the caliper", n)
	}
	if n := e.Duties.Shock; n > 0 {
		text += fmt.Sprintf(", %d more drive the shock", n)
	}
	return text
}

package report

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"golang.org/x/sync/errgroup"

	"forkfront/objectives"
	"forkfront/objectives/naming"
	"forkfront/results/picks"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// packed is what the page's script reads. It goes into the page as base64 of deflate (RFC 1951) of JSON. Beside it, as
// base64 of deflate too, are the numbers of all columns, as values.go has them, and the motions of the candidates in
// blocks of Block candidates, one after the other: those of the suggested candidates first, in the order of Picks, then
// the others in theirs. The blocks with suggested candidates stand ahead of the script, so that the page can show its first
// forks before all of it is read; it unpacks a block when it first shows one of its forks.
type packed struct {
	IDs     []string       `json:"ids"`
	Case    []int          `json:"case"` // of each candidate, in Cases
	Cases   []*packedCase  `json:"cases"`
	Facets  []packedFacet  `json:"facets"` // what candidates are filtered and coloured by, besides cases
	Columns []packedColumn `json:"columns"`
	Wanted  []int          `json:"wanted"` // objectives, in Columns
	Picks   []packedPick   `json:"picks"`
	Curves  []packedCurve  `json:"curves"` // the first tracks of every motion
	PlaceMM float64        `json:"place_mm"`
	Motion  []int          `json:"motion"` // bytes of each candidate's motion, by row; none without forks
	Block   int            `json:"block"`  // candidates of a block of motions

	Trees [][][][2]int `json:"trees,omitempty"` // links of bodies, where they are not those of the case
	Tree  []int        `json:"tree,omitempty"`  // of each candidate, in Trees; −1: those of its case. None where all have these

	Parts    []string          `json:"parts"`    // that the masses behind the motions are of
	MassG    float64           `json:"mass_g"`   // what one step of them is worth
	Scatters []packedTolerance `json:"scatters"` // measures that the tolerances behind the masses are of
	Pairs    []string          `json:"pairs"`    // of parts
	Closest  []int             `json:"closest"`  // pair of each candidate, -1: none

	Events *packedEvents `json:"ridden,omitempty"` // of the suggested candidates; none where nothing was simulated

	values []byte // of Columns
}

type packedColumn struct {
	Name   string     `json:"name"`
	Label  string     `json:"label"`
	Unit   string     `json:"unit"`
	Doc    string     `json:"doc"`
	Better int        `json:"better"`         // 1: low is better, -1: high, 0: neither
	Note   string     `json:"note,omitempty"` // more about what is wanted
	Aim    *table.Aim `json:"aim,omitempty"`  // of an objective
	Source string     `json:"source"`
}

// packedFacet is a column of names.
type packedFacet struct {
	Name   string   `json:"name"`
	Label  string   `json:"label"`
	Values []string `json:"values"`
	Of     []int    `json:"of"` // of each candidate, in Values
}

// facets are the columns that may be filtered and coloured by, with what people call them.
var facets = []struct{ name, label string }{
	{"bike", "bike"}, {"package", "package"}, {"mechanism", "mechanism"}, {"shock_size", "shock"}, {"material", "material"},
}

type packedPick struct {
	Row  int         `json:"row"`
	Why  string      `json:"why"`
	Gaps []packedGap `json:"gaps,omitempty"` // the closest pairs of parts

	Trades []packedTrade `json:"trades,omitempty"`
}

// packedTrade is an exchange of two objectives: numbers in Wanted, and by how much the search's own numbers change.
type packedTrade struct {
	Gain int     `json:"gain"`
	Cost int     `json:"cost"`
	By   float64 `json:"by"`
	For  float64 `json:"for"`
	Move float64 `json:"move"`
}

type packedGap struct {
	Pair     string  `json:"pair"`
	GapMM    float64 `json:"gap_mm"`
	TravelMM float64 `json:"travel_mm"`
	SteerDeg float64 `json:"steer_deg"`
}

// packedTolerance is a measure that scatters with the places of the pivots.
type packedTolerance struct {
	Name  string `json:"name"` // of its column
	Label string `json:"label"`
	Unit  string `json:"unit"`
}

// packedCurve is a curve of the page, and what one step of its packed whole numbers is worth.
type packedCurve struct {
	Name  string  `json:"name"`
	Label string  `json:"label"`
	Unit  string  `json:"unit"`
	Step  float64 `json:"step"`
}

// placeMM is what one step of a packed coordinate is worth: under a tenth of a pixel at any zoom.
const placeMM = 0.01

// source is what is packed.
type source struct {
	front      *table.Table
	criteria   []picks.Criterion
	chosen     []picks.Pick
	trades     *table.Table    // nil: none
	outcomes   *picks.Outcomes // of events
	forks      sideview.ForkOf // nil: candidates are not drawn
	processors int
}

func pack(s *source) (texts, error) {
	t, rows := s.front, s.front.Rows
	p := &packed{
		IDs: []string{}, Case: []int{}, Wanted: []int{}, Picks: []packedPick{}, Motion: []int{}, PlaceMM: placeMM, Block: blockOf,
		Facets: []packedFacet{}, Parts: []string{}, MassG: massG, Scatters: []packedTolerance{}, Pairs: []string{},
	}
	for _, c := range sideview.Curves() {
		p.Curves = append(p.Curves, packedCurve{c.Of.Name, naming.Label(c.Of.Name), c.Of.Unit, c.Of.Step})
	}
	p.identity(t, rows)
	p.columns(t, s.criteria, rows)
	p.contacts(t, rows)
	p.facets(t, rows)
	for _, k := range s.chosen {
		p.Picks = append(p.Picks, packedPick{Row: k.Row, Why: k.Reasons()})
	}
	p.trade(s.trades)
	var all []movement
	var err error
	if s.forks != nil {
		if all, err = p.motions(rows, s.forks, s.outcomes, s.processors); err != nil {
			return texts{}, err
		}
	}
	blocks := p.blocks(all)
	var riders []*rider
	conditions := map[int]*objectives.Conditions{}
	for row := range all {
		if m := &all[row]; m.rider != nil {
			riders, conditions[p.Case[row]] = append(riders, m.rider), m.conditions
		}
	}
	traces := p.events(riders, conditions, s.outcomes)
	text, err := json.Marshal(p)
	if err != nil {
		return texts{}, err
	}
	coded, err := deflated(append([][]byte{text, p.values, traces}, blocks...), s.processors)
	if err != nil {
		return texts{}, err
	}
	motions := coded[3:]
	first := min((len(p.Picks)+blockOf-1)/blockOf, len(motions))
	out := texts{coded[0], coded[1], motions[:first], motions[first:], ""}
	if traces != nil {
		out.Traces = coded[2]
	}
	return out, nil
}

// texts are the packed data as they stand in the page: only base64, nothing to escape.
type texts struct {
	About   template.HTML // all but numbers and motions
	Numbers template.HTML
	First   []template.HTML // blocks of motions with suggested candidates
	Motions []template.HTML // the other blocks
	Traces  template.HTML   // of events; empty where there are none
}

// blockOf is how many candidates share a block of motions: few enough to be unpacked at once, and enough to pack well.
const blockOf = 128

// deflated packs pieces, side by side.
func deflated(pieces [][]byte, processors int) ([]template.HTML, error) {
	coded := make([]template.HTML, len(pieces))
	var group errgroup.Group
	group.SetLimit(processors)
	for i := range coded {
		group.Go(func() error {
			var err error
			coded[i], err = deflate(pieces[i])
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	return coded, nil
}

func deflate(piece []byte) (template.HTML, error) {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.DefaultCompression)
	if err != nil {
		return "", err
	}
	if _, err := w.Write(piece); err != nil {
		return "", err
	}
	if err := w.Close(); err != nil {
		return "", err
	}
	return template.HTML(base64.StdEncoding.EncodeToString(packed.Bytes())), nil //nolint:gosec // base64
}

func (p *packed) identity(t *table.Table, rows int) {
	id, kind := t.Index("candidate"), t.Index("case")
	if kind < 0 {
		kind = t.Index("mechanism")
	}
	at := map[string]int{}
	for row := range rows {
		name, of := fmt.Sprintf("row %d", row), "all"
		if id >= 0 {
			name = t.Series[id].Texts[row]
		}
		if kind >= 0 && !t.Null(kind, row) {
			of = t.Series[kind].Texts[row]
		}
		if _, known := at[of]; !known {
			at[of] = len(p.Cases)
			p.Cases = append(p.Cases, &packedCase{Name: of})
		}
		p.IDs, p.Case = append(p.IDs, name), append(p.Case, at[of])
	}
}

// trade takes the trades of the suggested candidates.
func (p *packed) trade(t *table.Table) {
	if t == nil {
		return
	}
	objective := map[string]int{}
	for k, col := range p.Wanted {
		objective[strings.TrimPrefix(p.Columns[col].Name, "objective_")] = k
	}
	of := picks.Trades(t)
	for i := range p.Picks {
		k := &p.Picks[i]
		for _, x := range of[p.IDs[k.Row]] {
			gain, known := objective[x.Gain]
			cost, alsoKnown := objective[x.Cost]
			if known && alsoKnown {
				k.Trades = append(k.Trades, packedTrade{gain, cost, x.By, x.For, x.Move})
			}
		}
	}
}

// facets takes the names that candidates share. A candidate without one has a dash.
func (p *packed) facets(t *table.Table, rows int) {
	for _, f := range facets {
		col := t.Index(f.name)
		if col < 0 || t.Columns[col].Kind != table.Text {
			continue
		}
		out, at := packedFacet{Name: f.name, Label: f.label, Values: []string{}, Of: make([]int, rows)}, map[string]int{}
		for row := range rows {
			name := "–"
			if !t.Null(col, row) {
				name = t.Series[col].Texts[row]
			}
			k, known := at[name]
			if !known {
				k = len(out.Values)
				at[name], out.Values = k, append(out.Values, name)
			}
			out.Of[row] = k
		}
		p.Facets = append(p.Facets, out)
	}
}

// columns takes the numbers: objectives first, in their order, then measures, variables and the rest
// without the search's own columns.
func (p *packed) columns(t *table.Table, criteria []picks.Criterion, rows int) {
	taken := map[int]bool{}
	for _, w := range criteria {
		p.Wanted = append(p.Wanted, len(p.Columns))
		p.column(t, w.Column, rows)
		c := &p.Columns[len(p.Columns)-1]
		c.Label, c.Better, c.Note, c.Aim = w.Name, int(w.Better), w.Note, w.Aim
		taken[w.Column] = true
	}
	for i := range t.Columns {
		if c := &t.Columns[i]; c.Kind == table.Float && !taken[i] && c.Source != "objective" && c.Source != "constraint" {
			p.column(t, i, rows)
		}
	}
}

func (p *packed) column(t *table.Table, col, rows int) {
	c := &t.Columns[col]
	values := make([]float64, rows)
	for row := range values {
		values[row] = t.Number(col, row)
	}
	p.values = appendValues(p.values, values)
	p.Columns = append(p.Columns, packedColumn{Name: c.Name, Label: c.Label(), Unit: c.Unit, Doc: c.Doc, Better: int(c.Better()), Source: c.Source})
}

// shortNumbers are written to the digits that the page shows; NaN becomes null.
type shortNumbers []float64

// MarshalJSON writes a list.
func (n shortNumbers) MarshalJSON() ([]byte, error) {
	text := []byte{'['}
	for i, v := range n {
		if i > 0 {
			text = append(text, ',')
		}
		if math.IsNaN(v) {
			text = append(text, "null"...)
		} else {
			text = strconv.AppendFloat(text, v+0, 'g', digits, 64) // + 0 takes the sign off a zero
		}
	}
	return append(text, ']'), nil
}

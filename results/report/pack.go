package report

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"golang.org/x/sync/errgroup"

	"forkfront/results/picks"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// packed is what the page's script reads: numbers by column, and for every candidate its motion. It
// goes into the page as base64 of deflate (RFC 1951) of: the length of the JSON as 4 bytes, least
// first; the JSON; and the motions, each candidate's one after the other.
type packed struct {
	IDs     []string       `json:"ids"`
	Case    []int          `json:"case"` // of each candidate, in Cases
	Cases   []*packedCase  `json:"cases"`
	Columns []packedColumn `json:"columns"`
	Wanted  []int          `json:"wanted"` // objectives, in Columns
	Picks   []packedPick   `json:"picks"`
	Curves  []packedCurve  `json:"curves"` // the first tracks of every motion
	PlaceMM float64        `json:"place_mm"`
	Motion  []int          `json:"motion"` // bytes of each candidate's motion; none without forks

	Parts    []string          `json:"parts"`    // that the masses behind the motions are of
	MassG    float64           `json:"mass_g"`   // what one step of them is worth
	Scatters []packedTolerance `json:"scatters"` // measures that the tolerances behind the masses are of
	Pairs    []string          `json:"pairs"`    // of parts
	Closest  []int             `json:"closest"`  // pair of each candidate, -1: none
}

type packedColumn struct {
	Name   string       `json:"name"`
	Label  string       `json:"label"`
	Unit   string       `json:"unit"`
	Doc    string       `json:"doc"`
	Better int          `json:"better"`         // 1: low is better, -1: high, 0: neither
	Note   string       `json:"note,omitempty"` // more about what is wanted
	Aim    *table.Aim   `json:"aim,omitempty"`  // of an objective
	Source string       `json:"source"`
	Values shortNumbers `json:"values"`
}

type packedPick struct {
	Row  int         `json:"row"`
	Why  string      `json:"why"`
	Gaps []packedGap `json:"gaps,omitempty"` // the closest pairs of parts
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

func pack(t *table.Table, criteria []picks.Criterion, chosen []picks.Pick, forks sideview.ForkOf, processors int) (string, error) {
	rows := t.Rows
	p := &packed{
		IDs: []string{}, Case: []int{}, Wanted: []int{}, Picks: []packedPick{}, Motion: []int{}, PlaceMM: placeMM,
		Parts: []string{}, MassG: massG, Scatters: []packedTolerance{}, Pairs: []string{},
	}
	for _, c := range sideview.Curves() {
		p.Curves = append(p.Curves, packedCurve{c.Of.Name, table.Label(c.Of.Name), c.Of.Unit, c.Of.Step})
	}
	p.identity(t, rows)
	p.columns(t, criteria, rows)
	p.contacts(t, rows)
	for _, k := range chosen {
		p.Picks = append(p.Picks, packedPick{Row: k.Row, Why: k.Reasons()})
	}
	var motions []byte
	var err error
	if forks != nil {
		if motions, err = p.motions(rows, forks, processors); err != nil {
			return "", err
		}
	}
	text, err := json.Marshal(p)
	if err != nil {
		return "", err
	}
	return deflated(text, motions, processors)
}

// deflated packs the length of the text, the text and the motions into one stream (RFC 1951). The two are packed
// side by side: what is flushed ends on a byte, and the next piece may follow.
func deflated(text, motions []byte, processors int) (string, error) {
	head := binary.LittleEndian.AppendUint32(nil, uint32(len(text)))
	var first, rest bytes.Buffer
	var both errgroup.Group
	both.SetLimit(processors)
	both.Go(func() error { return deflate(&first, append(head, text...), (*flate.Writer).Flush) })
	both.Go(func() error { return deflate(&rest, motions, (*flate.Writer).Close) })
	if err := both.Wait(); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(append(first.Bytes(), rest.Bytes()...)), nil
}

func deflate(dst *bytes.Buffer, piece []byte, end func(*flate.Writer) error) error {
	w, err := flate.NewWriter(dst, flate.DefaultCompression)
	if err != nil {
		return err
	}
	if _, err := w.Write(piece); err != nil {
		return err
	}
	return end(w)
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
	out := packedColumn{Name: c.Name, Label: c.Label(), Unit: c.Unit, Doc: c.Doc, Better: int(c.Better()), Source: c.Source, Values: make(shortNumbers, rows)}
	for row := range rows {
		out.Values[row] = t.Number(col, row)
	}
	p.Columns = append(p.Columns, out)
}

// shortNumbers are written to the four digits that the page shows, for a number that is rounded twice
// can end otherwise than in the other tables; NaN becomes null.
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
			text = strconv.AppendFloat(text, v+0, 'g', 4, 64) // + 0 takes the sign off a zero
		}
	}
	return append(text, ']'), nil
}

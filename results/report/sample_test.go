package report

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"forkfront/results/picks"
	"forkfront/results/table"
)

// manyCases is a front of cases with these numbers of candidates, in the order of a file. Values follow from the row.
func manyCases(sizes ...int) *table.Table {
	t := &table.Table{
		Columns: []table.Column{
			{Name: "candidate", Kind: table.Text},
			{Name: "case", Kind: table.Text},
			{Name: "mass_g", Kind: table.Float, Sense: "low", Source: "measure"},
			{Name: "trail_variation_mm", Kind: table.Float, Sense: "low", Source: "measure"},
			{Name: "objective_mass_g", Kind: table.Float, Source: "objective"},
			{Name: "objective_trail_variation_mm", Kind: table.Float, Source: "objective"},
		},
		Series: make([]table.Series, 6),
	}
	for i, n := range sizes {
		for k := range n {
			name := fmt.Sprintf("case %d", i)
			t.Series[0].Texts = append(t.Series[0].Texts, fmt.Sprintf("%s/%d", name, k))
			t.Series[1].Texts = append(t.Series[1].Texts, name)
			mass, trail := float64(10000-t.Rows), float64((t.Rows*7919)%10007) // the last row is the lightest
			for col, v := range []float64{mass, trail, mass, trail} {
				t.Series[2+col].Floats = append(t.Series[2+col].Floats, v)
			}
			t.Rows++
		}
	}
	return t
}

// A page that cannot hold all candidates has some of every case, and the suggestions of the whole front.
func TestPageSamplesEveryCase(t *testing.T) {
	front := manyCases(500, 500, 3, 500, 500, 500, 500, 500, 500, 500, 500, 500)
	chosen := picks.Choose(front, picks.Criteria(front), nil)
	if last := picks.Named(front, nil)["best-mass"]; last != front.Rows-1 {
		t.Fatalf("the lightest is row %d of %d", last, front.Rows)
	}
	rows := sample(front, chosen, 5000)
	if len(rows) < 5000 || len(rows) > 5000+len(chosen) || !slices.IsSorted(rows) {
		t.Fatalf("%d rows, sorted: %v", len(rows), slices.IsSorted(rows))
	}
	for _, p := range chosen {
		if _, there := slices.BinarySearch(rows, p.Row); !there {
			t.Errorf("suggested row %d is not on the page", p.Row)
		}
	}
	for i, members := range front.Select(rows).Groups(front.Select(rows).All(), "case") {
		want := 454 // (5000 - 3) / 11
		if i == 2 {
			want = 3
		}
		if len(members) < want || len(members) > want+5 {
			t.Errorf("%d rows of case %d, want %d and its suggestions", len(members), i, want)
		}
	}
	few := manyCases(20, 30)
	if all := sample(few, nil, maxRows); !slices.Equal(all, few.All()) {
		t.Errorf("%d of %d rows", len(all), few.Rows)
	}
	if crowded := manyCases(1, 1, 1, 1, 1, 1); len(sample(crowded, nil, 4)) != 4 {
		t.Errorf("%d rows of more cases than rows", len(sample(crowded, nil, 4)))
	}
}

// The page names the candidates that the other readers name.
func TestPageSuggestsFromAllCandidates(t *testing.T) {
	front := manyCases(maxRows/2, maxRows/2+1)
	html, err := HTML(&Contents{Front: front, Processors: 1})
	if err != nil {
		t.Fatal(err)
	}
	for name, row := range picks.Named(front, nil) {
		if id := front.Series[0].Texts[row]; !strings.Contains(strings.ReplaceAll(string(html), "<wbr>", ""), ">"+id+"<") {
			t.Errorf("%s (%s) is not among the suggestions", name, id)
		}
	}
}

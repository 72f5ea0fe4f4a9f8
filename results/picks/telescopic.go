package picks

import (
	"fmt"
	"math"
	"strings"

	"forkfront/results/table"
)

// TelescopicOf has the measures of the telescopic fork that the candidates of a case replace, by name of the case.
// Measures that it does not have are absent.
type TelescopicOf map[string]map[string]float64

// of is the telescopic fork of a row; nil where it is not known.
func (all TelescopicOf) of(t *table.Table, row int) map[string]float64 {
	if col := t.Index("case"); col >= 0 {
		return all[t.Series[col].Texts[row]]
	}
	return nil
}

// Reference is the row of the telescopic fork.
type Reference struct {
	Name   string
	Values []string // one per criterion
}

func newReference(t *table.Table, criteria []Criterion, setting string, measures map[string]float64) *Reference {
	r := &Reference{Name: "telescopic"}
	if setting != "" {
		r.Name = setting + "/telescopic"
	}
	for i := range criteria {
		r.Values = append(r.Values, shown(measured(t, &criteria[i], measures)))
	}
	return r
}

// measured is the telescopic fork's value of a criterion, NaN where it has none.
func measured(t *table.Table, k *Criterion, measures map[string]float64) float64 {
	if v, ok := measures[t.Columns[k.Column].Name]; ok {
		return v
	}
	return math.NaN()
}

// against puts into words what a candidate gives and costs compared with the telescopic fork. A band is better where
// it is nearer. Empty without a telescopic fork.
func against(t *table.Table, criteria []Criterion, row int, measures map[string]float64) string {
	if measures == nil {
		return ""
	}
	var gives, costs []string
	for i := range criteria {
		k := &criteria[i]
		own, other := t.Number(k.Column, row), measured(t, k, measures)
		worse, known := k.worse(own, other)
		text := k.Name + " " + difference(own-other)
		if unit := t.Columns[k.Column].Unit; unit != "" {
			text += " " + unit
		}
		switch {
		case !known:
		case worse > 0:
			costs = append(costs, text)
		case worse < 0:
			gives = append(gives, text)
		}
	}
	var parts []string
	if len(gives) > 0 {
		parts = append(parts, "gives "+strings.Join(gives, ", "))
	}
	if len(costs) > 0 {
		parts = append(parts, "costs "+strings.Join(costs, ", "))
	}
	if len(parts) == 0 {
		return "no difference in what is known of both"
	}
	return strings.Join(parts, "; ")
}

// difference is a number with its sign, three digits where it is small and whole where it is large.
func difference(v float64) string {
	if math.Abs(v) >= 100 {
		return fmt.Sprintf("%+.0f", v)
	}
	return fmt.Sprintf("%+.3g", v)
}

// worse is how much worse the first value is than the second, in the measure's unit; not known where one is missing
// or no direction is better.
func (k *Criterion) worse(own, other float64) (by float64, known bool) {
	if math.IsNaN(own) || math.IsNaN(other) {
		return 0, false
	}
	if k.Better != 0 {
		return k.Better * (own - other), true
	}
	if k.Aim == nil || k.Aim.Low == nil || k.Aim.High == nil {
		return 0, false
	}
	outside := func(v float64) float64 { return math.Max(0, math.Max(*k.Aim.Low-v, v-*k.Aim.High)) }
	return outside(own) - outside(other), true
}

// ranking says what ranks go by.
func (p Preference) ranking() string {
	by := "all measures of the list counting alike"
	if len(p) > 0 {
		by = "weights " + strings.ReplaceAll(p.String(), ",", ", ")
	}
	return "rank: closeness to the ideal (TOPSIS) among all candidates of the bike, " + by
}

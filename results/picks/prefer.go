package picks

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"forkfront/objectives"
	"forkfront/results/table"
)

// Preference is how much each measure counts in the ranking, by its name. Only the proportions of the weights
// matter. An empty preference has all criteria count alike.
type Preference map[string]float64

// ParsePreference reads MEASURE=WEIGHT pairs between commas, such as trail_variation_mm=2,mass_g=1.
func ParsePreference(text string) (Preference, error) {
	p := Preference{}
	for pair := range strings.SplitSeq(text, ",") {
		name, number, ok := strings.Cut(strings.TrimSpace(pair), "=")
		if !ok {
			return nil, fmt.Errorf("%q; expected MEASURE=WEIGHT, such as mass_g=2", pair)
		}
		weight, err := strconv.ParseFloat(number, 64)
		if err != nil {
			return nil, fmt.Errorf("%s=%s: not a number", name, number)
		}
		if _, twice := p[name]; twice {
			return nil, fmt.Errorf("%s is given twice", name)
		}
		p[name] = weight
	}
	return p, p.Check()
}

// maxWeight keeps squares of weights far from overflow.
const maxWeight = 1e6

// Check reports the first name that is no measure, and the first weight out of range.
func (p Preference) Check() error {
	for _, name := range p.names() {
		if objectives.Index(name) < 0 {
			return fmt.Errorf("%q is not a measure; forkfront help measures lists them", name)
		}
		if w := p[name]; !(w > 0 && w <= maxWeight) {
			return fmt.Errorf("%s=%g; a weight must be greater than 0 and at most %g", name, w, float64(maxWeight))
		}
	}
	return nil
}

// names are those of the measures, sorted.
func (p Preference) names() []string { return slices.Sorted(maps.Keys(p)) }

// String is the preference as ParsePreference reads it.
func (p Preference) String() string {
	var pairs []string
	for _, name := range p.names() {
		pairs = append(pairs, fmt.Sprintf("%s=%g", name, p[name]))
	}
	return strings.Join(pairs, ",")
}

// ErrNoDirection is a measure by which a front cannot be ranked.
var ErrNoDirection = errors.New("no direction is better")

// Fits reports the first measure by which the candidates of a front cannot be ranked: it has no better direction and
// the search had no objective for it, or no candidate has a value.
func (p Preference) Fits(t *table.Table) error {
	for _, name := range p.names() {
		if _, err := criterion(t, name); err != nil {
			return err
		}
	}
	return nil
}

// criterion is by what the measure of that name ranks: the objective of the search where there is one.
func criterion(t *table.Table, name string) (Criterion, error) {
	if col := t.Index("objective_" + name); col >= 0 && t.Columns[col].Kind == table.Float {
		return asMeasure(t, col), nil
	}
	col := t.Index(name)
	if col < 0 || t.Columns[col].Kind != table.Float {
		return Criterion{}, fmt.Errorf("%s: the front has no such column", name)
	}
	if !slices.ContainsFunc(t.All(), func(row int) bool { return !math.IsNaN(t.Number(col, row)) }) && t.Rows > 0 {
		return Criterion{}, fmt.Errorf("%s: no candidate has a value", name)
	}
	sign := t.Columns[col].Better()
	if sign == 0 {
		return Criterion{}, fmt.Errorf("%s: %w; give it an objective with a sense or a band in the job", name, ErrNoDirection)
	}
	return Criterion{Column: col, Better: sign, order: col, sign: sign, Name: t.Columns[col].Label()}, nil
}

// weigh lists what the preference ranks by, with its weights. Measures that do not fit the front are left out.
func (p Preference) weigh(t *table.Table, criteria []Criterion) (by []Criterion, weights []float64) {
	if len(p) == 0 {
		return criteria, slices.Repeat([]float64{1}, len(criteria))
	}
	for _, name := range p.names() {
		if k, err := criterion(t, name); err == nil {
			by, weights = append(by, k), append(weights, p[name])
		}
	}
	return by, weights
}

package tuning

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"forkfront/jobs/words"
	"forkfront/objectives/simulation"
	"forkfront/results/display"
)

// noChange is the share of a value below which a difference is none.
const noChange = 0.01

// Print shows settings and events before and after tuning beside the telescopic fork, and where tuning does not help.
func (t *Tuned) Print(w io.Writer) error {
	const row = "%-32s %-5s %10s %10s %10s\n"
	fmt.Fprintf(w, row, "setting", "unit", "as it is", "by quarter", "tuned")
	each := func(name, unit string, of func(*Tried) string) {
		fmt.Fprintf(w, row, name, unit, of(&t.Before), of(&t.ByQuarter), of(&t.After))
	}
	if !t.After.Air {
		each("coil", "N/mm", func(s *Tried) string { return shown(s.RateNPerMM) })
		each("preload", "mm", func(s *Tried) string { return shown(s.PreloadMM) })
	}
	each("sag", "%", func(s *Tried) string { return shown(s.SagPct) })
	if t.After.Damper != "" {
		each("damper", "", func(s *Tried) string { return dash(s.Damper) })
	}
	each("compression", "N s/m", func(s *Tried) string { return shown(s.CompressionNS) })
	each("rebound", "N s/m", func(s *Tried) string { return shown(s.ReboundNS) })
	for i, name := range [directions]string{"compression clicks from soft", "rebound clicks from soft"} {
		if t.After.Clicks[i] >= 0 || t.ByQuarter.Clicks[i] >= 0 {
			each(name, "", func(s *Tried) string { return clicks(s.Clicks[i]) })
		}
	}
	each("damping ratio at sag", "", func(s *Tried) string { return shown(s.Ratio) })
	t.printEvents(w)
	for _, left := range t.LeftOut {
		fmt.Fprintf(w, "left out of the mean: %s\n", left)
	}
	fmt.Fprintf(w, "%s tried, and %d of the telescopic fork's damper\n\n", words.Counted(t.Settings, "setting"), t.SettingsOfOther)
	for _, line := range t.limits() {
		fmt.Fprintln(w, line)
	}
	_, err := fmt.Fprintf(w, "\n%s\n", display.Caution)
	return err
}

// printEvents shows the quantities of all events, those that count with their weight.
func (t *Tuned) printEvents(w io.Writer) {
	const row = "%-13s %-18s %-5s %6s %10s %10s %10s %10s %10s\n"
	fmt.Fprintf(w, "\n%76s %21s\n", "this fork", "telescopic")
	fmt.Fprintf(w, row, "event", "", "unit", "weight", "as it is", "by quarter", "tuned", "as it is", "tuned")
	of := [...]*simulation.Results{&t.Before.Results, &t.ByQuarter.Results, &t.After.Results, t.Telescopic, &t.TunedTelescopic}
	for i := range simulation.Events {
		for _, q := range simulation.Events[i].Has {
			if q == simulation.LoadMorePct || q == simulation.LoadErrorPct {
				continue // the telescopic fork stands beside
			}
			cells := []any{simulation.Events[i].Name, simulation.Quantities[q].Name, simulation.Quantities[q].Unit, t.weight(i, q)}
			for _, r := range of {
				cell := "–"
				if r[i].Known(q) == "" {
					cell = shown(r[i].Values[q])
				}
				cells = append(cells, cell)
			}
			fmt.Fprintf(w, row, cells...)
		}
	}
	fmt.Fprintf(w, "%-44s %10s %10s %10s %10s %10s\n", "weighted mean, telescopic as it is: 1", shown(t.Before.Mean), shown(t.ByQuarter.Mean), shown(t.After.Mean), "1", shown(t.TelescopicMean))
	fmt.Fprintf(w, "%-44s %10s %10s %10s %10s %10s\n", "damping ratio at sag", shown(t.Before.Ratio), shown(t.ByQuarter.Ratio), shown(t.After.Ratio), "", shown(t.TelescopicRatio))
}

func (t *Tuned) weight(event, quantity int) string {
	for _, a := range t.Aims {
		if a.Event == event && a.Quantity == quantity {
			return strconv.FormatFloat(a.Weight, 'g', -1, 64)
		}
	}
	return ""
}

// limits tell where tuning does not help: what it leaves worse than the telescopic fork, what it makes worse, what it hardly
// changes.
func (t *Tuned) limits() (lines []string) {
	var worse, lost, same []string
	for _, a := range t.Aims {
		before, after, by := t.Before.Results[a.Event].Values[a.Quantity], t.After.Results[a.Event].Values[a.Quantity], t.Telescopic[a.Event].Values[a.Quantity]
		if after > by*(1+noChange) {
			worse = append(worse, a.Name())
		}
		switch change := after/before - 1; {
		case change > noChange:
			lost = append(lost, a.Name())
		case math.Abs(change) <= noChange:
			same = append(same, a.Name())
		}
	}
	say := func(what string, names []string) {
		if len(names) > 0 {
			lines = append(lines, what+": "+words.Commas(names...))
		}
	}
	if t.After.Mean > t.Before.Mean*(1-noChange) {
		lines = append(lines, "tuning does not help: the mean falls by less than 1 %")
	}
	if gain := t.ByQuarter.Mean - t.After.Mean; gain < noChange*t.ByQuarter.Mean {
		lines = append(lines, "the quarter model's setting does as well, within 1 %")
	}
	switch by := t.After.Mean / t.TelescopicMean; {
	case by > 1+noChange:
		lines = append(lines, "the telescopic fork, tuned in the same way, does better on the whole")
	case by > 1-noChange:
		lines = append(lines, "the telescopic fork, tuned in the same way, does as well on the whole, within 1 %")
	}
	say("still worse than the telescopic fork as it is", worse)
	say("made worse by tuning", lost)
	say("changed by less than 1 %", same)
	return lines
}

func shown(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	return words.Shown(&v)
}

func dash(name string) string {
	if name == "" {
		return "–"
	}
	return name
}

func clicks(n int) string {
	if n < 0 {
		return "–"
	}
	return strconv.Itoa(n)
}

package picks

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"forkfront/objectives/simulation"
	"forkfront/results/display"
	"forkfront/results/table"
)

// Outcomes are what candidates did in events, read from a table of events.
type Outcomes struct {
	of         map[string]*simulation.Results // by candidate
	telescopic map[string]*simulation.Results // by bike
	bike       map[string]string              // of each candidate
}

// NewOutcomes reads a table of events; nil, and rows that say less than they should, tell nothing.
func NewOutcomes(t *table.Table) *Outcomes {
	all := &Outcomes{map[string]*simulation.Results{}, map[string]*simulation.Results{}, map[string]string{}}
	if t == nil {
		return all
	}
	bike, candidate, event, missing := t.Index("bike"), t.Index("candidate"), t.Index("event"), t.Index("missing")
	if bike < 0 || candidate < 0 || event < 0 || missing < 0 {
		return all
	}
	for row := range t.Rows {
		in, key := all.of, t.Series[candidate].Texts[row]
		if t.Null(candidate, row) {
			in, key = all.telescopic, t.Series[bike].Texts[row]
		} else {
			all.bike[key] = t.Series[bike].Texts[row]
		}
		if in[key] == nil {
			in[key] = &simulation.Results{}
			in[key].Miss(simulation.NotRun)
		}
		if i := simulation.EventNamed(t.Series[event].Texts[row]); i >= 0 {
			read(&in[key][i], t, row, t.Series[missing].Texts[row])
		}
	}
	return all
}

// read takes the values of a row; why is the reason for those that it lacks.
func read(dst *simulation.Outcome, t *table.Table, row int, why string) {
	*dst = simulation.Outcome{}
	for q := range simulation.Quantities {
		col := t.Index(simulation.Quantities[q].Name)
		if col < 0 || t.Columns[col].Kind != table.Float || t.Null(col, row) {
			if dst.Why[q] = why; why == "" {
				dst.Why[q] = simulation.NotCompared
			}
			continue
		}
		dst.Values[q] = t.Series[col].Floats[row]
	}
}

// Any tells whether any candidate was simulated.
func (o *Outcomes) Any() bool { return len(o.of) > 0 }

// Of is what a candidate did, and the telescopic fork of its bike; nil where it was not simulated.
func (o *Outcomes) Of(candidate string) (r, telescopic *simulation.Results) {
	return o.of[candidate], o.telescopic[o.bike[candidate]]
}

// rideColumns are the quantities that a list shows: those that decide. Columns of a group stand side by side.
var rideColumns = []struct {
	event, quantity int
	group, head     string
}{
	{simulation.Stop, simulation.RestDiveMM, "stop", "dive, mm"},
	{simulation.Stop, simulation.OvershootPct, "stop", "overshoot, %"},
	{simulation.FreeBump, simulation.LoadPct, "load variation, %", "bump"},
	{simulation.BrakedBump, simulation.LoadPct, "load variation, %", "bump braked"},
	{simulation.Ripple, simulation.LoadPct, "load variation, %", "ripple braked"},
	{simulation.RoughRoad, simulation.LoadPct, "load variation, %", "rough road"},
	{simulation.Drop, simulation.TravelPct, "drop", "travel, %"},
}

// RideHead is the heading of a column, or of so many beside each other.
type RideHead struct {
	Text string
	Span int
}

// rideHeads are the headings of a list of what candidates did in events, by group and by column.
func rideHeads() (groups, columns []RideHead) {
	for _, c := range rideColumns {
		if last := len(groups) - 1; last >= 0 && groups[last].Text == c.group {
			groups[last].Span++
		} else {
			groups = append(groups, RideHead{c.group, 1})
		}
		columns = append(columns, RideHead{c.head, 1})
	}
	return groups, columns
}

// rideRow has a value for each heading. Where the load on the front wheel varies more than with the telescopic fork, the value is marked.
func rideRow(r, telescopic *simulation.Results) (values []string) {
	for _, c := range rideColumns {
		text := "–"
		if r[c.event].Known(c.quantity) == "" {
			text = shown(r[c.event].Values[c.quantity])
			if c.quantity == simulation.LoadPct && r != telescopic && telescopic != nil && r.LoadWorse(telescopic, c.event) {
				text += WorseMark
			}
		}
		values = append(values, text)
	}
	return values
}

// WorseMark stands behind a value that is worse than the telescopic fork's.
const WorseMark = " !"

// RideEntry is one row of a list of what candidates did.
type RideEntry struct {
	ID     string
	Values []string
}

// Pieces are the parts of the candidate's name between which a narrow page may break it.
func (e RideEntry) Pieces() []string { return strings.SplitAfter(e.ID, "/") }

// Ride lists what suggested candidates did, those of each bike below its telescopic fork, and says where they are worse.
type Ride struct {
	Groups, Heads []RideHead
	Rows          []RideEntry
	Says          []string
}

// NewRide lists candidates that were simulated; it has no rows where none was.
func NewRide(o *Outcomes, ids []string) *Ride {
	list := &Ride{}
	list.Groups, list.Heads = rideHeads()
	var bikes []string
	of := map[string][]string{}
	for _, id := range ids {
		if o.of[id] == nil {
			continue
		}
		if b := o.bike[id]; of[b] == nil {
			bikes = append(bikes, b)
		}
		of[o.bike[id]] = append(of[o.bike[id]], id)
	}
	for _, b := range bikes {
		name := "telescopic"
		if len(bikes) > 1 {
			name = b + "/" + name
		}
		telescopic := o.telescopic[b]
		if telescopic != nil {
			list.Rows = append(list.Rows, RideEntry{name, rideRow(telescopic, telescopic)})
		}
		for _, id := range of[b] {
			list.Rows = append(list.Rows, RideEntry{id, rideRow(o.of[id], telescopic)})
		}
		if telescopic == nil {
			continue
		}
		if says := o.worse(of[b], telescopic); says != "" && len(bikes) > 1 {
			list.Says = append(list.Says, b+": "+says)
		} else if says != "" {
			list.Says = append(list.Says, says)
		}
	}
	return list
}

// worse says in which events how many of some candidates grip worse than the telescopic fork.
func (o *Outcomes) worse(ids []string, telescopic *simulation.Results) string {
	var all, some []string
	for i := range simulation.Events {
		n := 0
		for _, id := range ids {
			if o.of[id].LoadWorse(telescopic, i) {
				n++
			}
		}
		name := strings.ReplaceAll(simulation.Events[i].Name, "_", " ")
		switch {
		case n == len(ids):
			all = append(all, name)
		case n > 0:
			some = append(some, fmt.Sprintf("%s (%d of %d)", name, n, len(ids)))
		}
	}
	var text []string
	if len(all) > 0 {
		text = append(text, "every one of them grips worse than the telescopic fork in: "+strings.Join(all, ", "))
	}
	if len(some) > 0 {
		text = append(text, "some grip worse in: "+strings.Join(some, ", "))
	}
	if text == nil {
		return "none of them grips worse than the telescopic fork in any event"
	}
	return strings.Join(text, "; ")
}

// print writes the list; nothing where it has no rows.
func (list *Ride) print(t *tabwriter.Writer) {
	if len(list.Rows) == 0 {
		return
	}
	fmt.Fprint(t, "\nin events")
	group := ""
	for _, c := range rideColumns {
		fmt.Fprint(t, "\t")
		if c.group != group {
			fmt.Fprint(t, c.group, ": ")
		}
		fmt.Fprint(t, c.head)
		group = c.group
	}
	fmt.Fprintln(t)
	for _, row := range list.Rows {
		fmt.Fprintf(t, "%s\t%s\n", display.Printable(row.ID), strings.Join(row.Values, "\t"))
	}
	fmt.Fprintf(t, "\n%s: the load on the front wheel varies more than with the telescopic fork\n", strings.TrimSpace(WorseMark))
	for _, text := range list.Says {
		fmt.Fprintln(t, display.Printable(text))
	}
}

package jobs

import (
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/objectives"
	"forkfront/results/display"
)

var rewriteReference = flag.Bool("rewrite-reference", false, "write the pages under docs that are made from the registry and the schema")

// The pages that follow from declarations are what those declare now, and there are no others.
func TestReferenceFollowsFromDeclarations(t *testing.T) {
	pages := measurePages(t)
	pages["docs/job.md"] = filePage(t, "job", "A job: one search, or a sweep of them")
	pages["docs/concept.md"] = filePage(t, "concept", "A concept: one fork")
	pages["docs/mechanism.md"] = filePage(t, "mechanism", "A mechanism: bodies and what joins them")
	pages["docs/constraints.md"] = constraintPage(t)
	for name, now := range pages {
		if *rewriteReference {
			if err := os.WriteFile(name, []byte(now), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if said, err := os.ReadFile(name); err != nil || string(said) != now {
			t.Errorf("%s is stale (%v); go test ./jobs -run Reference -rewrite-reference\n%s", name, err, firstUnlike(string(said), now))
		}
	}
	kept, _ := filepath.Glob("docs/measures/*.md")
	for _, name := range kept {
		if _, made := pages[name]; !made {
			t.Errorf("%s tells of what is no measure", name)
		}
	}
}

const made = "Made by `go test ./jobs -run Reference -rewrite-reference`"

// needWords say what a measure cannot do without.
var needWords = map[objectives.Need]string{
	objectives.NeedTravel:    "a mechanism that moves through the whole travel",
	objectives.NeedDrive:     "a mechanism that drives a shock",
	objectives.NeedShock:     "a shock that shortens all the way",
	objectives.NeedSag:       "a spring that balances the static load at sag",
	objectives.NeedDive:      "a fork that comes to rest under braking",
	objectives.NeedStructure: "sections, loads and a material with which the fork can be given sizes",
	objectives.NeedPackage:   "the room around the fork",
}

var senseWords = map[objectives.Sense]string{objectives.Low: "low", objectives.High: "high", objectives.Neutral: "neither; for constraints"}

// measurePages has one page a measure, and the list of them.
func measurePages(t *testing.T) map[string]string {
	examples := scoredExamples(t)
	pages := map[string]string{}
	var list strings.Builder
	fmt.Fprintf(&list, "# Measures\n\n%s from the registry of measures. Each is a column of front.parquet, a\nname for the objectives and constraints of a job, and a row of a score.\n\n| measure | unit | better | what it is |\n| --- | --- | --- | --- |\n", made)
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		fmt.Fprintf(&list, "| [%s](%s.md) | %s | %s | %s |\n", m.Name, m.Name, cmp.Or(m.Unit, "–"), senseWords[m.Sense], m.Doc)
		pages["docs/measures/"+m.Name+".md"] = measurePage(m, examples)
	}
	pages["docs/measures/README.md"] = list.String()
	return pages
}

func measurePage(m *objectives.Measure, examples []*score.Scored) string {
	var w strings.Builder
	fmt.Fprintf(&w, "# %s\n\n%s%s.\n\n", m.Name, strings.ToUpper(m.Doc[:1]), m.Doc[1:])
	fmt.Fprintf(&w, "- unit: %s\n- better: %s\n- differences below %g do not count in a search, unless an objective says otherwise\n- needs %s\n", cmp.Or(m.Unit, "none, a ratio"), senseWords[m.Sense], m.Resolution, needWords[m.Needs])
	if m.Linkage {
		w.WriteString("- a telescopic fork has none\n")
	}
	w.WriteString("\nOn the examples:\n\n| concept | this fork | telescopic fork |\n| --- | --- | --- |\n")
	for _, x := range examples {
		fmt.Fprintf(&w, "| %s | %s | %s |\n", x.Concept, figure(x.Measures[m.Name]), figure(x.Telescopic.Measures[m.Name]))
	}
	fmt.Fprintf(&w, "\n%s\n\n%s from the registry and `score` on `jobs/examples`.\n", display.Caution, made)
	return w.String()
}

// scoredExamples has the concepts among the examples, scored.
func scoredExamples(t *testing.T) (all []*score.Scored) {
	t.Helper()
	concepts, _ := filepath.Glob("examples/*-*.yaml")
	for _, path := range concepts {
		code, out, said := command(t, "score", path, "--json")
		var x score.Scored
		if err := json.Unmarshal([]byte(out), &x); code != process.Done || err != nil {
			t.Fatalf("%s: exit %d, %v: %s", path, code, err, said)
		}
		all = append(all, &x)
	}
	return all
}

func figure(x *float64) string {
	if x == nil {
		return "–"
	}
	return fmt.Sprintf("%.4g", *x)
}

// constraintPage lists the limits that hold unless a job says otherwise.
func constraintPage(t *testing.T) string {
	job := readText(t, bare(t))
	var w strings.Builder
	fmt.Fprintf(&w, "# Constraints that hold by default\n\n%s from the declarations.\n\n", made)
	w.WriteString("A job keeps these limits (common practice, no source) on every measure that its own `constraints` do not speak of:\n\n| measure | limit | switched off by |\n| --- | --- | --- |\n")
	for i := range job.Constraints {
		l := &job.Constraints[i]
		fmt.Fprintf(&w, "| [%s](measures/%s.md) | %s | `{measure: %s, off: true}` |\n", l.Measure, l.Measure, l.Words(), l.Measure)
	}
	w.WriteString(strings.ReplaceAll(aboutDefaults, "¬", "`"))
	return w.String()
}

const aboutDefaults = `
- A limit that the job gives on the same measure takes the place of the default, both ends of it.
- The spring rate is that of the coils on sale: where a job lists ¬coil_rates_n_per_mm¬, from the softest to the
  stiffest of them. It is not asked of air springs.
- The stiffness is what ¬structure.fore_aft_stiffness_n_per_mm¬ has tubes sized up to; 0 there takes the limit away.
- A default does not hold for a mechanism of which no fork has the measure: one that drives no shock, or whose tubes
  slide. A limit that the job itself gives on such a measure is refused.

¬forkfront score CONCEPT¬ holds a fork to them too, by the coils and the stiffness in its own file, and says which it
breaks and which parts overlap; ¬--json¬ has them under ¬violations¬, each with the amount in its unit, null where the
measure has no value. With ¬--job¬ it is held to the limits of the job instead. ¬--before¬ says which are broken now, still,
or kept again.

¬forkfront check JOB¬ lists what holds for a job and where a default cannot, ¬run.json¬ what each case kept, and
¬front.parquet¬ how much room each candidate leaves (columns ¬outside_…¬, negative within the limit).
`

// schema is what the pages need of a JSON Schema.
type schema struct {
	Ref         string             `json:"$ref"`
	Defs        map[string]*schema `json:"$defs"`
	Type        string             `json:"type"`
	Description string             `json:"description"`
	Properties  map[string]*schema `json:"properties"`
	Items       *schema            `json:"items"`
	Values      *schema            `json:"additionalProperties"`
	Required    []string           `json:"required"`
	Default     any                `json:"default"`
	Enum        []any              `json:"enum"`
	OneOf       []*schema          `json:"oneOf"`
	Min         *float64           `json:"minimum"`
	Max         *float64           `json:"maximum"`
	Above       *float64           `json:"exclusiveMinimum"`
	Below       *float64           `json:"exclusiveMaximum"`
}

func (s *schema) UnmarshalJSON(text []byte) error {
	type plain schema
	if string(text) == "true" || string(text) == "false" {
		return nil // "anything" or "nothing else"
	}
	return json.Unmarshal(text, (*plain)(s))
}

func filePage(t *testing.T, kind, title string) string {
	t.Helper()
	text, err := files.Schema(kind)
	if err != nil {
		t.Fatal(err)
	}
	var top schema
	if err := json.Unmarshal(text, &top); err != nil {
		t.Fatal(err)
	}
	var w strings.Builder
	fmt.Fprintf(&w, "# %s\n\nMade from the schema (`forkfront schema %s`) by `go test ./jobs -run Reference -rewrite-reference`.\n", title, kind)
	section(&w, &top, &top, kind)
	for _, name := range slices.Sorted(maps.Keys(top.Defs)) {
		if d := top.Defs[name]; len(d.Properties) > 0 {
			section(&w, d, &top, name)
		}
	}
	return w.String()
}

func section(w *strings.Builder, s, top *schema, title string) {
	fmt.Fprintf(w, "\n## %s\n\n| key | value | default | meaning |\n| --- | --- | --- | --- |\n", title)
	for _, key := range slices.Sorted(maps.Keys(s.Properties)) {
		p := s.Properties[key]
		value := p.kind(top)
		if limits := p.limits(); limits != "" {
			value += ", " + limits
		}
		standard := "–"
		switch {
		case p.Default != nil:
			text, _ := json.Marshal(p.Default)
			standard = "`" + string(text) + "`"
		case slices.Contains(s.Required, key):
			standard = "required"
		}
		fmt.Fprintf(w, "| `%s` | %s | %s | %s |\n", key, value, standard, strings.ReplaceAll(p.Description, "|", "or"))
	}
}

// kind names what a value is.
func (s *schema) kind(top *schema) string {
	switch {
	case s == nil:
		return "anything"
	case s.Ref != "":
		name := s.Ref[strings.LastIndex(s.Ref, "/")+1:]
		if d := top.Defs[name]; d != nil && len(d.Properties) == 0 {
			return d.kind(top)
		}
		return fmt.Sprintf("[%s](#%s)", name, strings.ToLower(name))
	case len(s.Enum) == len(objectives.Measures):
		return "[measure](measures/README.md)"
	case len(s.Enum) > 0:
		var all []string
		for _, e := range s.Enum {
			all = append(all, fmt.Sprint(e))
		}
		return strings.Join(all, " or ")
	case len(s.OneOf) > 0:
		var all []string
		for _, o := range s.OneOf {
			all = append(all, o.kind(top))
		}
		return strings.Join(all, " or ")
	case s.Type == "array":
		return "list of " + s.Items.kind(top)
	case s.Type == "object" && s.Values != nil:
		return "name → " + s.Values.kind(top)
	case s.Type == "string":
		return "text"
	}
	return cmp.Or(s.Type, "anything")
}

func (s *schema) limits() string {
	var all []string
	for _, x := range []struct {
		sign string
		of   *float64
	}{{">", s.Above}, {"≥", s.Min}, {"<", s.Below}, {"≤", s.Max}} {
		if x.of != nil {
			all = append(all, fmt.Sprintf("%s %g", x.sign, *x.of))
		}
	}
	return strings.Join(all, ", ")
}

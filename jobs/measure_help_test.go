package jobs

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/objectives"
)

// Every measure is listed by the help, with its unit, which way is better and what it is.
func TestHelpListsTheMeasures(t *testing.T) {
	code, said, errs := command(t, "help", "measures")
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, errs)
	}
	lines := map[string]string{}
	for _, line := range strings.Split(said, "\n") {
		if words := strings.Fields(line); len(words) > 3 {
			lines[words[0]] = line
		}
	}
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		line, there := lines[m.Name]
		better := map[objectives.Sense]string{objectives.Low: " low ", objectives.High: " high ", objectives.Neutral: " – "}[m.Sense]
		if !there || !strings.Contains(line, m.Doc) || !strings.Contains(line, better) || !strings.Contains(line, m.Unit) {
			t.Errorf("%s: %q", m.Name, line)
		}
	}
	if _, all, _ := command(t, "--help"); !strings.Contains(all, "measures") {
		t.Errorf("the help does not lead there: %s", all)
	}
}

// An editor offers the names of the registry, and no others, for objectives and constraints, which may be on quantities of events too.
func TestTheSchemaListsTheMeasures(t *testing.T) {
	text, err := files.Schema("job")
	if err != nil {
		t.Fatal(err)
	}
	var top schema
	if err := json.Unmarshal(text, &top); err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"JobObjective", "JobConstraint"} {
		var names []string
		for _, name := range top.Defs[part].Properties["measure"].Enum {
			names = append(names, name.(string))
		}
		want := files.MeasureNames()
		if !slices.Equal(names, want) {
			t.Errorf("%s: %v", part, names)
		}
	}
}

// The help on one measure has its formula and what is good, and an unknown one is refused.
func TestHelpOnOneMeasure(t *testing.T) {
	t.Parallel()
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		code, said, errs := command(t, "help", "measures", m.Name)
		if code != process.Done || m.Formula == "" || m.Good == "" || !strings.Contains(said, "formula: "+m.Formula+"\n") || !strings.Contains(said, "good: "+m.Good+"\n") {
			t.Errorf("%s: exit %d: %s%s", m.Name, code, said, errs)
		}
	}
	if code, _, said := command(t, "help", "measures", "trail"); code != process.Input || !strings.Contains(said, `no measure "trail"`) {
		t.Errorf("exit %d: %s", code, said)
	}
}

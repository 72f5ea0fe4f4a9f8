package jobs

import (
	"encoding/json"
	"strings"
	"testing"

	"forkfront/jobs/score"
	"forkfront/objectives"
)

func TestAScoreHasEveryMeasureOrItsReason(t *testing.T) {
	c := cargoGirder(t)
	x := make([]float64, len(c.Free))
	for i, f := range c.Free {
		x[i] = (f.Variable.Low + f.Variable.High) / 2
	}
	x[len(x)-1] = 2
	var d objectives.Design
	c.Design(&d, x)
	out, got := score.Examine("middle of the bounds", c.Conditions, &d)
	out.Judge(c, got)
	var text strings.Builder
	if err := out.WriteJSON(&text); err != nil {
		t.Fatal(err)
	}
	var back score.Scored
	if err := json.Unmarshal([]byte(text.String()), &back); err != nil {
		t.Fatal(err)
	}
	for _, m := range objectives.Measures {
		v, there := back.Measures[m.Name]
		if !there || (v == nil) != (back.Reasons[m.Name] != "") {
			t.Errorf("%s: value %v, reason %q", m.Name, v, back.Reasons[m.Name])
		}
	}
	if len(back.Curves["trail_mm"]) != c.Conditions.Samples || len(back.Telescopic.Curves["trail_mm"]) != c.Conditions.Samples {
		t.Error("a curve must have one value a sample")
	}
	if len(back.Objectives) != len(c.Goals) || back.Caution == "" {
		t.Error("objectives and the caution belong to a score")
	}
	text.Reset()
	if err := out.WriteTable(&text); err != nil {
		t.Fatal(err)
	}
	t.Log("\n" + text.String())
}

package cli

import (
	"os"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
)

// Of a job with more linkages than a page holds, the first few are described; what the others are, their codes tell.
func TestAFewOfManyLinkagesAreDescribed(t *testing.T) {
	const path = "../examples/race/which-linkage.yaml"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	some := strings.Replace(string(text), "bodies: 4, arrangements: [high, low, trailing]", "bodies: 6, arrangements: [low]", 1)
	some = strings.Replace(some, "total_evaluations: 2000000", "total_evaluations: 14000000", 1)
	job, _, err := files.ReadJob(path, strings.NewReader(some))
	if err != nil {
		t.Fatal(err)
	}
	all := cases.Cases(job)
	var told strings.Builder
	tellCases(job, &told, all)
	if described := strings.Count(told.String(), "driver: "); described != listed {
		t.Errorf("%d of %d linkages are described, not %d", described, len(all), listed)
	}
	if !strings.Contains(told.String(), " more, the last being "+all[len(all)-1].Name+"\n") {
		t.Errorf("what was left out is not told: %s", told.String())
	}
}

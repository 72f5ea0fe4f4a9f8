package files

import (
	"fmt"

	"forkfront/jobs/files/document"
	"forkfront/jobs/race"
	"forkfront/jobs/words"
	"forkfront/objectives"
)

// RaceSection has the cases of a job race each other for its evaluations.
type RaceSection struct {
	FirstEvaluations int `yaml:"first_evaluations" jsonschema:"minimum=1" default:"16000" jsonschema_description:"evaluations of each case in the first round. With fewer than 16000, cases are cut that would have become feasible"`
	Finalists        int `yaml:"finalists" jsonschema:"minimum=1" default:"8" jsonschema_description:"cases in the last round, at least"`
}

// Rounds are those of the job's race; none: it has no race, or not enough evaluations for one.
func (j *JobFile) Rounds() []race.Round {
	if j.Race == nil || j.Budget.TotalEvaluations == nil {
		return nil
	}
	cases, _ := j.Size()
	return race.Rounds(cases, j.Race.FirstEvaluations, *j.Budget.TotalEvaluations, j.Race.Finalists)
}

// checkRace notes what does not go together with a race.
func (j *JobFile) checkRace(s *document.Source) {
	if j.Race == nil {
		return
	}
	b := &j.Budget
	for _, limit := range []struct {
		key   string
		given bool
		why   string
	}{
		{"evaluations", b.Evaluations != nil, "a race shares total_evaluations among its rounds; remove it"},
		{"stagnation_generations", b.StagnationGenerations != nil, "a race shares total_evaluations among its rounds; remove it"},
		{"max_wall", b.MaxWall != nil, "which cases go on must not depend on the machine; give total_evaluations, for which check estimates the time"},
		{"total_wall", b.TotalWall != nil, "which cases go on must not depend on the machine; give total_evaluations, for which check estimates the time"},
	} {
		if limit.given {
			s.At("budget."+limit.key, "not used with race: %s", limit.why)
		}
	}
	if n := len(j.Bikes); n > 1 {
		s.At("bikes", "%d bikes; a race compares forks for one bike: write a job for each", n)
	}
	for i := range j.Objectives {
		j.notInRace(s, document.Item("objectives", i), j.Objectives[i].Measure)
	}
	for i := range j.Constraints {
		if !j.Constraints[i].After {
			j.notInRace(s, document.Item("constraints", i), j.Constraints[i].Measure)
		}
	}
	cases, _ := j.Size()
	switch {
	case b.TotalEvaluations == nil:
		s.At("budget.total_evaluations", "missing; a race shares it among its cases")
	case s.Err() == nil && cases <= b.MaxCases && len(j.Rounds()) == 0:
		s.At("budget.total_evaluations", "%d; the first round alone takes %d (%s of %s)", *b.TotalEvaluations,
			Product(cases, j.Race.FirstEvaluations), words.Counted(cases, "case"), words.Counted(j.Race.FirstEvaluations, "evaluation"))
	}
}

// notInRace notes a measure of an event, which the search would have to simulate for all fronts of all rounds.
func (j *JobFile) notInRace(s *document.Source, path, measure string) {
	if knownMeasure(measure) && objectives.At(objectives.Index(measure)).OfEvent() {
		s.At(path+".measure", "%q is known only once events are simulated, which a race leaves to its end; limit it with after", measure)
	}
}

// RaceInWords says how many rounds the job's race has.
func (j *JobFile) RaceInWords() string {
	rounds := j.Rounds()
	text := words.Counted(len(rounds), "round")
	for i, r := range rounds {
		if i == 0 {
			text += fmt.Sprintf(": %s to %s each", words.Counted(r.Cases, "case"), words.Counted(r.Until, "evaluation"))
		} else {
			text += fmt.Sprintf(", %d to %d", r.Cases, r.Until)
		}
	}
	return text
}

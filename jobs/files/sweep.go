package files

import (
	"fmt"
	"math"
	"strings"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/process"
	"forkfront/jobs/race"
	"forkfront/jobs/words"
)

// variant is a job with one entry of each list that is swept, and what that adds to a case's name.
type variant struct {
	Job  JobFile
	Name string
}

// Variants of a job without a sweep are the job itself.
func (j *JobFile) Variants() []variant {
	all := j.roomVariants()
	for _, list := range j.Sweep {
		var next []variant
		for _, v := range all {
			switch list {
			case sweepShocks:
				for _, k := range j.Shocks {
					one := v
					one.Job.Shocks, one.Name = []sections.JobShock{k}, v.Name+"/"+k.Name
					next = append(next, one)
				}
			case sweepMaterials:
				for _, m := range j.Materials {
					one := v
					one.Job.Materials, one.Name = []sections.Material{m}, v.Name+"/"+m.Name
					next = append(next, one)
				}
			}
		}
		all = next
	}
	return all
}

// roomVariants are the job with each of its packages. A single one adds nothing to names.
func (j *JobFile) roomVariants() []variant {
	if len(j.Packages) == 0 {
		return []variant{{Job: *j}}
	}
	var all []variant
	for i := range j.Packages {
		one := variant{Job: *j}
		one.Job.Package = j.Packages[i]
		if len(j.Packages) > 1 {
			one.Name = "/" + j.Packages[i].Name
		}
		all = append(all, one)
	}
	return all
}

// Lists from which the search chooses unless they are swept.
const (
	sweepShocks    = "shocks"
	sweepMaterials = "materials"
)

// CaseName is the name of a case: the bike, the mechanism or concept, what else is swept, and the seed.
func (j *JobFile) CaseName(bike int, what, variant string, seed uint64) string {
	return fmt.Sprintf("%s/%s%s/%d", j.BikeName(bike), what, variant, seed)
}

// checkCaseNames notes cases of one name: neither results nor seeds would tell them apart.
func (j *JobFile) checkCaseNames(s *document.Source) {
	if cases, _ := j.Size(); cases > j.Budget.MaxCases {
		return // refused by its number
	}
	var what []string
	for i := range j.Mechanisms {
		what = append(what, j.Mechanisms[i].Spec.Name)
	}
	for i := range j.Start {
		what = append(what, j.Start[i].Name)
	}
	seen := map[string]bool{}
	for _, v := range j.Variants() {
		for b := range j.Bikes {
			for _, w := range what {
				name := j.CaseName(b, w, v.Name, j.Seeds[0])
				if seen[name] {
					s.At("", "two cases would be called %q; give bikes, mechanisms, concepts and swept values distinct names", name)
					return
				}
				seen[name] = true
			}
		}
	}
}

// Size returns how many cases a job has, without making them, and as a product in words.
func (j *JobFile) Size() (cases int, of string) {
	cases = Product(Product(len(j.Bikes), len(j.Mechanisms)+len(j.Start)), len(j.Seeds))
	parts := []string{words.Counted(len(j.Bikes), "bike"), j.searched(), words.Counted(len(j.Seeds), "seed")}
	if n := len(j.Packages); n > 0 {
		cases, parts = Product(cases, n), append(parts, words.Counted(n, "package"))
	}
	for _, list := range j.Sweep {
		n := map[string]int{sweepShocks: len(j.Shocks), sweepMaterials: len(j.Materials)}[list]
		cases, parts = Product(cases, n), append(parts, words.Counted(n, strings.TrimSuffix(list, "s")))
	}
	return cases, strings.Join(parts, " × ")
}

// Product saturates at the largest number.
func Product(a, b int) int {
	if b > 0 && a > math.MaxInt/b {
		return math.MaxInt
	}
	return a * b
}

// searched counts the mechanisms and concepts.
func (j *JobFile) searched() string {
	m, st := words.Counted(len(j.Mechanisms), "mechanism"), words.Counted(len(j.Start), "concept")
	switch {
	case len(j.Start) == 0:
		return m
	case len(j.Mechanisms) == 0:
		return st
	}
	return fmt.Sprintf("(%s + %s)", m, st)
}

// Fits refuses a sweep larger than its limit.
func (j *JobFile) Fits() error {
	if cases, of := j.Size(); cases > j.Budget.MaxCases {
		return process.BadInput(fmt.Errorf("%s: %s (%s); budget.max_cases allows %d", j.Job, words.Counted(cases, "case"), of, j.Budget.MaxCases))
	}
	return nil
}

// BikeName is a bike's name, or its number where it has none.
func (j *JobFile) BikeName(i int) string {
	if name := j.Bikes[i].Name; name != "" {
		return name
	}
	return fmt.Sprintf("bike-%d", i+1)
}

// Rounds are those of the job's race; none: it has no race, or not enough evaluations for one.
func (j *JobFile) Rounds() []race.Round {
	if j.Race == nil || j.Budget.TotalEvaluations == nil {
		return nil
	}
	cases, _ := j.Size()
	return race.Rounds(cases, j.Race.FirstEvaluations, *j.Budget.TotalEvaluations, j.Race.Finalists)
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

package jobs

import (
	"fmt"
	"math"
	"strings"
)

// variant is a job with one entry of each list that is swept, and what that adds to a case's name.
type variant struct {
	job  JobFile
	name string
}

// variants of a job that sweeps nothing more are the job itself.
func (j *JobFile) variants() []variant {
	all := j.roomVariants()
	for _, list := range j.Sweep {
		var next []variant
		for _, v := range all {
			switch list {
			case sweepShocks:
				for _, k := range j.Shocks {
					one := v
					one.job.Shocks, one.name = []JobShock{k}, v.name+"/"+k.Name
					next = append(next, one)
				}
			case sweepMaterials:
				for _, m := range j.Materials {
					one := v
					one.job.Materials, one.name = []Material{m}, v.name+"/"+m.Name
					next = append(next, one)
				}
			}
		}
		all = next
	}
	return all
}

// roomVariants are the job with each of its packages. The only one adds nothing to names.
func (j *JobFile) roomVariants() []variant {
	if len(j.Packages) == 0 {
		return []variant{{job: *j}}
	}
	var all []variant
	for i := range j.Packages {
		one := variant{job: *j}
		one.job.Package = j.Packages[i]
		if len(j.Packages) > 1 {
			one.name = "/" + j.Packages[i].Name
		}
		all = append(all, one)
	}
	return all
}

// Lists that are a choice of the search unless they are swept.
const (
	sweepShocks    = "shocks"
	sweepMaterials = "materials"
)

// caseName is what a case is called: the bike, what is searched, what else is swept, and the seed.
func (j *JobFile) caseName(bike int, what, variant string, seed uint64) string {
	return fmt.Sprintf("%s/%s%s/%d", j.bikeName(bike), what, variant, seed)
}

// checkCaseNames notes cases of one name: neither results nor seeds would tell them apart.
func (j *JobFile) checkCaseNames(s *Source) {
	if cases, _ := j.size(); cases > j.Budget.MaxCases {
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
	for _, v := range j.variants() {
		for b := range j.Bikes {
			for _, w := range what {
				name := j.caseName(b, w, v.name, j.Seeds[0])
				if seen[name] {
					s.At("", "two cases would be called %q; give bikes, mechanisms, concepts and whatever is swept names that tell them apart", name)
					return
				}
				seen[name] = true
			}
		}
	}
}

// size says how many cases a job comes to, without making them, and of what.
func (j *JobFile) size() (cases int, of string) {
	cases = product(product(len(j.Bikes), len(j.Mechanisms)+len(j.Start)), len(j.Seeds))
	parts := []string{counted(len(j.Bikes), "bike"), j.searched(), counted(len(j.Seeds), "seed")}
	if n := len(j.Packages); n > 0 {
		cases, parts = product(cases, n), append(parts, counted(n, "package"))
	}
	for _, list := range j.Sweep {
		n := map[string]int{sweepShocks: len(j.Shocks), sweepMaterials: len(j.Materials)}[list]
		cases, parts = product(cases, n), append(parts, counted(n, strings.TrimSuffix(list, "s")))
	}
	return cases, strings.Join(parts, " × ")
}

// product stays at the largest number where the product would be larger.
func product(a, b int) int {
	if b > 0 && a > math.MaxInt/b {
		return math.MaxInt
	}
	return a * b
}

// searched counts what is searched with pivots of its own.
func (j *JobFile) searched() string {
	m, st := counted(len(j.Mechanisms), "mechanism"), counted(len(j.Start), "concept")
	switch {
	case len(j.Start) == 0:
		return m
	case len(j.Mechanisms) == 0:
		return st
	}
	return fmt.Sprintf("(%s + %s)", m, st)
}

func counted(n int, what string) string { return plural(n, what, what+"s") }

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// fits refuses a sweep past its limit.
func (j *JobFile) fits() error {
	if cases, of := j.size(); cases > j.Budget.MaxCases {
		return badInput(fmt.Errorf("%s: %s (%s); budget.max_cases allows %d", j.Job, counted(cases, "case"), of, j.Budget.MaxCases))
	}
	return nil
}

// Package problem states what is searched: variables with their bounds, objectives, constraints, what an evaluation finds, and what a
// problem may tell beyond that. It knows nothing about how it is searched.
package problem

import (
	"fmt"
	"math"
)

// Variable is one number that the search may choose.
//
// Levels 0 is a continuous variable in [Low, High]. Levels n ≥ 1 is one of the integers
// 0..n−1 (Low = 0, High = n−1); Categorical says that neighbouring integers have nothing
// more in common than distant ones, so steps by one are not tried.
type Variable struct {
	Name        string
	Low, High   float64
	Levels      int
	Categorical bool
}

// Objective is one number to be minimised.
//
// Resolution > 0, in the objective's own unit, is the difference below which two values
// count as equal: the archive keeps one candidate a box of resolutions, and dominated is
// then meant in boxes. With 0 values are compared as they are.
type Objective struct {
	Name       string
	Resolution float64
}

// Outcome is what one evaluation found. The search sizes its slices; Evaluate fills them.
//
// F has one entry per objective: finite, or +Inf where a design has no value; never NaN.
// G has one entry per constraint: ≤ 0 is satisfied, and 1 is badly off.
type Outcome struct {
	F, G []float64
}

// Feasible reports whether every constraint is satisfied and every objective has a value.
func (o *Outcome) Feasible() bool {
	for _, g := range o.G {
		if g > 0 {
			return false
		}
	}
	for _, f := range o.F {
		if math.IsInf(f, 0) {
			return false
		}
	}
	return true
}

// Violation is the sum of the positive constraint values, 0 when all are satisfied.
func (o *Outcome) Violation() float64 {
	sum := 0.0
	for _, g := range o.G {
		if g > 0 {
			sum += g
		}
	}
	return sum
}

// Problem is what is searched. Evaluate gets x in natural units and within the bounds, one
// entry per variable, and is called by many goroutines at once.
type Problem interface {
	Variables() []Variable
	Objectives() []Objective
	Constraints() []string
	Evaluate(dst *Outcome, x []float64)
}

// Candidate is one evaluated design. Number is the order in which it was proposed, from 0.
type Candidate struct {
	Number int
	X      []float64 // natural units, one entry per variable
	Outcome
	Late    []float64 `json:",omitempty"` // late values of a Staged problem, found or predicted
	Guessed bool      `json:",omitempty"` // they are predicted
}

// Validate returns an error where a problem cannot be searched: it has no variable or no objective, bounds or levels that do not fit
// together, or a resolution that is negative or infinite.
func Validate(p Problem) error {
	variables, objectives := p.Variables(), p.Objectives()
	if len(variables) == 0 || len(objectives) == 0 {
		return fmt.Errorf("optimize: %d variables and %d objectives; at least one of each is needed", len(variables), len(objectives))
	}
	for _, v := range variables {
		if err := v.validate(); err != nil {
			return err
		}
	}
	for _, o := range objectives {
		if !(o.Resolution >= 0) || math.IsInf(o.Resolution, 0) {
			return fmt.Errorf("optimize: objective %q: resolution %g; allowed is 0 or a positive number", o.Name, o.Resolution)
		}
	}
	return nil
}

func (v *Variable) validate() error {
	switch {
	case v.Levels < 0:
		return fmt.Errorf("optimize: variable %q: %d levels; allowed is 0 (continuous) or more", v.Name, v.Levels)
	case v.Levels > 0 && (v.Low != 0 || v.High != float64(v.Levels-1)):
		return fmt.Errorf("optimize: variable %q: bounds %g..%g; with %d levels they must be 0..%d", v.Name, v.Low, v.High, v.Levels, v.Levels-1)
	case !(v.Low <= v.High) || math.IsInf(v.Low, 0) || math.IsInf(v.High, 0):
		return fmt.Errorf("optimize: variable %q: bounds %g..%g; they must be finite, the lower one first", v.Name, v.Low, v.High)
	}
	return nil
}

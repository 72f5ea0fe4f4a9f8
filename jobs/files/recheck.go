package files

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics/mechanism"
)

// Recheck checks a job that did not come from a file but from a state: it is written as a file and read again, so
// that every rule for files applies. Its mechanisms came with it.
func (j *JobFile) Recheck() error {
	if len(j.Mechanisms)+len(j.Start) == 0 {
		return errors.New("the job names neither mechanisms nor concepts to start from")
	}
	asFile := *j
	asFile.Start = nil
	asFile.Constraints = slices.DeleteFunc(slices.Clone(j.Constraints), func(c JobConstraint) bool { return c.Default })
	for _, c := range j.Constraints {
		if c.Default && !knownMeasure(c.Measure) {
			return fmt.Errorf("the job limits %q, which is not a measure", c.Measure)
		}
	}
	var again JobFile
	s, err := reread(&asFile, &again)
	if err != nil {
		return err
	}
	if !sameJSON(&again, &asFile) {
		return errors.New("the job lacks values that a file would have been given by default")
	}
	for i := range again.Mechanisms {
		again.Mechanisms[i].Spec = j.Mechanisms[i].Spec
	}
	again.check(s)
	if err := s.Err(); err != nil {
		return err
	}
	for i := range j.Start {
		if err := j.Start[i].recheck(j); err != nil {
			return fmt.Errorf("%s: %w", document.Item("start", i), err)
		}
	}
	j.checkCaseNames(s)
	return s.Err()
}

// reread writes a value as a file and reads it back.
func reread(from, to any) (*document.Source, error) {
	text, err := document.Encode(from)
	if err != nil {
		return nil, err
	}
	s, err := document.OpenUpTo("(job in a state)", bytes.NewReader(text), int64(len(text))+1)
	if err != nil {
		return nil, err
	}
	s.Packed = true
	s.Decode(to)
	return s, s.Err()
}

// recheck rebuilds the concept that a search starts from, checks it as a file, and compares the bounds about it with
// those of the job.
func (st *JobStart) recheck(j *JobFile) error {
	c := ConceptFile{
		Concept: st.Name, Bike: j.Bikes[0], Mechanism: st.Around.Mechanism, PointsMM: map[string]sections.Point{}, Travel: j.Travel, Ride: j.Ride, Aims: j.Aims, Dynamics: j.Dynamics,
		Material: j.Materials[0], Surroundings: j.Surroundings, Across: st.Around.Across, Build: j.Build,
	}
	if len(j.Packages) > 0 {
		c.Package = j.Packages[0]
	}
	for _, p := range st.Positions {
		c.PointsMM[p.Name] = p.At
	}
	if st.OwnShock.EyeToEyeMM > 0 {
		unit := st.OwnShock.Unit(st.Around.ShockCount)
		unit.EyeToEyeMM = 0 // it follows from the points
		c.Shock = &unit
	}
	var again ConceptFile
	s, err := reread(&c, &again)
	if err != nil {
		return err
	}
	again.Spec = st.Around.Spec
	again.check(s)
	if err := s.Err(); err != nil {
		return err
	}
	m, _ := mechanism.Compile(again.Spec) // checked above
	same := JobStart{WithinMM: st.WithinMM, Hold: st.Hold, PointsWithinMM: st.PointsWithinMM}
	same.around(&again, m)
	if !sameJSON(same.Around, st.Around) || !sameJSON(same.OwnShock, st.OwnShock) || !sameJSON(same.Positions, st.Positions) {
		return errors.New("its bounds are not those about its concept")
	}
	return nil
}

// sameJSON tells whether two values are the same once packed.
func sameJSON(a, b any) bool {
	x, err := json.Marshal(a)
	if err != nil {
		return false
	}
	y, err := json.Marshal(b)
	return err == nil && bytes.Equal(x, y)
}

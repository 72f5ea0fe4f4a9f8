package optimize

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"time"

	"forkfront/optimize/arithmetic"
	"forkfront/optimize/population"
	"forkfront/optimize/variation"
	"forkfront/optimize/wire"
)

// Errors of Search when it cannot continue from Settings.Resume.
var (
	ErrStateDamaged = errors.New("the saved state of the search is damaged")
	ErrStateVersion = errors.New("the saved state of the search is of another version")
	ErrStateForeign = errors.New("the saved state belongs to another search")
)

const (
	stateMagic   = "forkfront search"
	stateVersion = 12
	stateHeader  = len(stateMagic) + 8 + sha256.Size
)

// identity is a digest over everything that decides what a search finds: the problem's
// definition and the settings. Workers, times and callbacks do not.
func identity(p Problem, s *Settings) [sha256.Size]byte {
	var w wire.Writer
	for _, v := range p.Variables() {
		w.Text(v.Name)
		w.Floats([]float64{v.Low, v.High})
		w.Int(v.Levels)
		w.Bool(v.Categorical)
	}
	w.Text("objectives")
	for _, o := range p.Objectives() {
		w.Text(o.Name)
		w.Float(o.Resolution)
	}
	w.Text("constraints")
	for _, c := range p.Constraints() {
		w.Text(c)
	}
	_, differentiable := p.(Differentiable)
	_, niched := p.(Niched)
	w.Bool(differentiable)
	w.Bool(niched)
	w.Bool(s.Plain)
	if staged, ok := p.(Staged); ok {
		values, hints := staged.Late()
		w.Text("late")
		for _, n := range []int{values, hints, s.Measurements} {
			w.Int(n)
		}
	}
	w.Text("settings")
	for _, v := range []int{
		int(s.Seed), s.Evaluations, s.Population, s.ArchiveLimit, s.FrontSize, s.StagnationGenerations, len(s.Start),
	} {
		w.Int(v)
	}
	w.Floats([]float64{s.GradientShare, s.GradientCost})
	for _, x := range s.Start {
		w.Floats(x)
	}
	return sha256.Sum256(w.Encoded())
}

// state writes the search down as it stands between two generations:
//
//	magic, version (8 bytes), kind of arithmetic, identity, body, SHA-256 of all before
//
// Its size follows from the limits of archive and populations, not from how long the search
// has run.
func (e *engine) state() []byte {
	var w wire.Writer
	w.Raw([]byte(stateMagic))
	w.Int(stateVersion)
	w.Text(arithmetic.Kind())
	w.Raw(e.identity[:])
	e.pack(&w)
	sum := sha256.Sum256(w.Encoded())
	return append(w.Encoded(), sum[:]...)
}

// restore takes a state that state wrote, of the same search, or says why it cannot.
func (e *engine) restore(state []byte) error {
	if len(state) < stateHeader+sha256.Size || string(state[:len(stateMagic)]) != stateMagic {
		return fmt.Errorf("optimize: resume: %w: %d bytes that do not begin like one", ErrStateDamaged, len(state))
	}
	body := state[:len(state)-sha256.Size]
	if sum := sha256.Sum256(body); !bytes.Equal(sum[:], state[len(body):]) {
		return fmt.Errorf("optimize: resume: %w: its checksum does not fit", ErrStateDamaged)
	}
	u := wire.NewReader(body[len(stateMagic):])
	if v := u.Word(); v != stateVersion {
		return fmt.Errorf("optimize: resume: %w: version %d, this program reads %d", ErrStateVersion, v, stateVersion)
	}
	if kind := string(u.Bytes()); !u.Failed() {
		if err := arithmetic.Check("the saved state", kind); err != nil {
			return fmt.Errorf("optimize: resume: %w", err)
		}
	}
	if !bytes.Equal(u.Raw(sha256.Size), e.identity[:]) {
		return fmt.Errorf("optimize: resume: %w: variables, objectives, constraints or settings differ", ErrStateForeign)
	}
	e.unpack(u)
	if u.Failed() || u.Remaining() > 0 {
		return fmt.Errorf("optimize: resume: %w: its contents do not fit together", ErrStateDamaged)
	}
	return nil
}

func (e *engine) pack(w *wire.Writer) {
	for _, v := range []int{int(e.elapsed()), e.used, e.number, e.feasible, e.generations} {
		w.Int(v)
	}
	w.Floats(e.scaling)
	lists := [][]*population.Member{e.population, e.archive.Members, e.infeasible, e.evolution.replaced}
	if e.late != nil {
		lists = append(lists, e.late.known)
	}
	table := population.NewTable(lists...)
	table.Pack(w, &e.space)
	e.source.Pack(w)
	for _, list := range lists {
		table.PackList(w, list)
	}
	if e.late != nil {
		e.late.pack(w)
	}
	e.operators.Pack(w)
	e.selection.Pack(w)
	e.gradient.pack(w)
	e.growth.Pack(w)
	if e.singleObjective() {
		e.evolution.pack(w)
	}
}

func (e *engine) unpack(u *wire.Reader) {
	e.elapsedBefore = time.Duration(u.Int(0, math.MaxInt))
	e.used = u.Int(0, e.settings.Evaluations)
	e.number = u.Int(0, math.MaxInt)
	e.feasible = u.Int(0, math.MaxInt)
	e.generations = u.Int(0, math.MaxInt)
	u.Floats(e.scaling, false)
	niched, _ := e.problem.(Niched)
	table := population.UnpackTable(u, &population.Expected{
		Space: &e.space, Values: len(e.objectives) + e.constraints, Numbers: e.number, Operators: variation.Count, Niched: niched, Blank: e.newMembers,
	})
	e.source.Unpack(u)
	e.population = table.UnpackList(u)
	e.archive.Rebuild(requireFeasible(table.UnpackList(u), u))
	e.infeasible = table.UnpackList(u)
	e.evolution.replaced = table.UnpackList(u)
	if e.late != nil {
		e.late.unpack(u, table)
	}
	e.operators.Unpack(u)
	e.selection.Unpack(u)
	e.gradient.unpack(u)
	e.growth.Unpack(u, len(e.objectives))
	if e.singleObjective() {
		e.evolution.unpack(u, e.used, e.mostMembers())
	}
}

// requireFeasible refuses members that an archive cannot hold.
func requireFeasible(members []*population.Member, u *wire.Reader) []*population.Member {
	for _, m := range members {
		if !m.Feasible {
			u.Reject()
			return nil
		}
	}
	return members
}

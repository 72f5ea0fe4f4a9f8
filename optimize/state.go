package optimize

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"time"
)

// What Search answers when Settings.Resume is not a state that it can go on from.
var (
	ErrStateDamaged = errors.New("the saved state of the search is damaged")
	ErrStateVersion = errors.New("the saved state of the search is of another version")
	ErrStateForeign = errors.New("the saved state belongs to another search")
)

const (
	stateMagic   = "forkfront search"
	stateVersion = 3
	stateHeader  = len(stateMagic) + 8 + sha256.Size
)

// identity is a digest over everything that decides what a search finds: the problem's
// definition and the settings. Workers, times and callbacks do not.
func identity(p Problem, s *Settings) [sha256.Size]byte {
	var w packer
	for _, v := range p.Variables() {
		w.text(v.Name)
		w.floats([]float64{v.Low, v.High})
		w.int(v.Levels)
		w.bool(v.Categorical)
	}
	w.text("objectives")
	for _, o := range p.Objectives() {
		w.text(o.Name)
		w.float(o.Resolution)
	}
	w.text("constraints")
	for _, c := range p.Constraints() {
		w.text(c)
	}
	_, differentiable := p.(Differentiable)
	w.bool(differentiable)
	w.bool(s.Plain)
	w.text("settings")
	for _, v := range []int{
		int(s.Seed), s.Evaluations, s.Population, s.ArchiveLimit, s.FrontSize, s.StagnationGenerations, len(s.Start),
	} {
		w.int(v)
	}
	w.floats([]float64{s.GradientShare, s.GradientCost})
	for _, x := range s.Start {
		w.floats(x)
	}
	return sha256.Sum256(w.b)
}

// state writes the search down as it stands between two generations:
//
//	magic, version (8 bytes), identity, body, SHA-256 of all before
//
// Its size follows from the limits of archive and populations, not from how long the search
// has run.
func (e *engine) state() []byte {
	w := packer{[]byte(stateMagic)}
	w.int(stateVersion)
	w.b = append(w.b, e.identity[:]...)
	e.pack(&w)
	sum := sha256.Sum256(w.b)
	return append(w.b, sum[:]...)
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
	u := unpacker{b: body[len(stateMagic):]}
	if v := u.word(); v != stateVersion {
		return fmt.Errorf("optimize: resume: %w: version %d, this program reads %d", ErrStateVersion, v, stateVersion)
	}
	if !bytes.Equal(u.take(sha256.Size), e.identity[:]) {
		return fmt.Errorf("optimize: resume: %w: variables, objectives, constraints or settings differ", ErrStateForeign)
	}
	e.unpack(&u)
	if u.bad || len(u.b) > 0 {
		return fmt.Errorf("optimize: resume: %w: its contents do not fit together", ErrStateDamaged)
	}
	return nil
}

func (e *engine) pack(w *packer) {
	for _, v := range []int{int(e.elapsed()), e.used, e.number, e.feasible, e.generations} {
		w.int(v)
	}
	w.floats(e.scaling)
	table := newTable(e.population, e.archive.members, e.infeasible)
	table.pack(w, &e.space)
	e.breeder.source.pack(w)
	for _, list := range [][]*member{e.population, e.archive.members, e.infeasible} {
		table.packList(w, list)
	}
	w.floats(e.shares.Made[:])
	w.floats(e.shares.Survived[:])
	e.intercepts.pack(w)
	e.gradient.pack(w)
	e.frame.pack(w)
}

func (e *engine) unpack(u *unpacker) {
	e.before = time.Duration(u.int(0, math.MaxInt))
	e.used = u.int(0, e.settings.Evaluations)
	e.number = u.int(0, math.MaxInt)
	e.feasible = u.int(0, math.MaxInt)
	e.generations = u.int(0, math.MaxInt)
	u.floats(e.scaling, false)
	table := e.unpackTable(u)
	e.breeder.source.unpack(u)
	e.population = table.unpackList(u)
	e.archive.fill(table.unpackList(u), u)
	e.infeasible = table.unpackList(u)
	u.floats(e.shares.Made[:], false)
	u.floats(e.shares.Survived[:], false)
	e.intercepts.unpack(u, len(e.objectives))
	e.gradient.unpack(u)
	e.frame.unpack(u, len(e.objectives), e.settings.Seed)
}

func (s source) pack(w *packer) {
	b, err := s.MarshalBinary()
	if err != nil {
		panic("optimize: a generator that cannot be written: " + err.Error())
	}
	w.bytes(b)
}

func (s source) unpack(u *unpacker) {
	if b := u.bytes(); !u.bad && s.UnmarshalBinary(b) != nil {
		u.bad = true
	}
}

func (g *gradientStage) pack(w *packer) {
	for _, v := range []int{g.used, g.ended, g.pause, g.backoff} {
		w.int(v)
	}
	g.source.pack(w)
}

func (g *gradientStage) unpack(u *unpacker) {
	for _, v := range []*int{&g.used, &g.ended, &g.pause, &g.backoff} {
		*v = u.int(0, math.MaxInt)
	}
	g.source.unpack(u)
}

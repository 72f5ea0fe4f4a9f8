package report

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/naming"
	"forkfront/objectives/ride"
	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// missCard is a near miss as the page shows it.
type missCard struct {
	picks.Miss
	Side   template.HTML // empty: the fork cannot be drawn
	Travel string        // at which it is drawn
}

// missGroup are near misses that are shown together: those of a case, or of cases stopped by the same.
type missGroup struct {
	Title string // empty for a single case
	Cards []missCard
	Lines []picks.Miss // without a picture
	key   string
	least float64 // violation of the first card
}

// maxMissGroups bounds the groups of near misses that the page shows, and maxMissCases the cases that have a picture of
// every near miss: of more, each group has a picture of the nearest one.
const maxMissGroups, maxMissCases = 24, 2

// missGroups draws near misses, without forks only what keeps them from being feasible.
func missGroups(t *table.Table, run *record.Run, forks sideview.ForkOf) (groups []missGroup, more int, err error) {
	if t == nil {
		return nil, 0, nil
	}
	all := picks.Misses(t)
	if len(all) <= maxMissCases {
		for _, of := range all {
			for _, m := range of.Misses {
				groups = append(groups, missGroup{Cards: []missCard{{Miss: m}}})
			}
		}
		return groups, 0, drawCards(groups, forks)
	}
	stopper := map[string]string{}
	if run != nil {
		for i := range run.Cases {
			stopper[run.Cases[i].Name] = run.Cases[i].Stopper()
		}
	}
	cases := map[string][]string{}
	for _, of := range all {
		key := stopper[of.Case]
		if key == "" {
			key = of.Case
		}
		at := slices.IndexFunc(groups, func(g missGroup) bool { return g.key == key })
		if at < 0 {
			if len(groups) == maxMissGroups {
				more++
				continue
			}
			at = len(groups)
			groups = append(groups, missGroup{key: key, least: math.Inf(1)})
		}
		cases[key] = append(cases[key], of.Case)
		groups[at].add(t, of.Misses)
	}
	for i := range groups {
		g := &groups[i]
		if n := len(cases[g.key]); n > 1 {
			g.Title = fmt.Sprintf("The nearest of %d cases: %s.", n, g.key)
		}
	}
	return groups, more, drawCards(groups, forks)
}

// add takes the near misses of a case; the nearest of all stands first, with a picture.
func (g *missGroup) add(t *table.Table, misses []picks.Miss) {
	by := t.Index("violation")
	for _, m := range misses {
		if v := t.Number(by, m.Row); v < g.least {
			if len(g.Cards) > 0 {
				g.Lines = append(g.Lines, g.Cards[0].Miss)
			}
			g.Cards, g.least = []missCard{{Miss: m}}, v
			continue
		}
		g.Lines = append(g.Lines, m)
	}
	slices.SortFunc(g.Lines, func(a, b picks.Miss) int { return cmp.Compare(a.Row, b.Row) })
}

func drawCards(groups []missGroup, forks sideview.ForkOf) error {
	if forks == nil {
		return nil
	}
	for i := range groups {
		for k := range groups[i].Cards {
			card := &groups[i].Cards[k]
			f, err := forks(card.Row)
			if err != nil {
				return err
			}
			card.draw(f)
		}
	}
	return nil
}

// draw shows the fork where two of its parts come closest, or where its motion ends; top-out is dashed.
func (card *missCard) draw(f *sideview.Fork) {
	s, err := f.SolveReached(objectives.NewScorer(f.Conditions))
	if err != nil {
		s = &sideview.Solved{Fork: f, Ride: &ride.Ride[float64]{}} // it does not move
	}
	v := sideDrawing{s: s, low: sideview.XZ{X: math.Inf(1)}, high: sideview.XZ{X: math.Inf(-1)}}
	head := f.Conditions.Chassis.HeadAngle
	top := &stance.State[float64]{SinHead: math.Sin(head), CosHead: math.Cos(head)}
	var atTop []sideview.XZ
	for _, p := range f.Design.Layout {
		atTop = append(atTop, s.Ground(top, p))
	}
	at, state := atTop, top
	if n := len(s.Ride.States); n > 0 {
		state = &s.Ride.States[n-1]
		if s.Stopped == "" && s.Score.Closest.Pair != "" {
			for i := range s.Ride.States {
				if st := &s.Ride.States[i]; math.Abs(st.TravelMM-s.Score.Closest.TravelMM) < math.Abs(state.TravelMM-s.Score.Closest.TravelMM) {
					state = st
				}
			}
		}
		at = s.Places(state)
	}
	card.Travel = fmt.Sprintf("%.4g mm of travel", state.TravelMM)
	if s.Stopped != "" {
		card.Travel += ", where it stops"
	}
	v.ground(state, at)
	if state != top {
		v.links(atTop, ` stroke-dasharray="6 6" stroke-opacity=".45"`, false)
	}
	v.links(at, "", true)
	card.Side = v.svg("side view at " + card.Travel)
}

// sideDrawing collects a picture, one unit per mm over the ground, with y down.
type sideDrawing struct {
	s         *sideview.Solved
	text      bytes.Buffer
	low, high sideview.XZ
}

// see widens the picture to hold a point with some room around it.
func (v *sideDrawing) see(p sideview.XZ, room float64) {
	v.low.X, v.low.Z = math.Min(v.low.X, p.X-room), math.Min(v.low.Z, p.Z-room)
	v.high.X, v.high.Z = math.Max(v.high.X, p.X+room), math.Max(v.high.Z, p.Z+room)
}

func (v *sideDrawing) line(a, b sideview.XZ, style string) {
	fmt.Fprintf(&v.text, `<path d="M%.1f %.1fL%.1f %.1f" %s/>`, a.X, -a.Z, b.X, -b.Z, style)
	v.see(a, 30)
	v.see(b, 30)
}

// ground draws the wheel and the head tube.
func (v *sideDrawing) ground(st *stance.State[float64], at []sideview.XZ) {
	radius := v.s.Conditions.Chassis.FrontRadiusMM
	axle := at[v.s.Design.Mechanism.Point(scheme.PointAxle)]
	fmt.Fprintf(&v.text, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="none" style="stroke:var(--tyreline)" stroke-width="2"/>`, axle.X, -axle.Z, radius)
	v.see(axle, radius+6)
	on := func(along float64) sideview.XZ { return v.s.Ground(st, kinematics.Vec[float64]{Along: along}) }
	v.line(on(-128), on(-6), `style="stroke:var(--tube)" stroke-width="46"`)
}

// links draws the bodies and the shock, optionally with their names.
func (v *sideDrawing) links(at []sideview.XZ, style string, named bool) {
	m := v.s.Design.Mechanism
	for i, body := range m.Bodies {
		for k, l := range sideview.Links(m, body) {
			v.line(at[l.From], at[l.To], fmt.Sprintf(`style="stroke:var(--b%d)" stroke-width="7" stroke-linecap="round"%s`, i%bodyColours, style))
			if named && k == 0 {
				x, z := (at[l.From].X+at[l.To].X)/2, (at[l.From].Z+at[l.To].Z)/2
				fmt.Fprintf(&v.text, `<text class="part" x="%.1f" y="%.1f">%s</text>`, x+9, -z, template.HTMLEscapeString(naming.Label(body)))
			}
		}
	}
	if m.HasShock() {
		v.line(at[m.Point(scheme.PointShockUpper)], at[m.Point(scheme.PointShockLower)], `style="stroke:var(--shock)" stroke-width="3"`+style)
	}
}

// bodyColours is how many colours the style sheet has for bodies.
const bodyColours = 6

func (v *sideDrawing) svg(label string) template.HTML {
	for _, x := range []float64{v.low.X, v.low.Z, v.high.X, v.high.Z} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return ""
		}
	}
	return template.HTML(fmt.Sprintf(`<svg role="img" aria-label="%s" viewBox="%.0f %.0f %.0f %.0f"><path d="M%.0f 0H%.0f" style="stroke:var(--soft)" stroke-width="2"/>%s</svg>`, //nolint:gosec // numbers and escaped names
		label, v.low.X, -v.high.Z, v.high.X-v.low.X, v.high.Z-v.low.Z, v.low.X, v.high.X, v.text.String()))
}

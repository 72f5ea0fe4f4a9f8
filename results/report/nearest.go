package report

import (
	"bytes"
	"fmt"
	"html/template"
	"math"

	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/results/picks"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// missCard is a near miss as the page shows it.
type missCard struct {
	picks.Miss
	Side   template.HTML // empty: the fork cannot be drawn
	Travel string        // at which it is drawn
}

// maxMissCases bounds the cases whose near misses the page shows.
const maxMissCases = 24

// missCards draws near misses, without forks only what keeps them from being feasible.
func missCards(t *table.Table, forks sideview.ForkOf) (cards []missCard, more int, err error) {
	if t == nil {
		return nil, 0, nil
	}
	all := picks.Misses(t)
	shown := min(len(all), maxMissCases)
	for _, of := range all[:shown] {
		for _, m := range of.Misses {
			card := missCard{Miss: m}
			if forks != nil {
				f, err := forks(m.Row)
				if err != nil {
					return nil, 0, err
				}
				card.draw(f)
			}
			cards = append(cards, card)
		}
	}
	return cards, len(all) - shown, nil
}

// draw shows the fork where two of its parts come closest, or where its motion ends; top-out is dashed.
func (card *missCard) draw(f *sideview.Fork) {
	s := &sideview.Solved{Fork: f}
	s.Study = objectives.NewScorer(f.Conditions).Score(&s.Score, &f.Design)
	s.Ride = s.Study.Ride()
	v := sideDrawing{s: s, low: sideview.XZ{X: math.Inf(1)}, high: sideview.XZ{X: math.Inf(-1)}}
	head := f.Conditions.Chassis.HeadAngle
	top := &kinematics.State[float64]{SinHead: math.Sin(head), CosHead: math.Cos(head)}
	var atTop []sideview.XZ
	for _, p := range f.Design.Layout {
		atTop = append(atTop, s.Ground(top, p))
	}
	at, state := atTop, top
	if n := len(s.Ride.States); n > 0 {
		state = &s.Ride.States[n-1]
		if s.Score.Closest.Pair != "" {
			for i := range s.Ride.States {
				if st := &s.Ride.States[i]; math.Abs(st.TravelMM-s.Score.Closest.TravelMM) < math.Abs(state.TravelMM-s.Score.Closest.TravelMM) {
					state = st
				}
			}
		}
		at = s.Places(state)
	}
	card.Travel = fmt.Sprintf("%.4g", state.TravelMM)
	v.ground(state, at)
	if state != top {
		v.links(atTop, ` stroke-dasharray="6 6" stroke-opacity=".45"`, false)
	}
	v.links(at, "", true)
	card.Side = v.svg(fmt.Sprintf("side view at %s mm of travel", card.Travel))
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
	v.see(a, 12)
	v.see(b, 12)
}

// ground draws the wheel and the head tube.
func (v *sideDrawing) ground(st *kinematics.State[float64], at []sideview.XZ) {
	radius := v.s.Conditions.Chassis.FrontRadiusMM
	axle := at[v.s.Design.Mechanism.Point(kinematics.PointAxle)]
	fmt.Fprintf(&v.text, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="none" stroke="#9aa7aa" stroke-width="2"/>`, axle.X, -axle.Z, radius)
	v.see(axle, radius+6)
	on := func(along float64) sideview.XZ { return v.s.Ground(st, kinematics.Vec[float64]{Along: along}) }
	v.line(on(-128), on(-6), `stroke="#c5cfce" stroke-width="46"`)
}

// links draws the bodies and the shock, with their names if asked to.
func (v *sideDrawing) links(at []sideview.XZ, style string, named bool) {
	m := v.s.Design.Mechanism
	for i, body := range m.Bodies {
		colour := bodyColours[i%len(bodyColours)]
		for k, l := range sideview.Links(m, body) {
			v.line(at[l.From], at[l.To], fmt.Sprintf(`stroke="%s" stroke-width="7" stroke-linecap="round"%s`, colour, style))
			if named && k == 0 {
				x, z := (at[l.From].X+at[l.To].X)/2, (at[l.From].Z+at[l.To].Z)/2
				fmt.Fprintf(&v.text, `<text class="part" x="%.1f" y="%.1f">%s</text>`, x+9, -z, template.HTMLEscapeString(table.Label(body)))
			}
		}
	}
	if m.HasShock() {
		v.line(at[m.Point(kinematics.PointShockUpper)], at[m.Point(kinematics.PointShockLower)], `stroke="#3c474c" stroke-width="3"`+style)
	}
}

// bodyColours are those of the page's own side views.
var bodyColours = []string{"#0072b2", "#d55e00", "#009e73", "#cc79a7", "#8a6d00", "#56b4e9"}

func (v *sideDrawing) svg(label string) template.HTML {
	for _, x := range []float64{v.low.X, v.low.Z, v.high.X, v.high.Z} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return ""
		}
	}
	return template.HTML(fmt.Sprintf(`<svg role="img" aria-label="%s" viewBox="%.0f %.0f %.0f %.0f"><path d="M%.0f 0H%.0f" stroke="#55656d" stroke-width="2"/>%s</svg>`, //nolint:gosec // numbers and escaped names
		label, v.low.X, -v.high.Z, v.high.X-v.low.X, v.high.Z-v.low.Z, v.low.X, v.high.X, v.text.String()))
}

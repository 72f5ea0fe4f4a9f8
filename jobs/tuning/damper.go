package tuning

import (
	"math"
	"slices"

	"forkfront/objectives/quarter"
)

// directions are compression and rebound.
const directions = 2

// offered are the settings of a damper: those of one on sale, or where none is listed, any within a factor of what the fork
// needs.
type offered struct {
	name      string // empty: none is listed
	low, high [directions]float64
	clicks    [directions]int // 0: any setting
	curve     *quarter.Curve
}

// anyWithin is the factor to either side of what a fork needs.
const anyWithin = 4

func anyDamper(needs *quarter.Adjustment) (o offered) {
	for i, c := range [directions]float64{needs.CompressionNS, needs.ReboundNS} {
		o.low[i], o.high[i] = c/anyWithin, c*anyWithin
	}
	return o
}

func onSale(d *quarter.Damper) offered {
	return offered{d.Name, [directions]float64{d.Compression.Low, d.Rebound.Low}, [directions]float64{d.Compression.High, d.Rebound.High}, d.Clicks, d.Curve}
}

// within is the nearest between soft and firm to coefficients of compression and rebound.
func (o *offered) within(wanted [directions]float64) (at [directions]float64) {
	for i, c := range wanted {
		at[i] = math.Max(o.low[i], math.Min(c, o.high[i]))
	}
	return at
}

// setting is the nearest that is offered to coefficients of compression and rebound: on a click, or to 1 N·s/m.
func (o *offered) setting(wanted [directions]float64) (at [directions]float64) {
	for i, c := range o.within(wanted) {
		at[i] = c
		if o.clicks[i] > 0 {
			at[i] = o.onClick(i, o.click(i, c))
		} else if whole := math.Round(c); whole >= o.low[i] && whole <= o.high[i] {
			at[i] = whole
		}
	}
	return at
}

// click is the nearest one to a coefficient, counted from the softest setting.
func (o *offered) click(direction int, c float64) int {
	if o.high[direction] == o.low[direction] {
		return 0
	}
	return int(math.Round((c - o.low[direction]) / (o.high[direction] - o.low[direction]) * float64(o.clicks[direction])))
}

// onClick is the coefficient of a click.
func (o *offered) onClick(direction, click int) float64 {
	return o.low[direction] + float64((o.high[direction]-o.low[direction])*(float64(click)/float64(o.clicks[direction])))
}

// beside are the settings one click, or 3 % where there are none, softer and firmer: in one direction, then in both.
func (o *offered) beside(at [directions]float64) (all [][directions]float64) {
	for _, by := range [...][directions]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-1, -1}, {1, 1}, {-1, 1}, {1, -1}} {
		next := at
		for i, by := range by {
			if o.clicks[i] == 0 {
				next[i] *= math.Pow(1.03, float64(by))
			} else {
				next[i] = o.onClick(i, o.click(i, at[i])+by)
			}
		}
		if next = o.setting(next); next != at && !slices.Contains(all, next) {
			all = append(all, next)
		}
	}
	return all
}

func (o *offered) adjustment(at [directions]float64) quarter.Adjustment {
	return quarter.Adjustment{CompressionNS: at[0], ReboundNS: at[1], Curve: o.curve}
}

package tuning

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"forkfront/objectives/simulation"
)

// Aim is a quantity of an event that tuning makes small, with its weight.
type Aim struct {
	Event, Quantity int // of simulation.Events and simulation.Quantities
	Weight          float64
}

// Usual are the aims unless others are given: grip counts for half, comfort for a quarter, the rest for pitch and the end of the
// travel (common practice, no source).
var Usual = []Aim{
	{simulation.Stop, simulation.PitchDeg, 0.5},
	{simulation.FreeBump, simulation.LoadPct, 1},
	{simulation.FreeBump, simulation.HandRMS, 0.5},
	{simulation.BrakedBump, simulation.LoadPct, 1},
	{simulation.BrakedBump, simulation.HandRMS, 0.5},
	{simulation.Ripple, simulation.LoadPct, 0.5},
	{simulation.RoughRoad, simulation.LoadPct, 1},
	{simulation.RoughRoad, simulation.HandRMS, 0.5},
	{simulation.Drop, simulation.TravelPct, 0.5},
}

// Name is the event and the quantity, as ParseAims reads them.
func (a *Aim) Name() string {
	return simulation.Events[a.Event].Name + "." + simulation.Quantities[a.Quantity].Name
}

// allowed tells whether tuning can make a quantity small as a share of that of the telescopic fork.
func allowed(quantity int) bool {
	return simulation.Quantities[quantity].Low && quantity != simulation.LoadMorePct
}

// ParseAims reads weights such as bump.load_pct=2,stop.pitch_deg=1. The error says what is wrong and what is allowed.
func ParseAims(text string) (aims []Aim, err error) {
	for _, part := range strings.Split(text, ",") {
		name, number, _ := strings.Cut(strings.TrimSpace(part), "=")
		weight, err := strconv.ParseFloat(number, 64)
		if err != nil || !(weight > 0) || math.IsInf(weight, 1) {
			return nil, fmt.Errorf("%q; expected EVENT.QUANTITY=WEIGHT with a weight above 0, such as bump_braked.load_pct=2", part)
		}
		a, err := aimOf(name)
		if err != nil {
			return nil, err
		}
		a.Weight = weight
		if slices.ContainsFunc(aims, func(b Aim) bool { return a.Event == b.Event && a.Quantity == b.Quantity }) {
			return nil, fmt.Errorf("%s has two weights", name)
		}
		aims = append(aims, a)
	}
	return aims, nil
}

func aimOf(name string) (a Aim, err error) {
	var all []string
	for a.Event = range simulation.Events {
		for _, a.Quantity = range simulation.Events[a.Event].Has {
			if !allowed(a.Quantity) {
				continue
			}
			if a.Name() == name {
				return a, nil
			}
			all = append(all, a.Name())
		}
	}
	return a, fmt.Errorf("%q is no quantity of an event that can be made small; allowed are %s", name, strings.Join(all, ", "))
}

// events are those that aims need, in the order of simulation.Events.
func events(aims []Aim) (in []int) {
	for _, a := range aims {
		in = append(in, a.Event)
	}
	slices.Sort(in)
	return slices.Compact(in)
}

// mean is the weighted mean of the aims' values, each over that of the telescopic fork: below 1 the fork is the better one. It
// is infinite where a value is missing.
func mean(aims []Aim, of, telescopic *simulation.Results) float64 {
	sum, weights := 0.0, 0.0
	for _, a := range aims {
		if of[a.Event].Known(a.Quantity) != "" {
			return math.Inf(1)
		}
		sum += float64(a.Weight * of[a.Event].Values[a.Quantity] / telescopic[a.Event].Values[a.Quantity])
		weights += a.Weight
	}
	return sum / weights
}

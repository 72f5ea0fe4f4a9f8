package kinematics

import (
	"math/rand/v2"

	"forkfront/kinematics/scheme"
)

// builtInFork is a mechanism with coordinates.
type builtInFork struct {
	spec scheme.MechanismSpec
	at   map[string][2]float64
}

// builtIn are the built-in mechanisms of pins, each with the coordinates of an invented fork.
var builtIn = []builtInFork{
	{girderSpec, map[string][2]float64{
		"lower_rear": {27.9, 58.8}, "lower_front": {63.1, 206.2}, "upper_rear": {-104.6, 51.1}, "upper_front": {-72, 157.9},
		"shock_upper": {-187.9, 89.8}, "shock_lower": {18.5, 128.4},
	}},
	{scheme.MechanismSpec{
		Name: "girder-rocker", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade", "push_rod", "rocker"},
		Pivots: []scheme.PivotSpec{
			pin("lower_rear", "crown", "lower_link"), pin("lower_front", "lower_link", "blade"), pin("upper_rear", "crown", "upper_link"),
			pin("upper_front", "upper_link", "blade"), pin("rod_bottom", "lower_link", "push_rod"), pin("rod_top", "push_rod", "rocker"), pin("rocker_pivot", "crown", "rocker"),
		},
		Axle: "blade", Shock: [2]string{"crown", "rocker"},
	}, map[string][2]float64{
		"lower_rear": {13, 84}, "lower_front": {49.1, 250.5}, "upper_rear": {-131.4, 65.9}, "upper_front": {-105.5, 187}, "rod_bottom": {38.5, 137.5},
		"rod_top": {-93.9, 138.8}, "rocker_pivot": {-168.4, 51.1}, "shock_upper": {-270, 119.1}, "shock_lower": {-136, 280.8},
	}},
	{scheme.MechanismSpec{
		Name: "low-four-bar", Ground: "legs", Bodies: []string{"legs", "lower_link", "upper_link", "carrier"},
		Pivots: []scheme.PivotSpec{
			pin("lower_leg", "legs", "lower_link"), pin("lower_carrier", "lower_link", "carrier"), pin("upper_leg", "legs", "upper_link"), pin("upper_carrier", "upper_link", "carrier"),
		},
		Axle: "carrier", Shock: [2]string{"legs", "lower_link"},
	}, map[string][2]float64{
		"lower_leg": {396.4, -149.9}, "lower_carrier": {416.1, 59.7}, "upper_leg": {305.6, -143.7}, "upper_carrier": {272.8, 50},
		"shock_upper": {202.8, -109.3}, "shock_lower": {406.8, -59.5},
	}},
	{scheme.MechanismSpec{
		Name: "leading-arm", Ground: "legs", Bodies: []string{"legs", "arm"},
		Pivots: []scheme.PivotSpec{pin("arm_pivot", "legs", "arm")},
		Axle:   "arm", Shock: [2]string{"legs", "arm"},
	}, map[string][2]float64{"arm_pivot": {399.8, -60}, "shock_upper": {229.8, -105.8}, "shock_lower": {409.6, -25.6}}},
	{floatingSpec, map[string][2]float64{
		"arm_pivot": {399.8, -200}, "carrier_pin": {302.2, 30.2}, "reaction_anchor": {318.6, -128.2}, "shock_upper": {229.8, -105.8}, "shock_lower": {439.6, -95.6},
	}},
	{scheme.MechanismSpec{
		Name: "trailing-arm-floating-brake", Ground: "legs", Bodies: []string{"legs", "arm", "carrier", "reaction"},
		Pivots: floatingSpec.Pivots, Axle: "arm", Brake: "carrier", Shock: [2]string{"legs", "arm"},
	}, map[string][2]float64{
		"arm_pivot": {301.9, 254}, "carrier_pin": {325.9, 34.6}, "reaction_anchor": {199.1, 201.5}, "shock_upper": {160.5, 176.7}, "shock_lower": {389.6, 156.7},
	}},
	{scheme.MechanismSpec{
		Name: "six-bar", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "coupler", "drop_link", "leg"},
		Pivots: []scheme.PivotSpec{
			pin("lower_rear", "crown", "lower_link"), pin("lower_front", "lower_link", "coupler"), pin("upper_rear", "crown", "upper_link"), pin("upper_front", "upper_link", "coupler"),
			pin("leg_top", "coupler", "leg"), pin("drop_top", "lower_link", "drop_link"), pin("drop_bottom", "drop_link", "leg"),
		},
		Axle: "leg", Shock: [2]string{"crown", "lower_link"},
	}, map[string][2]float64{
		"lower_rear": {30.9, 60}, "lower_front": {89.7, 180.1}, "upper_rear": {-142, 79.8}, "upper_front": {-34, 172.3}, "leg_top": {23.8, 226.8},
		"drop_top": {64.6, 135}, "drop_bottom": {122.3, 177.5}, "shock_upper": {-181.8, 97}, "shock_lower": {26.6, 122.9},
	}},
	{scheme.MechanismSpec{
		Name: "wishbone", Ground: "frame", Bodies: []string{"frame", "lower", "upper", "upright"}, Steering: []string{"lower_ball", "upper_ball"},
		Pivots: []scheme.PivotSpec{
			pin("lower_rear", "frame", "lower"), pin("lower_ball", "lower", "upright"), pin("upper_rear", "frame", "upper"), pin("upper_ball", "upper", "upright"),
		},
		Axle: "upright", Shock: [2]string{"frame", "lower"},
	}, map[string][2]float64{
		"lower_rear": {130, -150}, "lower_ball": {120, 0}, "upper_rear": {-40, -130}, "upper_ball": {-60, 0}, "shock_upper": {-150, -70}, "shock_lower": {120, -60},
	}},
}

// scattered moves all points of a built-in fork by up to a distance each way.
func scattered(r *rand.Rand, at map[string][2]float64, points []string, by float64) map[string][2]float64 {
	moved := map[string][2]float64{"root": {25, 0}}
	for _, name := range points {
		if p, ok := at[name]; ok {
			moved[name] = [2]float64{p[0] + by*(2*r.Float64()-1), p[1] + by*(2*r.Float64()-1)}
		}
	}
	return moved
}

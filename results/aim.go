package results

import (
	"forkfront/objectives"
	"forkfront/results/table"
)

// AimOf returns the aim of a goal.
func AimOf(g *objectives.Goal) *table.Aim {
	switch g.Aim {
	case objectives.Within:
		return &table.Aim{Wants: "band", Low: &g.Band.Low, High: &g.Band.High}
	case objectives.Largest:
		return &table.Aim{Wants: "max", Enough: g.Enough}
	}
	return &table.Aim{Wants: "min", Enough: g.Enough}
}

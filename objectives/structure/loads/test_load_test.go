package loads

import "testing"

// The figures of the presets, as they were read in a copy of ASTM F2899 or are remembered of ISO 4210-6: forces in N, cycles, a striker in
// kg that falls from a height in mm.
func TestFiguresOfThePresets(t *testing.T) {
	type figures struct {
		kind                                   TestKind
		rearward, along, cycles, striker, drop float64
		braked, full                           bool
	}
	for preset, want := range map[string]map[string]figures{
		"none": {},
		"iso-4210-6-mountain": {
			"static bending":       {kind: StaticTest, rearward: 1500},
			"bending fatigue":      {kind: ReversedTest, rearward: 650, cycles: 100000},
			"static brake torque":  {kind: StaticTest, rearward: 1000, braked: true},
			"brake torque fatigue": {kind: PulsatingTest, rearward: 600, cycles: 12000, braked: true},
			"compression":          {kind: StaticTest, along: -2800, full: true},
			"tension":              {kind: StaticTest, along: 2300},
			"rearward impact":      {kind: ImpactTest, striker: 22.5, drop: 360},
		},
		"astm-f2899": {
			"static bending":  {kind: StaticTest, rearward: 1200},
			"bending fatigue": {kind: ReversedTest, rearward: 620, cycles: 100000},
			"rearward impact": {kind: ImpactTest, striker: 22.5, drop: 640},
		},
	} {
		if len(TestPresets[preset]) != len(want) {
			t.Errorf("%s: %d tests", preset, len(TestPresets[preset]))
		}
		for _, p := range TestPresets[preset] {
			got := figures{p.Kind, p.RearwardN, p.AlongN, p.Cycles, p.StrikerKG, p.DropMM, p.Braked, p.At == FullTravel}
			if got != want[p.Name] || p.BrakeArmMM != 0 || p.At == AtSag {
				t.Errorf("%s, %s: %+v", preset, p.Name, got)
			}
		}
	}
}

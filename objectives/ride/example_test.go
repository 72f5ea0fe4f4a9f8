package ride_test

import (
	"fmt"
	"math"

	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
	"forkfront/objectives/trial"
)

// A centre of gravity 850 mm behind the front axle and 980 mm high: the rear wheel lifts at 850/980 g.
func ExamplePitchOverG() {
	fmt.Printf("%.3f g\n", ride.PitchOverG(&stance.Chassis{CGToFrontAxleMM: 850, CGHeightMM: 980}))
	// Output: 0.867 g
}

// A telescopic fork has negative anti-dive: braking pushes the wheel back, and its path leads back as it rises. In
// closed form, with the head angle H: −share · wheelbase / height of the centre of gravity / tan H.
func ExampleAntiDive() {
	bike := stance.Chassis{
		HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38,
		CGHeightMM: 980, CGToFrontAxleMM: 850, FrontBrakeShare: 0.7, Level: true,
	}
	var at stance.State[float64]
	bike.Telescopic(&at, nil, 25)
	fmt.Printf("%.2f %%, closed form %.2f %%\n", ride.AntiDive(&bike, &at), -100*0.7*1300/980/math.Tan(bike.HeadAngle))
	// Output: -33.80 %, closed form -33.80 %
}

// Hard braking is limited by the tyre's grip, or, as here with a grip of 1.5, by the rear wheel lifting off.
func ExampleSetting_HardBraking() {
	s := ride.Setting{Chassis: stance.Chassis{MassKG: 170, CGHeightMM: 980, CGToFrontAxleMM: 850, WheelbaseMM: 1300}}
	force, load := s.HardBraking(1.5)
	fmt.Printf("%.0f N at the front tyre, which carries %.0f N of the bike's %.0f N\n", force, load, 170*ride.Gravity)
	// Output: 1446 N at the front tyre, which carries 1667 N of the bike's 1667 N
}

// The static load of a bike of 170 kg, by moments about the rear contact point: 170 g · (1300 − 850) / 1300.
func ExampleSetting_StaticLoadN() {
	s := trial.Setting()
	fmt.Printf("%.1f N at sag, after %.0f mm of travel\n", s.StaticLoadN(), s.SagMM())
	// Output: 577.1 N at sag, after 25 mm of travel
}

// A shock that shortens by half a millimetre per millimetre of travel.
func ExampleLeverageAt() {
	fmt.Println(ride.LeverageAt(&stance.State[float64]{ShockRate: 0.5}))
	// Output: 2
}

// The telescopic baseline has a spring that carries the static load at sag. By hand, with a head angle that stays at
// 70° while the bike pitches: 577.1 sin 70° / 25 = 21.7 N/mm, and a dive of 36.4 mm.
func ExampleNewBaseline() {
	s := trial.Setting()
	b := ride.NewBaseline(&s)
	fmt.Printf("%.1f N/mm, dives %.1f mm in a hard stop\n", b.SpringNPerMM, b.BrakeDiveMM)
	// Output: 21.8 N/mm, dives 35.7 mm in a hard stop
}

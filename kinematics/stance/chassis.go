package stance

// Chassis is the bike that a fork is for, as it stands at top-out. Lengths in mm, angles in
// radians, masses in kg.
type Chassis struct {
	HeadAngle       float64 // from the ground, rear side
	WheelbaseMM     float64
	FrontRadiusMM   float64
	RearRadiusMM    float64
	AxleToCrownMM   float64 // parallel to the steering axis
	ForkOffsetMM    float64
	CGHeightMM      float64
	CGToFrontAxleMM float64 // horizontal
	MassKG          float64 // rider and bike
	FrontBrakeShare float64 // 0..1
	UnsprungFrontKG float64
	Level           bool // true: the head angle stays as given (a bump at both ends); false: pitching
}

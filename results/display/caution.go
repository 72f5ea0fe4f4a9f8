package display

// Caution is shown wherever people read results: the README, a score, the report. The standard
// named is ISO 4210-6 (cycles, frame and fork test methods).
const Caution = "A fork is a safety-critical part. These figures are concept-stage estimates of a planar model, " +
	"not a proof of strength. Before anyone rides, build prototypes, test them to the standards that apply " +
	"(ISO 4210-6 for bicycle forks; the rules for motor vehicles where the vehicle is sold) and have the " +
	"design reviewed by a qualified engineer. Seen only where events or test loads are asked for: rear suspension (its " +
	"extension about doubles the pitch of braking), bumps met under braking, tyre deflection and damping beyond two " +
	"masses at sag, fatigue. Not seen by the model: bump steer, rider movement, joints and local stress."

// Unproved is what no test load on paper covers. It stands wherever margins do.
const Unproved = "Not checked: edge loads of bearings and bushes, their wear, the wheel axle, welds' local stress, lugs, brackets, buckling beyond the " +
	"load cases, corrosion, and the real fork: margins on paper certify nothing."

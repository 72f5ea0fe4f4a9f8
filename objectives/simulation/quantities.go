package simulation

// Quantity is something that an event tells about a fork, as a number with a unit.
type Quantity struct {
	Name, Unit, Doc string
	Low             bool    // less is better; else neither
	Resolution      float64 // difference below which two forks count as equal
	Scale           float64 // an amount that is plainly a lot
	compared        bool    // with the telescopic fork: has no value for that itself
}

// The quantities, in the order of Quantities.
const (
	LoadPct = iota
	LoadMorePct
	LoadErrorPct
	AirborneS
	HandRMS
	HandPeak
	TravelPct
	PeakDiveMM
	RestDiveMM
	OvershootPct
	SettleS
	PitchDeg
	RearLoadMinN
	StopForceN
	ShaftMPerS
	quantities
)

// Quantities is the registry of what events tell.
var Quantities = [quantities]Quantity{
	LoadPct:      {Name: "load_pct", Unit: "%", Resolution: 0.5, Scale: 20, Low: true, Doc: "standard deviation of the load on the front wheel, in % of the static load: the less it varies, the better the grip"},
	LoadMorePct:  {Name: "load_vs_telescopic_pct", Unit: "%", Resolution: 0.5, Scale: 20, Low: true, compared: true, Doc: "load_pct less that of the telescopic fork on the same roads"},
	LoadErrorPct: {Name: "load_vs_telescopic_error_pct", Unit: "%", Resolution: 0.5, Scale: 20, compared: true, Doc: "two standard errors of load_vs_telescopic_pct; a difference below that is none"},
	AirborneS:    {Name: "airborne_s", Unit: "s", Resolution: 0.002, Scale: 0.05, Low: true, Doc: "time without contact of the front tyre"},
	HandRMS:      {Name: "hand_rms_m_per_s2", Unit: "m/s2", Resolution: 0.02, Scale: 1, Low: true, Doc: "root mean square of the acceleration at the hands, forward and up together, weighted by W_h of ISO 5349-1"},
	HandPeak:     {Name: "hand_peak_m_per_s2", Unit: "m/s2", Resolution: 0.2, Scale: 10, Low: true, Doc: "largest acceleration at the hands, not weighted"},
	TravelPct:    {Name: "travel_pct", Unit: "%", Resolution: 0.5, Scale: 20, Low: true, Doc: "largest travel, in % of full travel; above 100 the stop is compressed"},
	PeakDiveMM:   {Name: "peak_dive_mm", Unit: "mm", Resolution: 0.1, Scale: 20, Doc: "largest travel from rest, towards the rest under braking"},
	RestDiveMM:   {Name: "rest_dive_mm", Unit: "mm", Resolution: 0.1, Scale: 20, Doc: "travel from rest to rest under steady braking; negative where the fork rises"},
	OvershootPct: {Name: "overshoot_pct", Unit: "%", Resolution: 0.5, Scale: 20, Low: true, Doc: "by how much the peak exceeds the dive at rest, in % of that"},
	SettleS:      {Name: "settle_s", Unit: "s", Resolution: 0.005, Scale: 0.2, Low: true, Doc: "time from the onset of braking until the dive stays within 5 % of that at rest"},
	PitchDeg:     {Name: "pitch_deg", Unit: "deg", Resolution: 0.02, Scale: 1, Low: true, Doc: "largest turn of the frame from rest, nose down"},
	RearLoadMinN: {Name: "rear_load_min_n", Unit: "N", Resolution: 5, Scale: 200, Doc: "smallest load on the rear wheel; 0: it lifts"},
	StopForceN:   {Name: "stop_force_n", Unit: "N", Resolution: 20, Scale: 1000, Low: true, Doc: "largest force of the stop at full travel, along the travel; 0: it is not reached"},
	ShaftMPerS:   {Name: "shaft_m_per_s", Unit: "m/s", Resolution: 0.02, Scale: 1, Doc: "largest speed at which a shock is compressed"},
}

// Outcome is what one event tells about one fork.
type Outcome struct {
	Missing string // why it has no values; empty where it has
	Values  [quantities]float64
	Why     [quantities]string // why a quantity of the event has no value; empty where it has

	seeds [roughSeeds]float64 // load variation by seed of a rough road
}

// Known tells whether an event has a value of a quantity, and why not.
func (o *Outcome) Known(q int) (why string) {
	if o.Missing != "" {
		return o.Missing
	}
	return o.Why[q]
}

// Results has the outcomes of all events, in the order of Events.
type Results [events]Outcome

// Miss leaves all events without values.
func (r *Results) Miss(why string) {
	for i := range r {
		r[i] = Outcome{Missing: why}
	}
}

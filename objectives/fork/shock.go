package fork

// Shock is the spring and damper unit of a candidate, or several side by side.
type Shock struct {
	Count      int
	EyeToEyeMM float64
	StrokeMM   float64
	PreloadMM  float64
	MassG      float64    // of one; 0: by its size
	Air        *AirSpring // nil: a coil
}

// AirSpring is a closed chamber that the shock's rod compresses.
type AirSpring struct {
	BoreMM, ChamberMM float64
	Exponent          float64 // of compression: 1 isothermal, 1.4 adiabatic; 1.3 where not given
	MaxBar            float64 // what it holds above the atmosphere, at top-out; 0: not known
}

// AtmosphereMPa is the pressure outside (standard atmosphere, ISO 2533).
const AtmosphereMPa = 0.101325

package fork

// Shock is the spring and damper unit of a candidate, or several side by side.
type Shock struct {
	Count      int
	EyeToEyeMM float64
	StrokeMM   float64
	PreloadMM  float64
	MassG      float64    // of one shock; 0: estimated from its size
	Air        *AirSpring // nil: a coil
}

// AirSpring is a closed chamber that the shock's rod compresses.
type AirSpring struct {
	BoreMM, ChamberMM float64
	Exponent          float64 // of compression: 1 isothermal, 1.4 adiabatic; 1.3 where not given
	MaxBar            float64 // largest pressure allowed at top-out, above the atmosphere; 0: not known
}

// AtmosphereMPa is the pressure of the atmosphere in MPa (standard atmosphere, ISO 2533).
const AtmosphereMPa = 0.101325

package fork

// Material is a tube material.
type Material struct {
	Name        string
	YoungMPa    float64 // modulus of elasticity
	DensityKGM3 float64
	YieldMPa    float64
}

// Materials are those built in. Values: MIL-HDBK-5J (2003), room temperature, A basis where given. The yield
// strength is that of the stock named: of welded aluminium little more than half is left.
var Materials = []Material{
	{"6061-T6", 68260, 2712.6, 241.3},    // extrusion
	{"7075-T6", 71020, 2795.7, 482.6},    // sheet
	{"2024-T3", 72390, 2768.0, 324.1},    // sheet
	{"Ti-6Al-4V", 110320, 4428.8, 868.7}, // annealed
	{"4130", 199950, 7833.4, 517.1},      // normalized
}

// MaterialNamed returns the built-in material of a name, or nil.
func MaterialNamed(name string) *Material {
	for i := range Materials {
		if Materials[i].Name == name {
			return &Materials[i]
		}
	}
	return nil
}

// GramsPerMM3 is the density in g/mm³.
func (m *Material) GramsPerMM3() float64 { return m.DensityKGM3 * 1e-6 }

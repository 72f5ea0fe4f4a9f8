package sections

// newtonPerMMOfPoundPerInch is exact: a pound is 0.45359237 kg, standard gravity 9.80665 m/s², an inch 25.4 mm (NIST
// Special Publication 811, appendix B, from memory).
const newtonPerMMOfPoundPerInch = 4.4482216152605 / 25.4

// CoilsOnSale lists common coil rates in N/mm: 250 to 650 lb/in in steps of 25 (common practice,
// no source).
func CoilsOnSale() []float64 {
	var rates []float64
	for poundPerInch := 250; poundPerInch <= 650; poundPerInch += 25 {
		rates = append(rates, float64(poundPerInch)*newtonPerMMOfPoundPerInch)
	}
	return rates
}

package structure

// Bearing is a rolling bearing of a size of ISO 15: bore, outside diameter and width in mm, static
// radial load rating in N.
type Bearing struct {
	BoreMM, OutsideMM, WidthMM float64
	StaticN                    float64
}

// bearings are deep-groove ball bearings of the dimension series 18 and 19, from light to heavy.
// The ratings of the first four are published, C0 = f0 Z Dw² by ISO 76; the others are values from
// memory, and makers' ratings differ by several per cent.
var bearings = []Bearing{
	{10, 19, 5, 925},
	{10, 22, 6, 1270},
	{12, 21, 5, 1040},
	{12, 24, 6, 1460},
	{15, 24, 5, 1100},
	{17, 26, 5, 1270}, // recalled
	{15, 28, 7, 2240},
	{17, 30, 7, 2550}, // recalled
	{20, 32, 7, 2320},
	{25, 37, 7, 2600}, // recalled
	{20, 37, 9, 3650},
	{25, 42, 9, 4300}, // recalled
}

// fill is the part of a bearing's envelope that is steel (common practice, no source: it brings
// 10-19-5 to 5 g).
const fill = 0.6

const steelGramsPerMM3 = 7.85e-3

// massG of one bearing.
func (b *Bearing) massG() float64 {
	return fill * steelGramsPerMM3 * ring(b.BoreMM, b.OutsideMM) * b.WidthMM
}

// ring is the area between two circles, by diameters.
func ring(inside, outside float64) float64 {
	return 0.7853981633974483 * (outside*outside - inside*inside)
}

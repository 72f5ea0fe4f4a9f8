package parts

import "fmt"

// Bearing is a rolling bearing of a size of ISO 15: bore, outside diameter and width in mm, static and dynamic
// radial load ratings in N.
type Bearing struct {
	BoreMM, OutsideMM, WidthMM float64
	StaticN, DynamicN          float64
}

func (b *Bearing) String() string { return fmt.Sprintf("%g-%g-%g", b.BoreMM, b.OutsideMM, b.WidthMM) }

// LifeUsed is the share of its basic rating life L10 = (C/P)³ million turns that a bearing uses up in a number of turns
// under a radial force in N (ISO 281).
func (b *Bearing) LifeUsed(force, turns float64) float64 {
	share := force / b.DynamicN
	return turns / 1e6 * share * share * share
}

// bearings are deep-groove ball bearings of the dimension series 18 and 19, from light to heavy.
// The static ratings of the first four are published, C0 = f0 Z Dw² by ISO 76, and their dynamic ratings follow by ISO 281
// from the balls that these have. The others are values from memory, and makers' ratings differ by several per cent.
var bearings = []Bearing{
	{10, 19, 5, 925, 1830},
	{10, 22, 6, 1270, 2700},
	{12, 21, 5, 1040, 1920},
	{12, 24, 6, 1460, 2890},
	{15, 24, 5, 1100, 1900},
	{17, 26, 5, 1270, 2030}, // recalled
	{15, 28, 7, 2240, 4360},
	{17, 30, 7, 2550, 4620}, // recalled
	{20, 32, 7, 2320, 4030},
	{25, 37, 7, 2600, 4360}, // recalled
	{20, 37, 9, 3650, 6370},
	{25, 42, 9, 4300, 7020}, // recalled
}

// fill is the part of a bearing's envelope that is steel (common practice, no source: it brings
// 10-19-5 to 5 g).
const fill = 0.6

// massG of one bearing.
func (b *Bearing) massG() float64 {
	return fill * SteelGramsPerMM3 * Ring(b.BoreMM, b.OutsideMM) * b.WidthMM
}

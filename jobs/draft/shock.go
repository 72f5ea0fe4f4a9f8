package draft

import "math"

// coilNPerMM is a rate in the middle of those of coils on sale, by ratio (common practice, no source).
const coilNPerMM = 70.0

// leverage is the mean leverage ratio at which a coil in the middle of those on sale carries the front of the bike at
// sag. By virtual work count · k · s = N · ratio with the compression s = sag · travel / ratio, so that
// ratio² = count · k · sag · travel / N; that the steering axis is not vertical is neglected.
func (b *Bike) leverage(count int) float64 {
	r := math.Sqrt(float64(count) * coilNPerMM * sag * b.TravelMM / b.frontLoad())
	return math.Min(math.Max(r, 1.3), 3)
}

// shock is a size of shock, in mm.
type shock struct{ eyeToEye, stroke float64 }

// shocks are sizes that give about a leverage ratio when they use 88 to 100 % of their stroke. Strokes come in steps of
// 5 mm, and a shock is 100 mm longer than twice its stroke (common practice, no source).
func (b *Bike) shocks(ratio float64) []shock {
	var all []shock
	for s := 5 * math.Ceil(b.TravelMM/ratio/1.12/5); s <= b.TravelMM/ratio*1.22; s += 5 {
		all = append(all, shock{100 + 2*s, s})
	}
	return all
}

// driven gives a plan count shocks of the size that carries the bike.
func (b *Bike) driven(p *plan, count int) {
	p.shocks, p.ratio = count, b.leverage(count)
	p.sizes = b.shocks(p.ratio)
}

// eye is the length of the plan's middle shock.
func (p *plan) eye() float64 { return p.sizes[len(p.sizes)/2].eyeToEye }

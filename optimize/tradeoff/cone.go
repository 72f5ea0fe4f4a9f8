package tradeoff

import "math"

// cone is the set of moves d with a·d ≤ b for every row, and none of the fixed variables.
type cone struct {
	a     [][]float64 // rows of length 1
	b     []float64
	fixed []bool
	y     []float64 // multipliers
	d     []float64
}

func (c *cone) reset(n int) {
	c.a, c.b = c.a[:0], c.b[:0]
	if c.fixed == nil {
		c.fixed, c.d = make([]bool, n), make([]float64, n)
	}
	clear(c.fixed)
}

// keep adds a row; one that is 0 asks nothing.
func (c *cone) keep(a []float64, b float64) {
	length := norm(a)
	if !(length > 0) || math.IsInf(length, 0) {
		return
	}
	row := make([]float64, len(a))
	for j := range a {
		row[j] = a[j] / length
	}
	c.a, c.b = append(c.a, row), append(c.b, b/length)
}

// fix keeps a variable as it is.
func (c *cone) fix(j int) { c.fixed[j] = true }

// side keeps a variable from moving further in a direction.
func (c *cone) side(j int, sign float64) {
	row := make([]float64, len(c.d))
	row[j] = sign
	c.a, c.b = append(c.a, row), append(c.b, 0)
}

// descend is the steepest descent of a gradient projected on the set.
func (c *cone) descend(gradient []float64) []float64 {
	for j := range gradient {
		c.d[j] = -gradient[j]
	}
	return c.project(norm(gradient))
}

// nearest is the shortest move in the set.
func (c *cone) nearest() []float64 {
	clear(c.d)
	return c.project(1)
}

// project brings d to the nearest point of the set by Hildreth's method: the dual is solved one multiplier after the
// other (Hildreth 1957, Naval Research Logistics Quarterly 4), until a round changes d by less than 1e-10 of the scale.
func (c *cone) project(scale float64) []float64 {
	const rounds = 2000
	for j := range c.d {
		if c.fixed[j] {
			c.d[j] = 0
		}
	}
	c.y = append(c.y[:0], make([]float64, len(c.a))...)
	for range rounds {
		changed := 0.0
		for i, row := range c.a {
			length := 0.0
			over := -c.b[i]
			for j := range row {
				if !c.fixed[j] {
					over += row[j] * c.d[j]
					length += row[j] * row[j]
				}
			}
			if length == 0 {
				continue
			}
			y := math.Max(0, c.y[i]+over/length)
			if by := y - c.y[i]; by != 0 {
				c.y[i] = y
				changed = math.Max(changed, math.Abs(by))
				for j := range row {
					if !c.fixed[j] {
						c.d[j] -= by * row[j]
					}
				}
			}
		}
		if changed <= 1e-10*scale {
			break
		}
	}
	return c.d
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }

// l1 is the sum of magnitudes.
func l1(a []float64) float64 {
	sum := 0.0
	for _, v := range a {
		sum += math.Abs(v)
	}
	return sum
}

func largest(a []float64) float64 {
	most := 0.0
	for _, v := range a {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

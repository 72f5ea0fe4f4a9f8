package testbed

import (
	"math"
	"math/cmplx"

	"forkfront/optimize/problem"
)

// semicirclePoints are the targets: six points of a semicircle for the crank at 30°, 60°, …, 180°.
var semicirclePoints = [...]complex128{
	0, 1.9098 + 5.8779i, 6.9098 + 9.5106i, 13.09 + 9.5106i, 18.09 + 5.8779i, 20,
}

// Semicircle is path generation with prescribed timing by a four-bar with a full crank (Kunjur and Krishnamurty 1997;
// Acharyya and Mandal, Mech. Mach. Theory 44 (2009) 1784, whose best sum of squared distances is 2.5804 with r1 = 50
// and r2 = 5; recalled): ground r1, crank r2, coupler r3, rocker r4, the tracer on the coupler, along it and across,
// the crank's pivot (2) and the turn of the ground link. The three constraints are Grashof's for a crank that is the
// shortest link; together they also say that it is.
func Semicircle() *Problem {
	vars := append(box(4, 5, 50), box(4, -50, 50)...)
	vars = append(vars, problem.Variable{Low: 0, High: 2 * math.Pi})
	return &Problem{
		Name: "semicircle", Vars: vars, M: 1, C: 3,
		Eval: func(f, g, x []float64) {
			z := make([]complex128, len(x))
			for i, v := range x {
				z[i] = complex(v, 0)
			}
			for k, c := range grashof {
				g[k] = (x[1] + x[c[0]] - x[c[1]] - x[c[2]]) / 50
			}
			f[0] = math.Inf(1)
			if sum := real(semicircleSum(z)); sum >= 0 { // NaN where the links do not reach
				f[0] = sum
			}
		},
		Derivative: semicircleSlope,
	}
}

// grashof are the constraints: the crank and the first of these links are no longer than the other two.
var grashof = [...][3]int{{0, 2, 3}, {2, 0, 3}, {3, 0, 2}}

// semicircleSum is the sum of squared distances. It holds for complex variables too, so that an imaginary step gives the
// derivative (Squire and Trapp, SIAM Rev. 40 (1998) 110).
func semicircleSum(z []complex128) complex128 {
	sum := complex(0, 0)
	turnCos, turnSin := cmplx.Cos(z[8]), cmplx.Sin(z[8])
	for i, target := range semicirclePoints {
		sin, cos := math.Sincos(float64(i+1) * math.Pi / 6)
		ax, ay := z[1]*complex(cos, 0), z[1]*complex(sin, 0)
		dx, dy := z[0]-ax, -ay // from the crank pin to the rocker's pivot
		d2 := dx*dx + dy*dy
		d := cmplx.Sqrt(d2)
		along := (d2 + z[2]*z[2] - z[3]*z[3]) / (2 * d)
		h2 := z[2]*z[2] - along*along
		if real(h2) < 0 {
			return cmplx.NaN()
		}
		across := cmplx.Sqrt(h2)
		ux, uy := dx/d/z[2], dy/d/z[2]
		bx, by := along*ux-across*uy, along*uy+across*ux // along the coupler, length 1
		cx, cy := ax+z[4]*bx-z[5]*by, ay+z[4]*by+z[5]*bx
		px := z[6] + cx*turnCos - cy*turnSin - complex(real(target), 0)
		py := z[7] + cx*turnSin + cy*turnCos - complex(imag(target), 0)
		sum += px*px + py*py
	}
	return sum
}

func semicircleSlope(df, dg [][]float64, x []float64) {
	const step = 1e-30
	z := make([]complex128, len(x))
	for i, v := range x {
		z[i] = complex(v, 0)
	}
	for i, v := range x {
		z[i] = complex(v, step)
		df[0][i] = imag(semicircleSum(z)) / step
		z[i] = complex(v, 0)
	}
	for k, c := range grashof {
		clear(dg[k])
		dg[k][1], dg[k][c[0]] = 1.0/50, 1.0/50
		dg[k][c[1]], dg[k][c[2]] = -1.0/50, -1.0/50
	}
}

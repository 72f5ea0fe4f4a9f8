package arithmetic

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"
)

// The probe against exact arithmetic: x·y + z is 2⁻⁵⁴, which only a fused operation gives.
func TestFusedInstructionsAreDetected(t *testing.T) {
	x, y, z := inputs[0], inputs[1], inputs[2]
	exact := new(big.Float).SetPrec(200).Mul(big.NewFloat(x), big.NewFloat(y))
	exact.Add(exact, big.NewFloat(z))
	if v, _ := exact.Float64(); v != math.Ldexp(1, -54) || math.FMA(x, y, z) != v {
		t.Fatalf("exactly %g, fused %g", v, math.FMA(x, y, z))
	}
	if product := float64(x * y); product+z != 0 {
		t.Errorf("rounded twice it is %g", product+z)
	}
	if fuses(x, y, z) != strings.Contains(Kind(), " fused by ") {
		t.Errorf("%q, but fuses is %t", Kind(), fuses(x, y, z))
	}
}

// No result is NaN, whose bits may differ without a difference in arithmetic.
func TestResultsAreNumbers(t *testing.T) {
	all := results()
	for i, v := range all {
		if math.IsNaN(v) {
			t.Errorf("result %d is NaN", i)
		}
	}
	if len(all) < 3000 {
		t.Errorf("%d results", len(all))
	}
}

func TestOtherKindsAreRefused(t *testing.T) {
	if err := Check("it", Kind()); err != nil {
		t.Error(err)
	}
	var m *Mismatch
	if err := Check("state 3", "arm64 fused by go1 00"); !errors.As(err, &m) || !strings.Contains(err.Error(), "state 3 was computed with other arithmetic (arm64 fused by go1 00)") || !strings.Contains(err.Error(), Kind()) {
		t.Error(err)
	}
}

package jobs

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/jobs/words"
	"forkfront/objectives"
)

// The rounding by hand: four digits, and all digits of the whole number where it has more.
func TestLargeNumbersHaveNoExponent(t *testing.T) {
	zero := 0.0
	for _, x := range []struct {
		v          float64
		text, sign string
	}{
		{11612.4, "11612", "+11612"},
		{-11612.4, "-11612", "-11612"},
		{9999.7, "10000", "+10000"},
		{9999.4, "9999", "+9999"},
		{1234567, "1234567", "+1234567"},
		{102.96, "103", "+103"},
		{0.012345, "0.01235", "+0.01235"},
		{0, "0", "+0"},
	} {
		if got := words.Shown(&x.v); got != x.text {
			t.Errorf("%g is shown as %s", x.v, got)
		}
		if got := score.Change(&zero, &x.v); got != x.sign {
			t.Errorf("a change by %g is shown as %s", x.v, got)
		}
	}
	if got := objectives.Digits(1234.5, 3); got != "1234" {
		t.Errorf("three digits of 1234.5: %s", got)
	}
}

// A heavy load shows in plain digits, with a fork for a machine of 800 kg.
func TestAHeavyForkIsShownInPlainDigits(t *testing.T) {
	heavy := strings.Replace(fileText(t, "examples/cargo-girder.yaml"), "mass_kg: 170", "mass_kg: 800", 1)
	code, out, said := command(t, "score", jobFile(t, heavy))
	if code != process.Done || regexp.MustCompile(`\de\+\d`).MatchString(out) || !regexp.MustCompile(`bearing_load_max_n +N +\d{5} `).MatchString(out) {
		t.Errorf("exit %d: %s%s", code, out, said)
	}
}

// Measures that one cause takes away stand in one line with it.
func TestACauseIsPrintedOnce(t *testing.T) {
	short := strings.Replace(fileText(t, "examples/cargo-telescopic-link.yaml"), "tube_end: [222.6, 39.4]", "tube_end: [132, 31.1]", 1)
	_, out, _ := command(t, "score", jobFile(t, short))
	cause := regexp.MustCompile(`(?m)^the tubes of slide "leg" overlap by -\d+\.\d mm at a travel of 0\.0 mm; at least 10 are needed; without a value: mass_g, linkage_mass_g, .*, torsional_stiffness_nm_per_deg, proof_margin_min, fatigue_damage$`)
	if strings.Count(out, "at least 10 are needed") != 1 || !cause.MatchString(out) {
		t.Errorf("%s", out)
	}
	if !strings.Contains(out, "\nair_pressure_bar: a coil holds no air\n") {
		t.Errorf("another cause has no line of its own: %s", out)
	}
}

// Two concepts of one name are told apart by their files, others are not.
func TestEqualNamesAreDistinguished(t *testing.T) {
	text := fileText(t, "examples/cargo-girder.yaml")
	changed := filepath.Join(t.TempDir(), "changed.yaml")
	if err := os.WriteFile(changed, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	_, out, _ := command(t, "score", changed, "--before", "examples/cargo-girder.yaml")
	if want := "before: cargo girder (examples/cargo-girder.yaml)\nafter:  cargo girder (" + changed + ")\n"; !strings.HasPrefix(out, want) {
		t.Errorf("%.200s", out)
	}
	if _, out, _ = command(t, "score", "examples/cargo-arm.yaml", "--before", changed); !strings.HasPrefix(out, "before: cargo girder\n") {
		t.Errorf("%.200s", out)
	}
}

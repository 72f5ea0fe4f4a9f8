package run

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// What check tells is what was measured: the medians of the tables of jobs/docs/measured.md.
func TestKnownSharesAreThoseMeasured(t *testing.T) {
	text, err := os.ReadFile("../docs/measured.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(text), "## How close one run comes on forks")
	if !found {
		t.Fatal("no section on how close one run comes")
	}
	row := regexp.MustCompile(`(?m)^\| (girder|arm) \| ([0-9,]+) \| [0-9–]+ \| ([0-9.]+) \|`)
	shares := map[int][]float64{}
	for _, r := range row.FindAllStringSubmatch(section, -1) {
		n, _ := strconv.Atoi(strings.ReplaceAll(r[2], ",", ""))
		share, _ := strconv.ParseFloat(r[3], 64)
		shares[n] = append(shares[n], share)
	}
	if len(shares) != len(known) {
		t.Fatalf("%v; known are %v", shares, known)
	}
	for _, k := range known {
		got := shares[k.evaluations]
		if len(got) != 2 || fmt.Sprintf("%.2f", min(got[0], got[1])) != fmt.Sprintf("%.2f", k.least) || fmt.Sprintf("%.2f", max(got[0], got[1])) != fmt.Sprintf("%.2f", k.most) {
			t.Errorf("%d evaluations: measured %v, known %v", k.evaluations, got, k)
		}
	}
}

// More evaluations find no less, what was measured is met exactly, and nothing is extrapolated.
func TestReachRisesWithEvaluations(t *testing.T) {
	last := part{}
	for n := 1000; n < 5_000_000; n += n / 7 {
		p := reached(n)
		if p.least < last.least || p.most < last.most || p.least > p.most {
			t.Errorf("%d evaluations: %v after %v", n, p, last)
		}
		last = p
	}
	for _, k := range known {
		if p := reached(k.evaluations); math.Abs(p.least-k.least)+math.Abs(p.most-k.most) > 1e-9 {
			t.Errorf("%v; known %v", p, k)
		}
	}
	for n, want := range map[int]string{
		100:       "find less than 60 % of",
		5_000_000: "find more than 96 % of",
	} {
		if said := reachInWords(n); !strings.Contains(said, want) {
			t.Errorf("%d: %s", n, said)
		}
	}
}

package jobs

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/draft"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/run"
	"forkfront/optimize"
)

var newJobs = flag.Int("new-jobs", 0, "evaluations with which to search the jobs that `new` writes for all mechanisms and bikes; 0: one short search each")

// bikesOfNew are three bikes that differ much, as the numbers that `new` takes. All are invented.
var bikesOfNew = []struct{ name, flags string }{
	{"cargo bike, 20 inches", "--wheel 62-406 --travel 80 --head-angle 71 --axle-to-crown 390 --offset 40 --mass 180 --wheelbase 1250"},
	{"trail bike, 29 inches", "--wheel 61-622 --travel 150 --head-angle 65 --axle-to-crown 562 --mass 105 --wheelbase 1230 --hub-width 110"},
	{"city bike, 28 inches", "--wheel 40-622 --travel 50 --head-angle 71.5 --axle-to-crown 440 --offset 48 --mass 95 --wheelbase 1080"},
}

// newJob is the text of the job that `new` writes for one mechanism, or several with spaces between them.
func newJob(t *testing.T, mechanism, flags string) string {
	t.Helper()
	code, text, said := command(t, append([]string{"new"}, strings.Fields(mechanism+" "+flags)...)...)
	if code != process.Done || said != "" {
		t.Fatalf("%s %s: exit %d: %s", mechanism, flags, code, said)
	}
	return text
}

var newBikes = flag.Int("new-bikes", 0, "random bikes for each of which the jobs of all mechanisms are searched with 20,000 evaluations")

// randomBike is a bike with a front wheel of 16 to 29 inches and 40 mm of travel or more, as the numbers that `new`
// takes.
func randomBike(r *rand.Rand) string {
	wheels := []string{"47-305", "40-406", "62-406", "47-507", "50-559", "60-584", "28-622", "40-622", "61-622"}
	wheel := wheels[r.IntN(len(wheels))]
	w, _ := draft.ParseWheel(wheel)
	travel := math.Round(40 + r.Float64()*math.Min(140, 0.42*w.RadiusMM-40))
	between := func(low, high float64) float64 { return math.Round(low + r.Float64()*(high-low)) }
	return fmt.Sprintf("--wheel %s --travel %g --head-angle %g --axle-to-crown %g --offset %g --mass %g --wheelbase %g", wheel, travel,
		between(63, 74), math.Ceil(w.RadiusMM+travel+30+30*r.Float64()), between(30, 55), between(75, 200), between(1000, 1400))
}

// How often a new job of a random bike has a front of 50 after 20,000 evaluations. A measurement, not a check.
func TestNewJobsOfRandomBikes(t *testing.T) {
	if *newBikes == 0 {
		t.Skip("measured only when asked for: go test ./jobs -run RandomBikes -new-bikes 30 -v")
	}
	for _, mechanism := range files.BuiltIns() {
		r := rand.New(rand.NewPCG(17, 8))
		enough := 0
		for range *newBikes {
			flags := randomBike(r)
			if n := frontOf(t, newJob(t, mechanism, flags), 20000); n >= 50 {
				enough++
			} else {
				t.Logf("%s %s: %d candidates", mechanism, flags, n)
			}
		}
		t.Logf("%s: %d of %d bikes", mechanism, enough, *newBikes)
	}
}

// frontOf searches the cases of a job and returns the size of the smallest of their fronts.
func frontOf(t *testing.T, text string, evaluations int) int {
	t.Helper()
	least := math.MaxInt
	job, _, err := files.ReadJob("new.yaml", bytes.NewReader([]byte(text)))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	for _, c := range cases.Cases(job) {
		s := run.Settings(job, c, 0)
		s.Evaluations = evaluations
		r, err := optimize.Search(context.Background(), c.Problem(), s)
		if err != nil {
			t.Fatal(err)
		}
		least = min(least, len(r.Front))
	}
	return least
}

// The bounds of a new job contain feasible forks, for each built-in mechanism: a search of 2,500 evaluations finds a
// front on one of the three bikes, in turn. With -new-jobs 20000, a front of at least 50 on each of them.
func TestNewJobsAreFeasible(t *testing.T) {
	t.Parallel()
	for i, mechanism := range files.BuiltIns() {
		for k, bike := range bikesOfNew {
			evaluations, least := *newJobs, 50
			if evaluations == 0 {
				evaluations, least = 2500, 10
			}
			if *newJobs == 0 && k != i%len(bikesOfNew) {
				continue
			}
			began := time.Now()
			n := frontOf(t, newJob(t, mechanism, bike.flags), evaluations)
			t.Logf("%-28s %-22s %4d candidates in %.1f s", mechanism, bike.name, n, time.Since(began).Seconds())
			if n < least {
				t.Errorf("%s, %s: %d candidates after %d evaluations; at least %d are expected", mechanism, bike.name, n, evaluations, least)
			}
		}
	}
}

// Mechanisms that share a job have feasible forks each, although the job offers shocks of all: those driven by a shock
// between their links that turn in a head tube.
func TestNewJobOfSeveralMechanisms(t *testing.T) {
	t.Parallel()
	evaluations, least, shared := *newJobs, 50, []string{"girder", "leading-arm-floating-brake"}
	if evaluations == 0 {
		evaluations, least = 2500, 10
	} else {
		shared = slices.DeleteFunc(files.BuiltIns(), func(m string) bool { return strings.HasPrefix(m, "telescopic") || m == "wishbone" })
	}
	for _, bike := range bikesOfNew {
		text := newJob(t, strings.Join(shared, " "), bike.flags)
		if n := strings.Count(text, "- mechanism: "); n != len(shared) {
			t.Errorf("%d mechanisms of %d", n, len(shared))
		}
		if n := frontOf(t, text, evaluations); n < least {
			t.Errorf("%s: %d candidates after %d evaluations", bike.name, n, evaluations)
		}
		if *newJobs == 0 {
			break
		}
	}
}

// check accepts a new job without a warning, and its comments mark what was assumed and only that. Three jobs are
// tried; with -new-jobs, all.
func TestCheckAcceptsNewJobs(t *testing.T) {
	t.Parallel()
	for i, mechanism := range files.BuiltIns() {
		for k, bike := range bikesOfNew {
			if *newJobs == 0 && i != 3*k+1 {
				continue
			}
			text := newJob(t, mechanism, bike.flags)
			code, _, said := command(t, "check", jobFile(t, text))
			if lines := strings.Split(strings.TrimSpace(said), "\n"); code != process.Done || len(lines) != 2 || !strings.HasPrefix(said, "about ") || !strings.Contains(lines[1], "searches of the demo's linkages") {
				t.Errorf("%s, %s: exit %d: %s", mechanism, bike.name, code, said)
			}
			for key, flag := range map[string]string{"wheelbase_mm": "--wheelbase", "fork_offset_mm": "--offset", "mass_kg": "--mass", "hub_width_mm": "--hub-width", "lock_deg": "--lock"} {
				_, rest, _ := strings.Cut(text, " "+key+": ")
				line, _, _ := strings.Cut(rest, "\n")
				if strings.Contains(line, "assumed") == strings.Contains(bike.flags, flag) {
					t.Errorf("%s, given %s: %s: %s", mechanism, bike.flags, key, line)
				}
			}
		}
	}
}

// What cannot be, or was forgotten, is refused with what is allowed.
func TestNewRefusesImpossibleLayouts(t *testing.T) {
	t.Parallel()
	const rest = " --head-angle 71 --axle-to-crown 395"
	for args, want := range map[string]string{
		"girder --travel 80":                                  "missing: --wheel, --head-angle, --axle-to-crown; such as forkfront new girder",
		"girdle --wheel 61-406 --travel 80" + rest:            `"girdle" is not a built-in mechanism; allowed are girder, `,
		"girder telescopic --wheel 61-406 --travel 80" + rest: "girder and telescopic cannot share a job: one has its springs in the legs",
		"wishbone girder --wheel 61-406 --travel 80" + rest:   "wishbone and girder cannot share a job: one turns in a head tube",
		"girder girder --wheel 61-406 --travel 80" + rest:     "girder is named twice",
		"girder --wheel 26x2 --travel 80" + rest:              `--wheel "26x2"; expected the size on the tyre by ISO 5775`,
		"girder --wheel 61-406 --travel 8 --mass 2" + rest:    "--travel 8; must be from 30 to 250\n--mass 2; must be from 40 to 500",
		"girder --wheel 61-406 --travel NaN" + rest:           "--travel NaN; must be from 30 to 250",
		"girder --wheel 61-406 --travel 120" + rest:           "the tyre would be 11 mm below the crown race, where a crown needs 28 mm: give at least 412",
	} {
		code, out, said := command(t, append([]string{"new"}, strings.Fields(args)...)...)
		if code != process.Input || out != "" || !strings.Contains(said, want) {
			t.Errorf("%s: exit %d, %s%s\nwant %s", args, code, out, said, want)
		}
	}
	if got, want := fmt.Sprint(draft.Mechanisms()), fmt.Sprint(files.BuiltIns()); got != want {
		t.Errorf("jobs can be written for %s; built in are %s", got, want)
	}
}

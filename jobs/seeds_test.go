package jobs

import (
	"math"
	"path/filepath"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/record"
	"forkfront/results/table"
)

// seeded is the demo with few evaluations and this seed, in a file.
func seeded(t *testing.T, seed string) string {
	t.Helper()
	return jobFile(t, shortDemo("3000", "seeds: [1]", "seeds: ["+seed+"]"))
}

// The largest seed comes out of every file as it went in; a larger one, which no column of whole numbers
// holds, is refused, by the schema too.
func TestSeedsFitTheirColumn(t *testing.T) {
	t.Parallel()
	const largest = "9223372036854775807" // 2^63 − 1
	path, dir := seeded(t, largest), filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "run", path, "--out", dir)
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil || front.Rows == 0 {
		t.Fatalf("%d rows, %v", front.Rows, err)
	}
	if got := front.Series[front.Index("seed")].Ints[0]; got != math.MaxInt64 {
		t.Errorf("seed %d in the front", got)
	}
	if done, err := record.Read(filepath.Join(dir, results.RunFile)); err != nil || done.Seed != math.MaxInt64 {
		t.Errorf("%+v, %v", done, err)
	}
	schema := compiled(t, "job")
	if err := schema.Validate(loosely(t, path)); err != nil {
		t.Errorf("the schema refuses the largest seed: %v", err)
	}
	for _, seed := range []string{"9223372036854775808", "18446744073709551615", "18446744073709551616"} { // 2^63, 2^64 − 1, 2^64
		path := seeded(t, seed)
		says(t, want(t, process.Input, "check", path), "job.yaml:81:9: seeds[0]: "+seed+"; expected a whole number from 0 to 2^63 − 1")
		if schema.Validate(loosely(t, path)) == nil {
			t.Errorf("the schema takes the seed %s", seed)
		}
	}
}

package files

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
)

// What two kinds of file have in common is declared once: no key of both is a field of each of its own.
func TestKeysOfBothFilesAreDeclaredOnce(t *testing.T) {
	for _, x := range []struct {
		what   string
		a, b   reflect.Type
		common int
		apart  []string // required in one, not in the other
	}{
		{"job and concept", reflect.TypeFor[JobFile](), reflect.TypeFor[ConceptFile](), 14, nil},
		{"shocks of a job and of a concept", reflect.TypeFor[sections.JobShock](), reflect.TypeFor[sections.Shock](), 6, []string{"eye_to_eye_mm", "stroke_mm"}},
	} {
		other, common := map[string]document.Field{}, 0
		for _, f := range document.FieldsOf(x.b) {
			other[f.Key] = f
		}
		for _, f := range document.FieldsOf(x.a) {
			g, both := other[f.Key]
			if !both || slices.Contains(x.apart, f.Key) {
				continue
			}
			common++
			if len(f.Index) < 2 || len(g.Index) < 2 || f.Tag != g.Tag {
				t.Errorf("%s: both declare %s", x.what, f.Key)
			}
		}
		if common != x.common {
			t.Errorf("%s: %d keys in common, not %d", x.what, common, x.common)
		}
	}
}

// Inheritance and notes follow from the declarations: a key that the job omits is inherited, and every one that
// differs is named.
func TestCommonKeysAreComparedAndInherited(t *testing.T) {
	job, concept := &JobFile{}, &ConceptFile{}
	concept.SagPct, concept.CoilRatesNPerMM, concept.Telescopic.MassG = 31, []float64{50}, 1900
	job.Bikes, job.Materials = []sections.Bike{{Name: "other"}}, []sections.Material{concept.Material}
	if keys := job.Differences(concept); !slices.Equal(keys, []string{"sag_pct", "coil_rates_n_per_mm", "telescopic"}) {
		t.Errorf("differences are %v", keys)
	}
	if keys := job.DifferencesBesidesAims(concept); !slices.Equal(keys, []string{"sag_pct", "telescopic"}) {
		t.Errorf("without the aims they are %v", keys)
	}
	said, err := document.Open("job", strings.NewReader("telescopic: {}\n"))
	if err != nil {
		t.Fatal(err)
	}
	job.inherit(said, concept)
	if keys := job.Differences(concept); !slices.Equal(keys, []string{"telescopic"}) {
		t.Errorf("after inheriting all but what the job says, %v differ", keys)
	}
}

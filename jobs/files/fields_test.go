package files

import (
	"reflect"
	"slices"
	"strings"
	"testing"
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
		{"shocks of a job and of a concept", reflect.TypeFor[JobShock](), reflect.TypeFor[Shock](), 6, []string{"eye_to_eye_mm", "stroke_mm"}},
	} {
		other, common := map[string]field{}, 0
		for _, f := range fieldsOf(x.b) {
			other[f.key] = f
		}
		for _, f := range fieldsOf(x.a) {
			g, both := other[f.key]
			if !both || slices.Contains(x.apart, f.key) {
				continue
			}
			common++
			if len(f.Index) < 2 || len(g.Index) < 2 || f.Tag != g.Tag {
				t.Errorf("%s: both declare %s", x.what, f.key)
			}
		}
		if common != x.common {
			t.Errorf("%s: %d keys in common, not %d", x.what, common, x.common)
		}
	}
}

// Embedded keys stand among those of the struct that embeds them, in a file that is written and in one that is
// read.
func TestEmbeddedKeysStandWhereTheyAreEmbedded(t *testing.T) {
	type Inner struct {
		B float64 `yaml:"b" default:"2"`
		C float64 `yaml:"c" jsonschema:"minimum=0"`
	}
	type outer struct {
		A float64 `yaml:"a"`
		Inner
		D float64 `yaml:"d"`
	}
	if keys := keysOf(reflect.TypeFor[outer]()); !slices.Equal(keys, []string{"a", "b", "c", "d"}) {
		t.Errorf("keys are %v", keys)
	}
	s, err := open("x", strings.NewReader("d: 4\nc: 3\na: 1\n"))
	if err != nil {
		t.Fatal(err)
	}
	var got outer
	if s.Decode(&got); s.Err() != nil || got != (outer{1, Inner{2, 3}, 4}) {
		t.Errorf("read as %+v, %v", got, s.Err())
	}
	if text, err := Encode(&got); err != nil || string(text) != "a: 1\nb: 2\nc: 3\nd: 4\n" {
		t.Errorf("written as %q, %v", text, err)
	}
	s, err = open("x", strings.NewReader("c: -1\n"))
	if err != nil {
		t.Fatal(err)
	}
	if s.Decode(&got); s.Err() == nil || !strings.Contains(s.Err().Error(), "x:1:4: c: -1") {
		t.Errorf("a rule of an embedded key is not applied: %v", s.Err())
	}
}

// Inheritance and notes follow from the declarations: a key that the job omits is inherited, and every one that
// differs is named.
func TestCommonKeysAreComparedAndInherited(t *testing.T) {
	job, concept := &JobFile{}, &ConceptFile{}
	concept.SagPct, concept.CoilRatesNPerMM, concept.Telescopic.MassG = 31, []float64{50}, 1900
	job.Bikes, job.Materials = []Bike{{Name: "other"}}, []Material{concept.Material}
	if keys := job.Differences(concept); !slices.Equal(keys, []string{"sag_pct", "coil_rates_n_per_mm", "telescopic"}) {
		t.Errorf("differences are %v", keys)
	}
	if keys := job.DifferencesBesidesAims(concept); !slices.Equal(keys, []string{"sag_pct", "telescopic"}) {
		t.Errorf("without the aims they are %v", keys)
	}
	said, err := open("job", strings.NewReader("telescopic: {}\n"))
	if err != nil {
		t.Fatal(err)
	}
	job.inherit(said, concept)
	if keys := job.Differences(concept); !slices.Equal(keys, []string{"telescopic"}) {
		t.Errorf("after inheriting all but what the job says, %v differ", keys)
	}
}

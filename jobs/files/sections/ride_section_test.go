package sections

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/files/document"
)

// What a section leaves out is filled in by its kind of bike, and its descriptions say with what.
func TestRideSectionsHaveTheDefaultsTheyState(t *testing.T) {
	words := regexp.MustCompile(`([-\w.]+) \((\w+)\)`)
	for _, usual := range usualRide {
		s, err := document.Open("x", strings.NewReader("ride: {kind: "+usual.Kind+"}\n"))
		if err != nil {
			t.Fatal(err)
		}
		var d Dynamics
		s.Decode(&d)
		d.Check(s, &Aims{})
		if err := s.Err(); err != nil || *d.Damping != usual.RideSection {
			t.Errorf("%s: %+v, %v", usual.Kind, d.Damping, err)
		}
		filled, stated := reflect.ValueOf(*d.Damping), 0
		for _, f := range document.FieldsOf(filled.Type()) {
			for _, m := range words.FindAllStringSubmatch(f.Tag.Get("jsonschema_description"), -1) {
				if m[2] != usual.Kind {
					continue
				}
				stated++
				if got := fmt.Sprint(filled.FieldByIndex(f.Index)); got != m[1] {
					t.Errorf("%s of %s: %s, described as %s", f.Key, usual.Kind, got, m[1])
				}
			}
		}
		if want := filled.NumField() - 2; stated != want { // without kind and rear, which have none
			t.Errorf("%s: %d of %d defaults are described", usual.Kind, stated, want)
		}
	}
}

// A value that is given stays, whatever the kind.
func TestGivenValuesOfARideSectionStay(t *testing.T) {
	s, err := document.Open("x", strings.NewReader("ride: {kind: motorcycle, damping_ratio: 0.5, road_class: A, hands_ahead_mm: 0}\n"))
	if err != nil {
		t.Fatal(err)
	}
	var d Dynamics
	s.Decode(&d)
	d.Check(s, &Aims{})
	want := usualRide[2].RideSection
	want.DampingRatio, want.RoadClass, want.HandsAheadMM = 0.5, "A", 0
	if s.Err() != nil || *d.Damping != want {
		t.Errorf("%+v, %v", d.Damping, s.Err())
	}
}

// The damping ratios that sections have by default lie in the range said to be common in road cars, 0.3 to 0.5; sports cars have
// about 0.7 (986forum.com, post 159949: a forum, no better source was found).
func TestDefaultDampingRatiosAreCommon(t *testing.T) {
	for _, usual := range usualRide {
		if ratio := usual.DampingRatio; ratio < 0.3 || ratio > 0.5 {
			t.Errorf("%s: damping ratio %g", usual.Kind, ratio)
		}
	}
}

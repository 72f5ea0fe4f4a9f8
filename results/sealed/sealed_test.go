package sealed_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"testing"

	"forkfront/results/sealed"
)

type note struct {
	Name  string  `json:"name"`
	Count int     `json:"count"`
	Share float64 `json:"share,omitempty"`
	More  []note  `json:"more,omitempty"`
}

var sample = note{Name: "a <b> & \"c\" ü", Count: 41, Share: 0.1, More: []note{{Name: "d", Count: 7}}}

// A document reads back as what was written, as it is and with other white space, and what reads JSON reads it too.
func TestDocumentRoundTrip(t *testing.T) {
	text, err := sealed.Marshal(&sample)
	if err != nil {
		t.Fatal(err)
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, text); err != nil {
		t.Fatal(err)
	}
	for _, form := range [][]byte{text, compact.Bytes(), bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))} {
		var back note
		if whole, err := sealed.Unmarshal(form, &back); err != nil || !whole || !reflect.DeepEqual(back, sample) {
			t.Errorf("sealed %t, %v: %+v", whole, err, back)
		}
	}
	var any map[string]any
	if err := json.Unmarshal(text, &any); err != nil || any["count"] != 41.0 || len(any["sha256"].(string)) != 64 {
		t.Errorf("as plain JSON: %v, %v", any, err)
	}
}

// Whatever bit is flipped: an error, or the same content (a blank that became another, a key in capitals).
func TestEveryBitCounts(t *testing.T) {
	text, err := sealed.Marshal(&sample)
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for i := range text {
		for bit := range 8 {
			bad := bytes.Clone(text)
			bad[i] ^= 1 << bit
			var back note
			_, err := sealed.Unmarshal(bad, &back)
			if err == nil && !reflect.DeepEqual(back, sample) {
				t.Fatalf("bit %d of byte %d (%q) made %+v", bit, i, text[i], back)
			}
			if err != nil {
				refused++
			}
		}
	}
	if refused < 7*len(text) {
		t.Errorf("%d of %d flips were refused", refused, 8*len(text))
	}
}

func TestADocumentWithoutAChecksum(t *testing.T) {
	var back note
	if whole, err := sealed.Unmarshal([]byte(`{"name": "x", "count": 3}`), &back); err != nil || whole || back.Count != 3 {
		t.Errorf("sealed %t, %v: %+v", whole, err, back)
	}
	for _, bad := range []string{``, `{`, `[]`, `{"name": "x"} {}`, `{"nam": "x"}`, `{"name": "x", "sha256": "12"}`} {
		if _, err := sealed.Unmarshal([]byte(bad), &back); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
	text, _ := sealed.Marshal(&sample)
	if _, err := sealed.Unmarshal(bytes.Replace(text, []byte("41"), []byte("42"), 1), &back); !errors.Is(err, sealed.ErrDamaged) {
		t.Errorf("another number: %v", err)
	}
	for _, v := range []any{struct{}{}, []int{1}, 7, nil} {
		if _, err := sealed.Marshal(v); err == nil {
			t.Errorf("%T was sealed", v)
		}
	}
}

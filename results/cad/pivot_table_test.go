package cad

import "testing"

// A text that a spreadsheet would compute is marked as text; every other one is left as it is, and numbers are never
// passed through here: a minus sign would become text.
func TestTextsThatLookLikeFormulas(t *testing.T) {
	for text, want := range map[string]string{
		"=1+1": "'=1+1", "+1": "'+1", "-arm": "'-arm", "@sum": "'@sum", "\t=1": "'\t=1", "\r=1": "'\r=1",
		"axle": "axle", "lower-arm": "lower-arm", "a=b": "a=b", "'x": "'x", "": "", "ø": "ø",
	} {
		if got := cell(text); got != want {
			t.Errorf("%q is written as %q, want %q", text, got, want)
		}
	}
	if got := coordinate(-12.5); got != "-12.5000" {
		t.Errorf("a number is written as %q", got)
	}
}

package display

import (
	"slices"
	"testing"
)

func TestApart(t *testing.T) {
	for _, x := range []struct{ names, want []string }{
		{[]string{"a/girder/1/7", "a/arm/1/9"}, []string{"girder/7", "arm/9"}},
		{[]string{"a/girder/1/7", "b/girder/1/7"}, []string{"a", "b"}},
		{[]string{"a/b", "a/b/c"}, []string{"a/b", "a/b/c"}},
		{[]string{"a/b"}, []string{"a/b"}},
		{[]string{"a/b", "a/b"}, []string{"a/b", "a/b"}},
		{nil, nil},
	} {
		if got := Apart(x.names); !slices.Equal(got, x.want) {
			t.Errorf("%q: %q, want %q", x.names, got, x.want)
		}
	}
}

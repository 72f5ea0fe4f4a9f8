package display

import (
	"slices"
	"testing"
)

func TestSplitCommon(t *testing.T) {
	for _, x := range []struct {
		names  []string
		common string
		want   []string
	}{
		{[]string{"a/girder/1/7", "a/arm/1/9"}, "a/1", []string{"girder/7", "arm/9"}},
		{[]string{"a/girder/1/7", "b/girder/1/7"}, "girder/1/7", []string{"a", "b"}},
		{[]string{"a/b", "a/b/c"}, "", []string{"a/b", "a/b/c"}},
		{[]string{"a/b"}, "", []string{"a/b"}},
		{[]string{"a/b", "a/b"}, "", []string{"a/b", "a/b"}},
		{nil, "", nil},
	} {
		if common, got := SplitCommon(x.names); common != x.common || !slices.Equal(got, x.want) {
			t.Errorf("%q: %q and %q, want %q and %q", x.names, common, got, x.common, x.want)
		}
	}
}

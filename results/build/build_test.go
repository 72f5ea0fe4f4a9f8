package build

import (
	"reflect"
	"runtime/debug"
	"testing"
)

func TestBuild(t *testing.T) {
	got := of(&debug.BuildInfo{
		Main:     debug.Module{Version: "v1.2.3"},
		Deps:     []*debug.Module{{Path: "a", Version: "v1.0.0"}, {Path: "b", Replace: &debug.Module{Path: "c", Version: "v2.0.0"}}},
		Settings: []debug.BuildSetting{{Key: "vcs.modified", Value: "true"}, {Key: "vcs.revision", Value: "abc"}},
	})
	if want := (Build{"v1.2.3", "abc+", map[string]string{"a": "v1.0.0", "c": "v2.0.0"}}); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if none := of(&debug.BuildInfo{}); none.Version != "unknown" || none.Revision != "" {
		t.Errorf("without a record: %+v", none)
	}
}

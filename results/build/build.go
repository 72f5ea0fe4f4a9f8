// Package build says which version of the program this is.
package build

import (
	"cmp"
	"runtime/debug"
)

// Build is what the Go toolchain recorded when the program was built.
type Build struct {
	Version  string            // of the module: a tag or pseudo-version; "unknown" where it was built without version control
	Revision string            // of the source, with "+" after it where changes had not been committed; may be empty
	Modules  map[string]string // module path → version
}

// This is the program that runs.
func This() Build {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	return of(info)
}

func of(info *debug.BuildInfo) Build {
	b := Build{Version: cmp.Or(info.Main.Version, "unknown"), Modules: map[string]string{}}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		b.Modules[m.Path] = m.Version
	}
	modified := false
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.Revision = s.Value
		case "vcs.modified":
			modified = s.Value == "true"
		}
	}
	if modified && b.Revision != "" {
		b.Revision += "+"
	}
	return b
}

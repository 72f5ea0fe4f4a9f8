package files

import (
	"fmt"
	"path/filepath"
)

// item is the path of an entry of the list at a path.
func item(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// folder is where the paths in a file start: its own folder, for standard input the working folder.
func folder(file string) string {
	if file == "-" {
		return "."
	}
	return filepath.Dir(file)
}

// join is the path of a key in the mapping at a path, empty for the whole file.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

package document

import (
	"fmt"
	"path/filepath"
)

// Item is the path of an entry of the list at a path.
func Item(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// Folder is where the paths in a file start: its own folder, for standard input the working folder.
func Folder(file string) string {
	if file == "-" {
		return "."
	}
	return filepath.Dir(file)
}

// Join is the path of a key in the mapping at a path, empty for the whole file.
func Join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

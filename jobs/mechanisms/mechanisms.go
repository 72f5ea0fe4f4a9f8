// Package mechanisms holds the files of the built-in mechanisms.
package mechanisms

import "embed"

// Files are the mechanism files, named after what they describe: girder.yaml.
//
//go:embed *.yaml
var Files embed.FS

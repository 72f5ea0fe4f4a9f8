package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2"

	"forkfront/optimize/arithmetic"
)

// A sealed file is a line that names the format, its version and the arithmetic that the contents were computed with,
// the SHA-256 of that line and of what follows, and a gob: it keeps the bits of a float and infinities. It is
// replaced whole or not at all, and a changed byte is detected before anything is decoded.
var SealLine = sealFormat + arithmetic.Kind() + "\n"

const (
	sealName   = "forkfront checkpoint "
	sealFormat = sealName + "2, "
)

// sealOf is the line and the checksum that precede a body.
func sealOf(line string, body []byte) []byte {
	sum := sha256.Sum256(append([]byte(line), body...))
	return append([]byte(line), sum[:]...)
}

// errDamaged says that a sealed file has changed since it was written; errSealVersion that another version of the
// program wrote it.
var (
	errDamaged     = errors.New("damaged: its content does not match its checksum")
	errSealVersion = errors.New("written by another version of forkfront")
)

// Sealed is a body with its seal before it.
func Sealed(body []byte) []byte { return append(sealOf(SealLine, body), body...) }

// Seal writes v to a file, through a temporary one in the same folder, synced to the disk.
func Seal(path string, v any) error {
	var body bytes.Buffer
	if err := gob.NewEncoder(&body).Encode(v); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	if err := renameio.WriteFile(path, Sealed(body.Bytes()), 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// Unseal reads what Seal wrote. The error wraps fs.ErrNotExist, errDamaged, errSealVersion or an
// *arithmetic.Mismatch.
func Unseal(path string, v any) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if !bytes.HasPrefix(text, []byte(sealName)) {
		return fmt.Errorf("%s is %w", path, errDamaged)
	}
	end := bytes.IndexByte(text, '\n') + 1
	line, head := string(text[:end]), end+sha256.Size
	kind, current := strings.CutPrefix(line, sealFormat)
	switch {
	case !current && end > 0:
		return fmt.Errorf("%s was %w", path, errSealVersion)
	case end == 0 || len(text) < head || !bytes.HasPrefix(text, sealOf(line, text[head:])):
		return fmt.Errorf("%s is %w", path, errDamaged)
	}
	if err := arithmetic.Check(path, strings.TrimSuffix(kind, "\n")); err != nil {
		return err
	}
	if err := gob.NewDecoder(bytes.NewReader(text[head:])).Decode(v); err != nil {
		return fmt.Errorf("%s is %w: %w", path, errDamaged, err)
	}
	return nil
}

// Unreadable tells a file that exists and cannot be used from one that does not exist.
func Unreadable(err error) bool { return err != nil && !errors.Is(err, fs.ErrNotExist) }

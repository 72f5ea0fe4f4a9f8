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

	"github.com/google/renameio/v2"
)

// A sealed file is a line that names the format and its version, the SHA-256 of what follows, and
// a gob: it keeps the bits of a float and infinities. It is replaced whole or not at all, and a
// byte that is not what was written is noticed before anything is decoded.
const SealLine = "forkfront checkpoint 1\n"

// errDamaged says that a sealed file is not what was written; errSealVersion that another version
// of the program wrote it.
var (
	errDamaged     = errors.New("damaged: its content does not match its checksum")
	errSealVersion = errors.New("written by another version of forkfront")
)

// Seal writes v to a file, through a temporary one in the same folder, synced to the disk.
func Seal(path string, v any) error {
	var body bytes.Buffer
	if err := gob.NewEncoder(&body).Encode(v); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	sum := sha256.Sum256(body.Bytes())
	text := append(append([]byte(SealLine), sum[:]...), body.Bytes()...)
	if err := renameio.WriteFile(path, text, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// Unseal reads what seal wrote. The error wraps fs.ErrNotExist, errDamaged or errSealVersion.
func Unseal(path string, v any) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	head := len(SealLine) + sha256.Size
	switch {
	case len(text) < head:
		return fmt.Errorf("%s is %w", path, errDamaged)
	case string(text[:len(SealLine)]) != SealLine:
		if bytes.HasPrefix(text, []byte("forkfront checkpoint ")) {
			return fmt.Errorf("%s was %w", path, errSealVersion)
		}
		return fmt.Errorf("%s is %w", path, errDamaged)
	}
	if sum := sha256.Sum256(text[head:]); !bytes.Equal(sum[:], text[len(SealLine):head]) {
		return fmt.Errorf("%s is %w", path, errDamaged)
	}
	if err := gob.NewDecoder(bytes.NewReader(text[head:])).Decode(v); err != nil {
		return fmt.Errorf("%s is %w: %w", path, errDamaged, err)
	}
	return nil
}

// Unreadable tells a file that is there and cannot be used from one that is not there.
func Unreadable(err error) bool { return err != nil && !errors.Is(err, fs.ErrNotExist) }

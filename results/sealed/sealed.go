// Package sealed writes JSON documents that carry a checksum of themselves, and reads them back. It does not know what
// they are about.
package sealed

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
)

// The checksum is the last key of a document: the SHA-256 of the document without that key and without white space
// between its values, so that a document that was indented again is still whole.
const (
	open   = `,"sha256":"`
	closed = `"}`
	length = len(open) + 2*sha256.Size + len(closed)
)

// ErrDamaged says that a document is not the one that was written.
var ErrDamaged = errors.New("damaged, or changed after it was written: its content does not match its checksum")

// Marshal returns v, which must become a JSON object with at least one key, as an indented document that ends with
// its checksum.
func Marshal(v any) ([]byte, error) {
	body, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	if len(body) < len(`{"":0}`) || body[0] != '{' {
		return nil, fmt.Errorf("a %T is not a JSON object with keys", v)
	}
	var text bytes.Buffer
	err = json.Indent(&text, append(body[:len(body)-1:len(body)-1], sealOf(body)...), "", "  ")
	text.WriteByte('\n')
	return text.Bytes(), err
}

// sealOf is what follows a document without white space in place of its last brace.
func sealOf(body []byte) string {
	sum := sha256.Sum256(body)
	return open + hex.EncodeToString(sum[:]) + closed
}

// Unmarshal reads a document into v, in which every key must have its place, and reports whether the document carries a
// checksum: those of earlier versions of the program have none. The error is ErrDamaged if the checksum is not that of
// the document.
func Unmarshal(text []byte, v any) (sealed bool, err error) {
	var compact bytes.Buffer
	if err := json.Compact(&compact, text); err != nil {
		return false, err
	}
	body := compact.Bytes()
	if at := len(body) - length; at > 0 && bytes.HasPrefix(body[at:], []byte(open)) && bytes.HasSuffix(body, []byte(closed)) {
		sealed = true
		seal := string(body[at:])
		body = append(body[:at], '}')
		if sealOf(body) != seal {
			return true, ErrDamaged
		}
	}
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	return sealed, d.Decode(v)
}

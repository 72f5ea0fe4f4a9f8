package sealed

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"hash/crc32"
)

// The checksum of a line is the last key of its JSON object: the CRC-32C of the object without that key.
const (
	lineOpen   = `"crc32c":"`
	lineLength = len(lineOpen) + 2*crc32.Size + len(closed)
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Line appends a JSON object with its checksum and a newline to dst. What is not an object is appended as it is.
func Line(dst, object []byte) []byte {
	body := bytes.TrimRight(object, "\r\n")
	if len(body) < 2 || body[0] != '{' || body[len(body)-1] != '}' {
		return append(dst, object...)
	}
	sum := hex.AppendEncode(nil, crcOf(body))
	dst = append(dst, body[:len(body)-1]...)
	if len(body) > 2 {
		dst = append(dst, ',')
	}
	dst = append(dst, lineOpen...)
	dst = append(dst, sum...)
	return append(append(dst, closed...), '\n')
}

func crcOf(body []byte) []byte {
	sum := crc32.Checksum(body, castagnoli)
	return []byte{byte(sum >> 24), byte(sum >> 16), byte(sum >> 8), byte(sum)}
}

// Unline returns the JSON object of a line, without its checksum, and whether it carries the right one. The object is
// nil where the line is not a JSON object at all.
func Unline(line []byte) (object []byte, whole bool) {
	line = bytes.TrimRight(line, "\r\n")
	if !json.Valid(line) || len(line) == 0 || line[0] != '{' {
		return nil, false
	}
	at := len(line) - lineLength
	if at < 1 || !bytes.HasPrefix(line[at:], []byte(lineOpen)) {
		return line, false
	}
	object = append(bytes.Clone(bytes.TrimSuffix(line[:at], []byte(","))), '}')
	sum := line[at+len(lineOpen) : len(line)-len(closed)]
	return object, bytes.Equal(hex.AppendEncode(nil, crcOf(object)), sum)
}

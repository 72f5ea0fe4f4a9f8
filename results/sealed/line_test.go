package sealed_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"forkfront/results/sealed"
)

// A line reads back as the object that was written, stays plain JSON, and no flipped bit goes unnoticed.
func TestALineReadsBackAndEveryBitCounts(t *testing.T) {
	for _, object := range []string{`{}`, `{"a":1}`, `{"level":"info","text":"a \"b\" ü","n":[1,2]}`} {
		line := sealed.Line([]byte("before"), []byte(object+"\n"))[len("before"):]
		if got, whole := sealed.Unline(line); !whole || string(got) != object {
			t.Errorf("%s became %s, whole %t", object, got, whole)
		}
		var plain map[string]any
		if err := json.Unmarshal(line, &plain); err != nil || len(plain["crc32c"].(string)) != 8 {
			t.Errorf("%s: %v", line, err)
		}
		for i := range line[:len(line)-1] {
			for bit := range 8 {
				bad := bytes.Clone(line)
				bad[i] ^= 1 << bit
				if got, whole := sealed.Unline(bad); whole {
					t.Fatalf("bit %d of byte %d goes unnoticed: %s", bit, i, got)
				}
			}
		}
	}
	if got := sealed.Line(nil, []byte("no JSON\n")); string(got) != "no JSON\n" {
		t.Errorf("what is no object became %q", got)
	}
	if object, whole := sealed.Unline([]byte("[1]\n")); object != nil || whole {
		t.Errorf("%s, whole %t", object, whole)
	}
}

// The CRC-32C of "{}" by a bitwise computation with the reflected polynomial 82f63b78 (RFC 3720), outside the project.
func TestTheChecksumOfALineIsACRC32C(t *testing.T) {
	if got := sealed.Line(nil, []byte(`{}`)); string(got) != "{\"crc32c\":\"297bd0aa\"}\n" {
		t.Errorf("%s", got)
	}
}

package table

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
)

// A seal is the SHA-256 of a whole file, kept in the file's footer, for which the 64 characters
// of the seal itself count as zeros. It is checked before the Parquet reader sees a byte: one
// flipped bit in a codec or a page length can make that reader ask for 32 GB.
const (
	keySeal    = "forkfront.file_sha256"
	sealLength = 2 * sha256.Size
)

var noSeal = strings.Repeat("0", sealLength)

// sealMark is the key as it stands in the footer, with the head of the value behind it: in
// Thrift's compact protocol, field 2 after field 1 as binary (0x18), and the length.
const sealMark = keySeal + "\x18\x40"

// maxFooterBytes bounds the footer that is read into memory: one of 200 columns and 10,000 row groups
// takes some 300 MB.
const maxFooterBytes = 1 << 29

// sealOf returns where the seal of a file stands, and what it has to be.
func sealOf(f *os.File) (at int64, sum string, err error) {
	if at, err = findSeal(f); err == nil {
		sum, err = sumWithoutSeal(f, at)
	}
	return at, sum, err
}

// seal puts the seal into a finished file.
func seal(f *os.File) error {
	at, sum, err := sealOf(f)
	if err != nil {
		return err
	}
	_, err = f.WriteAt([]byte(sum), at)
	return err
}

// checkSeal says whether a file is, to the last bit, the one that was sealed.
func checkSeal(f *os.File) error {
	at, sum, err := sealOf(f)
	if err != nil {
		return err
	}
	found := make([]byte, sealLength)
	if _, err := f.ReadAt(found, at); err != nil {
		return err
	}
	if string(found) != sum {
		return fmt.Errorf("damaged file: its bytes do not match their checksum")
	}
	return nil
}

// footerTail is what stands behind the footer of a Parquet file: its length in four bytes, and "PAR1".
const footerTail = 8

// findFooter reads the footer of a Parquet file and returns it and its offset.
func findFooter(f *os.File) ([]byte, int64, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, 0, err
	}
	size := info.Size()
	if !info.Mode().IsRegular() {
		return nil, 0, errors.New("not a regular file")
	}
	if size < 12 {
		return nil, 0, fmt.Errorf("not a whole Parquet file: %d bytes", size)
	}
	tail := make([]byte, footerTail)
	if _, err := f.ReadAt(tail, size-footerTail); err != nil {
		return nil, 0, err
	}
	length := int64(binary.LittleEndian.Uint32(tail))
	if string(tail[4:]) != "PAR1" || length > min(size-12, maxFooterBytes) {
		return nil, 0, fmt.Errorf("not a whole Parquet file: no footer at the end of its %d bytes", size)
	}
	footer := make([]byte, length)
	at := size - footerTail - length
	_, err = f.ReadAt(footer, at)
	return footer, at, err
}

// findSeal returns the offset of the seal.
func findSeal(f *os.File) (int64, error) {
	footer, start, err := findFooter(f)
	if err != nil {
		return 0, err
	}
	at := bytes.Index(footer, []byte(sealMark))
	if at < 0 || bytes.Count(footer, []byte(sealMark)) != 1 || at+len(sealMark)+sealLength > len(footer) {
		return 0, fmt.Errorf("not a forkfront table, or damaged: no %s in the footer", keySeal)
	}
	return start + int64(at+len(sealMark)), nil
}

func sumWithoutSeal(f *os.File, at int64) (string, error) {
	h := sha256.New()
	if _, err := io.Copy(h, io.NewSectionReader(f, 0, at)); err != nil {
		return "", err
	}
	h.Write([]byte(noSeal))
	if _, err := io.Copy(h, io.NewSectionReader(f, at+sealLength, math.MaxInt64-at-sealLength)); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

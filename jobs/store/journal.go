package store

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"os"

	"forkfront/jobs/cases"
	"forkfront/optimize"
)

// A journal keeps every candidate that a case has evaluated, until candidates.parquet is written: a
// Parquet file cannot be added to after a stop. Candidate n stands at n times the length of a record,
// which holds its variables, objectives and constraints and a CRC-32 over them and n. The same
// search writes the same bytes, so that a resume, or another copy at work on the same case, may write
// over what is there.
type Journal struct {
	file  *os.File
	c     *cases.Case
	first int    // candidate that buf begins with
	next  int    // candidate that comes next
	buf   []byte // records not written yet
}

// journalBuffer is how much a journal holds back.
const journalBuffer = 1 << 18

// ErrJournal says that a journal does not hold what came before the state that a case would go on from.
var ErrJournal = errors.New("some of its candidates are missing")

// RecordBytes is the length of a case's records.
func RecordBytes(c *cases.Case) int { return 8*(len(c.Free)+len(c.Goals)+1+len(c.Limits)) + 4 }

func OpenJournal(path string, c *cases.Case) (*Journal, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, fmt.Errorf("store the candidates: %w", err)
	}
	return &Journal{file: f, c: c}, nil
}

// Add takes the next candidate. The first one after a resume has the number that the state has come to.
func (j *Journal) Add(c *optimize.Candidate) error {
	if c.Number != j.next {
		if err := j.goOnAt(c.Number); err != nil {
			return err
		}
	}
	j.buf = appendRecord(j.buf, c)
	j.next++
	if len(j.buf) >= journalBuffer {
		return j.flush()
	}
	return nil
}

func (j *Journal) goOnAt(number int) error {
	if err := j.flush(); err != nil {
		return err
	}
	if err := ReadJournal(j.file.Name(), j.c, number, Skip); err != nil {
		return fmt.Errorf("%w: %w", ErrJournal, err)
	}
	j.first, j.next = number, number
	return nil
}

func appendRecord(dst []byte, c *optimize.Candidate) []byte {
	from := len(dst)
	for _, values := range [][]float64{c.X, c.F, c.G} {
		for _, v := range values {
			dst = binary.LittleEndian.AppendUint64(dst, math.Float64bits(v))
		}
	}
	return binary.LittleEndian.AppendUint32(dst, recordSum(c.Number, dst[from:]))
}

func recordSum(number int, values []byte) uint32 {
	h := crc32.NewIEEE()
	_, _ = h.Write(binary.LittleEndian.AppendUint64(nil, uint64(number))) // a hash does not fail
	_, _ = h.Write(values)
	return h.Sum32()
}

// at is where a candidate stands in the file.
func (j *Journal) at(number int) int64 { return int64(number) * int64(RecordBytes(j.c)) }

func (j *Journal) flush() error {
	if _, err := j.file.WriteAt(j.buf, j.at(j.first)); err != nil {
		return fmt.Errorf("store the candidates: %w", err)
	}
	j.first, j.buf = j.next, j.buf[:0]
	return nil
}

// Sync brings all to the disk, before a state that goes on from here.
func (j *Journal) Sync() error {
	if err := j.flush(); err != nil {
		return err
	}
	if err := j.file.Sync(); err != nil {
		return fmt.Errorf("store the candidates: %w", err)
	}
	return nil
}

// Finish ends the journal of a case that has evaluated so many. What stands behind them, of a
// generation that was given up, goes, unless another copy may be writing it.
func (j *Journal) Finish(count int, shared bool) error {
	if j.next != count { // nothing was left to evaluate after a resume
		if err := j.goOnAt(count); err != nil {
			return err
		}
	}
	if err := j.Sync(); err != nil || shared {
		return err
	}
	return j.file.Truncate(j.at(count))
}

// Close lets go of the file, without what was not brought to the disk.
func (j *Journal) Close() { _ = j.file.Close() }

// Skip reads a candidate and does nothing with it.
func Skip(*optimize.Candidate) error { return nil }

// ReadJournal gives the first so many candidates of a case to do, in the order of their numbers. The
// candidate is overwritten by the next.
func ReadJournal(path string, c *cases.Case, count int, do func(*optimize.Candidate) error) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	in, record := bufio.NewReaderSize(f, journalBuffer), make([]byte, RecordBytes(c))
	one := optimize.Candidate{X: make([]float64, len(c.Free))}
	one.F, one.G = make([]float64, len(c.Goals)), make([]float64, 1+len(c.Limits))
	for n := range count {
		if _, err := io.ReadFull(in, record); err != nil {
			return fmt.Errorf("%s: candidate %d of %d: %w", path, n, count, err)
		}
		values := record[:len(record)-4]
		if binary.LittleEndian.Uint32(record[len(values):]) != recordSum(n, values) {
			return fmt.Errorf("%s: candidate %d is %w", path, n, errDamaged)
		}
		one.Number = n
		for _, dst := range [][]float64{one.X, one.F, one.G} {
			for i := range dst {
				dst[i] = math.Float64frombits(binary.LittleEndian.Uint64(values))
				values = values[8:]
			}
		}
		if err := do(&one); err != nil {
			return err
		}
	}
	return nil
}

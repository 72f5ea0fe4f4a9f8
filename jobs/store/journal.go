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

// JournalFile is the path of a journal and its case.
type JournalFile struct {
	Path  string
	Case  *cases.Case
	about uint32 // CRC-32 of the job's digest and the case's name
}

// Journal keeps every candidate that a case has evaluated, until candidates.parquet is written: a Parquet file cannot
// be added to after a stop. Candidate n begins at n times the length of a record, which holds its variables,
// objectives and constraints and a CRC-32 over the job's digest, the case's name, n and these values. The same search
// writes the same bytes, so that a resume, or another copy searching the same case, may overwrite what is there.
type Journal struct {
	of    JournalFile
	file  *os.File
	first int    // first candidate in buf
	next  int    // next candidate
	buf   []byte // records not written yet
}

// journalBuffer is how much a journal buffers, in bytes.
const journalBuffer = 1 << 18

// ErrJournal says that a journal lacks candidates from before the state that a case would continue from.
var ErrJournal = errors.New("some of its candidates are missing")

// RecordBytes is the length of a case's records.
func RecordBytes(c *cases.Case) int { return 8*(len(c.Free)+len(c.Goals)+1+len(c.Limits)) + 4 }

// Journal returns where the candidates of case i are kept.
func (c *Checkpoints) Journal(i int, of *cases.Case) JournalFile {
	return JournalFile{c.path(fmt.Sprintf("candidates-%05d", i)), of, crc32.ChecksumIEEE([]byte(c.Digest + "\n" + of.Name))}
}

// Open opens a journal for adding, and creates it if there is none.
func (j JournalFile) Open() (*Journal, error) {
	f, err := os.OpenFile(j.Path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, fmt.Errorf("store the candidates: %w", err)
	}
	return &Journal{of: j, file: f}, nil
}

// Add writes the next candidate. The first one after a resume continues at the number of the state.
func (j *Journal) Add(c *optimize.Candidate) error {
	if c.Number != j.next {
		if err := j.goOnAt(c.Number); err != nil {
			return err
		}
	}
	j.buf = j.of.appendRecord(j.buf, c)
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
	if err := j.of.Read(number, Skip); err != nil {
		return fmt.Errorf("%w: %w", ErrJournal, err)
	}
	j.first, j.next = number, number
	return nil
}

func (j JournalFile) appendRecord(dst []byte, c *optimize.Candidate) []byte {
	from := len(dst)
	for _, values := range [][]float64{c.X, c.F, c.G} {
		for _, v := range values {
			dst = binary.LittleEndian.AppendUint64(dst, math.Float64bits(v))
		}
	}
	return binary.LittleEndian.AppendUint32(dst, j.sum(c.Number, dst[from:]))
}

// sum is the CRC-32 of a record.
func (j JournalFile) sum(number int, values []byte) uint32 {
	var n [8]byte
	binary.LittleEndian.PutUint64(n[:], uint64(number))
	return crc32.Update(crc32.Update(j.about, crc32.IEEETable, n[:]), crc32.IEEETable, values)
}

// at is the offset of a candidate in the file.
func (j *Journal) at(number int) int64 { return int64(number) * int64(RecordBytes(j.of.Case)) }

func (j *Journal) flush() error {
	if _, err := j.file.WriteAt(j.buf, j.at(j.first)); err != nil {
		return fmt.Errorf("store the candidates: %w", err)
	}
	j.first, j.buf = j.next, j.buf[:0]
	return nil
}

// Sync brings everything to the disk, before a state that continues from here.
func (j *Journal) Sync() error {
	if err := j.flush(); err != nil {
		return err
	}
	if err := j.file.Sync(); err != nil {
		return fmt.Errorf("store the candidates: %w", err)
	}
	return nil
}

// Finish ends the journal of a case after the given number of candidates. What follows them, from a generation that
// was abandoned, is cut off unless another copy may be writing it.
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

// Close closes the file and drops what has not been synced.
func (j *Journal) Close() { _ = j.file.Close() }

// Skip is for Read: it ignores a candidate.
func Skip(*optimize.Candidate) error { return nil }

// Read calls do with the first count candidates of a case, in the order of their numbers. Each is
// overwritten by the next.
func (j JournalFile) Read(count int, do func(*optimize.Candidate) error) error {
	f, err := os.Open(j.Path)
	if err != nil {
		return err
	}
	defer f.Close()
	c := j.Case
	in, record := bufio.NewReaderSize(f, journalBuffer), make([]byte, RecordBytes(c))
	one := optimize.Candidate{X: make([]float64, len(c.Free))}
	one.F, one.G = make([]float64, len(c.Goals)), make([]float64, 1+len(c.Limits))
	for n := range count {
		if _, err := io.ReadFull(in, record); err != nil {
			return fmt.Errorf("%s: candidate %d of %d: %w", j.Path, n, count, err)
		}
		values := record[:len(record)-4]
		if binary.LittleEndian.Uint32(record[len(values):]) != j.sum(n, values) {
			return fmt.Errorf("%s: candidate %d is %w", j.Path, n, errDamaged)
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

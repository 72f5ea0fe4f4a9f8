package jobs

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/gob"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/table"
)

// tinyJob is a job that is searched in a few milliseconds, in a file.
func tinyJob(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("testdata/valid.yaml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "tiny.yaml")
	text = append(bytes.Replace(text, []byte("evaluations: 1000"), []byte("evaluations: 300"), 1), "front_size: 3\n"...)
	text = []byte(withoutDefaults(string(text)))
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// tinyResults is a copy of a results folder of the tiny job.
func tinyResults(t testing.TB) string {
	t.Helper()
	return undisturbed(t, tinyJob(t))
}

// What any command on a folder of damaged or hostile files may take at most. The largest table that
// is read may have 1 GiB; those here are a few kB.
const (
	mostBytes = 512 << 20
	mostTime  = 20 * time.Second
)

// sparing fails if doing something takes too much time or memory.
func sparing(t testing.TB, what string, do func()) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	began := time.Now()
	do()
	runtime.ReadMemStats(&after)
	if got := after.TotalAlloc - before.TotalAlloc; got > mostBytes {
		t.Fatalf("%s: %d MB were asked for", what, got>>20)
	}
	if took := time.Since(began); took > mostTime {
		t.Fatalf("%s: took %s", what, took)
	}
}

// quickly runs a command line sparingly. Its context ends soon, for a hostile checkpoint may ask for a
// search without end.
func quickly(t testing.TB, args ...string) (code int, said string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	var o, e strings.Builder
	sparing(t, strings.Join(args, " "), func() { code = Main(ctx, process.Env{Args: args, In: strings.NewReader(""), Out: &o, Err: &e}) })
	return code, e.String()
}

var tableFiles = []string{results.FrontFile, results.CurvesFile, results.HistoryFile, results.TelescopicFile}

// resealed puts the checksum into a table that it has for its bytes as they are, so that what
// damages it comes as far as the Parquet reader. Nothing changes where there is no place for it.
func resealed(file []byte) []byte {
	const mark = "forkfront.file_sha256\x18\x40"
	if len(file) < 12 {
		return file
	}
	length := int(binary.LittleEndian.Uint32(file[len(file)-8:]))
	if length > len(file)-12 {
		return file
	}
	footer := len(file) - 8 - length
	at := bytes.Index(file[footer:], []byte(mark))
	if at < 0 || footer+at+len(mark)+2*sha256.Size > len(file) {
		return file
	}
	sealed := bytes.Clone(file)
	place := sealed[footer+at+len(mark):][:2*sha256.Size]
	copy(place, strings.Repeat("0", 2*sha256.Size))
	sum := sha256.Sum256(sealed)
	hex.Encode(place, sum[:])
	return sealed
}

// A table that was damaged, or made to look right, in a results folder: its readers end with an
// error or do their work, without a panic, much time or much memory.
func FuzzResults(f *testing.F) {
	whole := tinyResults(f)
	for i, name := range tableFiles {
		text, err := os.ReadFile(filepath.Join(whole, name))
		if err != nil {
			f.Fatal(err)
		}
		if !bytes.Equal(resealed(text), text) {
			f.Fatalf("%s is sealed otherwise than the test does it", name)
		}
		f.Add(byte(i), text, true)
		f.Add(byte(i), text[:len(text)/2], false)
	}
	f.Fuzz(func(t *testing.T, which byte, text []byte, seal bool) {
		dir := t.TempDir()
		if seal {
			text = resealed(text)
		}
		name := tableFiles[int(which)%len(tableFiles)]
		damaged := filepath.Join(dir, name)
		if err := os.WriteFile(damaged, text, 0o644); err != nil {
			t.Fatal(err)
		}
		sparing(t, "reading "+name, func() {
			if _, err := table.Read(damaged); err != nil {
				return // and so for every command
			}
			again := filepath.Join(dir, "results")
			if err := errors.Join(os.CopyFS(again, os.DirFS(whole)), os.Rename(damaged, filepath.Join(again, name))); err != nil {
				t.Fatal(err)
			}
			quickly(t, "extract", again, "cargo/leading-arm/1/1")
			quickly(t, "report", again)
		})
	})
}

// What the candidates of a case share, with anything in it and a good checksum: whatever needs it ends with an error or
// does its work.
func FuzzCases(f *testing.F) {
	whole := tinyResults(f)
	front, err := table.Read(filepath.Join(whole, results.FrontFile))
	if err != nil {
		f.Fatal(err)
	}
	id := front.Series[front.Index("candidate")].Texts[0]
	text, err := os.ReadFile(filepath.Join(whole, results.CasesFile))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add(append(append(bytes.Clone(text), store.NextCase+"\n"...), text...))
	f.Add(bytes.Replace(text, []byte("mechanism: leading-arm"), []byte("mechanism: other"), 1))
	f.Fuzz(func(t *testing.T, text []byte) {
		dir := filepath.Join(t.TempDir(), "results")
		if err := os.CopyFS(dir, os.DirFS(whole)); err != nil {
			t.Fatal(err)
		}
		putCases(t, dir, text)
		quickly(t, "extract", dir, id)
		quickly(t, "report", dir)
	})
}

// Checkpoints that were damaged, or made to look right: resuming ends with an exit code. A damaged
// one never leads to other results.
func FuzzResume(f *testing.F) {
	job := tinyJob(f)
	whole, half := filepath.Join(f.TempDir(), "whole"), filepath.Join(f.TempDir(), "half")
	if code, said := quickly(f, "run", job, "--out", whole); code != process.Done {
		f.Fatalf("exit %d: %s", code, said)
	}
	names := begunOnly(f, job, half)
	for i, name := range names {
		text, err := os.ReadFile(filepath.Join(half, results.CheckpointDir, name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(byte(i), text[len(store.SealLine)+sha256.Size:], true)
		f.Add(byte(i), text, false)
	}
	f.Fuzz(func(t *testing.T, which byte, body []byte, seal bool) {
		dir := filepath.Join(t.TempDir(), "results")
		if err := os.CopyFS(dir, os.DirFS(half)); err != nil {
			t.Fatal(err)
		}
		if seal {
			if int(which)%len(names) == 0 {
				body = redigested(body)
			}
			body = store.Sealed(body)
		}
		if err := os.WriteFile(filepath.Join(dir, results.CheckpointDir, names[int(which)%len(names)]), body, 0o644); err != nil {
			t.Fatal(err)
		}
		code, said := quickly(t, "resume", dir, "--workers", "1")
		if code != process.Done || seal {
			return
		}
		for _, name := range resultFiles {
			a, errA := os.ReadFile(filepath.Join(whole, name))
			b, errB := os.ReadFile(filepath.Join(dir, name))
			if errA != nil || errB != nil || !bytes.Equal(a, b) {
				t.Fatalf("%s differs: %v %v\n%s", name, errA, errB, said)
			}
		}
	})
}

// redigested gives a job as a run began with it the digest of what it holds, so that what damages it
// comes as far as the search. Nothing changes where there is no job in it.
func redigested(body []byte) []byte {
	b := new(store.Begun)
	if err := gob.NewDecoder(bytes.NewReader(body)).Decode(b); err != nil {
		return body
	}
	job, err := b.Unpack()
	if err != nil {
		return body
	}
	again, err := store.Pack(job, b.Name, b.Text, b.Workers, b.Started)
	if err != nil {
		return body
	}
	var out bytes.Buffer
	if err := gob.NewEncoder(&out).Encode(again); err != nil {
		return body
	}
	return out.Bytes()
}

// begunOnly leaves a run of a job that was stopped between two generations, and lists its checkpoints.
func begunOnly(t testing.TB, job, dir string) []string {
	t.Helper()
	for wait := 2 * time.Millisecond; wait < time.Second; wait += time.Millisecond {
		ctx, cancel := context.WithTimeout(context.Background(), wait)
		var o, e strings.Builder
		code := Main(ctx, process.Env{Args: []string{"run", job, "--out", dir, "--replace", "--checkpoint-every", "0s"}, In: strings.NewReader(""), Out: &o, Err: &e})
		cancel()
		states, _ := filepath.Glob(filepath.Join(dir, results.CheckpointDir, "state-*"))
		if code != process.Unfinished || len(states) < 2 {
			continue
		}
		names := []string{"job.checkpoint"}
		for _, path := range states {
			names = append(names, filepath.Base(path))
		}
		return names
	}
	t.Fatal("no run could be stopped halfway")
	return nil
}

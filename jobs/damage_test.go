package jobs

import (
	"bytes"
	"context"
	"flag"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
	"forkfront/results"
)

var flips = flag.Int("flips", 0, "bytes that TestDamageIsNoticed flips in every kind of file (default 2)")

// damageable is a folder, and what to do with a copy of it of which a byte was flipped.
type damageable struct {
	dir   string
	files map[string][]string // by kind
	verbs func(dir string) [][]string
	made  []string // files that the verbs make, relative to the folder
}

// verbsOutcome is what verbs print and make: exit codes, standard output and files.
type verbsOutcome struct {
	codes []int
	out   []string
	said  string
	files map[string][]byte
}

func (d *damageable) run(t *testing.T, dir string) (o verbsOutcome) {
	t.Helper()
	for _, args := range d.verbs(dir) {
		ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		var out, said strings.Builder
		code := Main(ctx, process.Env{Args: args, In: strings.NewReader(""), Out: &out, Err: &said})
		cancel()
		o.codes, o.out, o.said = append(o.codes, code), append(o.out, strings.ReplaceAll(out.String(), dir, "DIR")), o.said+said.String()
		if code != process.Done && strings.TrimSpace(said.String()) == "" {
			t.Errorf("%v: exit %d without a word", args, code)
		}
	}
	o.files = map[string][]byte{}
	for _, name := range d.made {
		if text, err := os.ReadFile(filepath.Join(dir, name)); err == nil {
			o.files[name] = timeless(name, text)
		}
	}
	return o
}

// timeless is the text of a file without how long its searches took.
func timeless(name string, text []byte) []byte {
	if name == results.ReportFile {
		return regexp.MustCompile(`>[0-9.e+-]+ s<`).ReplaceAll(text, []byte("> s<"))
	}
	return text
}

// Flipped bytes in every kind of file that a finished run, a stopped run, shards and a plan leave: each verb that reads
// it ends with a message, or prints and makes what it would have without.
func TestDamageIsNoticed(t *testing.T) {
	t.Parallel()
	each := *flips
	if each == 0 {
		each = 2
	}
	r := rand.New(rand.NewPCG(15, 4))
	flipped, refused, right := 0, 0, 0
	for _, d := range []*damageable{finishedRun(t), stoppedRun(t), publishedShards(t)} {
		whole := d.run(t, copyFolder(t, d.dir))
		if slices.Max(whole.codes) != process.Done {
			t.Fatalf("undamaged: exit %v: %s", whole.codes, whole.said)
		}
		for _, kind := range slices.Sorted(maps.Keys(d.files)) {
			for range each {
				names := d.files[kind]
				name := names[r.IntN(len(names))]
				dir := copyFolder(t, d.dir)
				flip(t, r, filepath.Join(dir, name), kind == results.CasesFile)
				flipped++
				got := d.run(t, dir)
				what := filepath.Base(d.dir) + "/" + name
				for i, code := range got.codes {
					switch {
					case code != process.Done:
						refused++
					case got.out[i] != whole.out[i]:
						t.Errorf("%s: %v prints something else", what, d.verbs("DIR")[i])
					default:
						right++
					}
				}
				for made, text := range got.files {
					toldOfLines := made == results.LogFile && strings.Contains(got.said, results.LogFile)
					if slices.Max(got.codes) == process.Done && !toldOfLines && !bytes.Equal(text, whole.files[made]) {
						t.Errorf("%s: %s is another: %s", what, made, got.said)
					}
				}
				if err := os.RemoveAll(dir); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	t.Logf("%d bytes flipped: %d verbs ended with a message, %d did what they would have", flipped, refused, right)
	if refused < 10 {
		t.Errorf("only %d verbs ended with a message", refused)
	}
}

// flip changes one bit of a file, or one digit to another.
func flip(t *testing.T, r *rand.Rand, path string, digit bool) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil || len(text) == 0 {
		t.Fatalf("%s: %d bytes, %v", path, len(text), err)
	}
	at := r.IntN(len(text))
	for digit && !(text[at] >= '0' && text[at] <= '9') {
		at = r.IntN(len(text))
	}
	if digit {
		text[at] = '0' + (text[at]-'0'+1+byte(r.IntN(9)))%10
	} else {
		text[at] ^= 1 << r.IntN(8)
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

// byKind lists the files of a folder by their names, numbers left out.
func byKind(t *testing.T, dir string) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if info, statErr := os.Stat(path); err == nil && statErr == nil && info.Mode().IsRegular() && info.Size() > 0 {
			name, relErr := filepath.Rel(dir, path)
			kind := regexp.MustCompile(`-?[0-9]+`).ReplaceAllString(filepath.Base(path), "")
			all[kind], err = append(all[kind], name), relErr
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// keepsAll is the tiny job with all its candidates, in a file.
func keepsAll(t *testing.T) string {
	return jobFile(t, fileText(t, tinyJob(t))+"keep: all\n")
}

func finishedRun(t *testing.T) *damageable {
	dir := filepath.Join(t.TempDir(), "finished")
	want(t, process.Done, "run", keepsAll(t), "--out", dir)
	id := firstCandidate(t, dir)
	return &damageable{dir: dir, files: byKind(t, dir), made: []string{results.ReportFile}, verbs: func(dir string) [][]string {
		return [][]string{{"extract", dir, id}, {"extract", dir, id, "--as", "table"}, {"report", dir}, {"resume", dir}}
	}}
}

func stoppedRun(t *testing.T) *damageable {
	dir := filepath.Join(t.TempDir(), "stopped")
	begunOnly(t, keepsAll(t), dir)
	return &damageable{dir: dir, files: byKind(t, dir), made: append(slices.Clone(resultFiles), results.AllFile, results.ReportFile), verbs: func(dir string) [][]string {
		return [][]string{{"resume", dir, "--workers", "1"}}
	}}
}

func publishedShards(t *testing.T) *damageable {
	dir := filepath.Join(t.TempDir(), "shards")
	job := jobFile(t, fileText(t, keepsAll(t))+"seeds: [1, 2]\n")
	plan := filepath.Join(t.TempDir(), "plan.json")
	want(t, process.Done, "plan", job, "--shards", "2", "--out", plan)
	for _, shard := range []string{"0/2", "1/2"} {
		want(t, process.Done, "run", "--plan", plan, "--shard", shard, "--out", dir)
	}
	if err := os.WriteFile(filepath.Join(dir, "plan.json"), []byte(fileText(t, plan)), 0o600); err != nil {
		t.Fatal(err)
	}
	files := byKind(t, dir)
	if len(files[shards.ManifestFile]) != 2 {
		t.Fatalf("%v", files)
	}
	return &damageable{dir: dir, files: files, made: append(slices.Clone(resultFiles), results.AllFile, results.CasesFile, results.LogFile, results.ReportFile), verbs: func(dir string) [][]string {
		return [][]string{{"merge", "--plan", filepath.Join(dir, "plan.json"), "--out", dir}}
	}}
}

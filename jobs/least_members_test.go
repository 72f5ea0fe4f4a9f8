package jobs

import (
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/process"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives"
)

// membersOf are the members of a mechanism in words, sorted.
func membersOf(m *mechanism.Mechanism) []string {
	var all []string
	for _, mb := range m.Members() {
		ends := []string{m.Points[mb.From], m.Points[mb.To]}
		slices.Sort(ends)
		all = append(all, m.Bodies[mb.Body]+" "+strings.Join(ends, "–"))
	}
	slices.Sort(all)
	return all
}

// girderWith writes the built-in girder with other members, and the cargo girder with that mechanism.
func girderWith(t *testing.T, dir, name, members string) string {
	t.Helper()
	text := fileText(t, filepath.Join("mechanisms", "girder.yaml"))
	text = text[:strings.Index(text, "members:")] + members
	if err := os.WriteFile(filepath.Join(dir, name+".mechanism.yaml"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, name+".yaml")
	text = strings.Replace(fileText(t, filepath.Join("examples", "cargo-girder.yaml")), "mechanism: girder", "mechanism: "+name+".mechanism.yaml", 1)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// The cargo girder's crown has root, lower_rear, upper_rear and shock_upper at [36, 20], [27.9, 58.8], [−104.6, 51.1] and
// [−187.9, 89.8]. Its spans, by hand: root to lower_rear 39.6 mm, upper_rear to shock_upper 91.9, lower_rear to upper_rear 132.7,
// root to upper_rear 144.0, all others longer. The built-in file goes from root to upper_rear. The score, and what an analysis by
// finite elements gets, are those of a file that lists the shorter tree, to the byte.
func TestLeastMembersAreThoseOfAList(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	least := girderWith(t, dir, "least", "members: least\n")
	listed := girderWith(t, dir, "listed", `members:
  blade: [[axle, lower_front], [lower_front, upper_front]]
  crown: [[lower_rear, root], [upper_rear, shock_upper], [lower_rear, upper_rear]]
  lower_link: [[lower_front, shock_lower], [lower_rear, shock_lower]]
  upper_link: [[upper_front, upper_rear]]
`)
	for _, args := range [][]string{{"score"}, {"score", "--json"}, {"extract", "--as", "table"}, {"extract", "--as", "frame"}} {
		_, want, said := command(t, slices.Concat(args[:1], []string{listed}, args[1:])...)
		if want == "" {
			t.Fatalf("%v: %s", args, said)
		}
		_, got, said := command(t, slices.Concat(args[:1], []string{least}, args[1:])...)
		if same := strings.NewReplacer("least.yaml", "listed.yaml"); same.Replace(got) != want {
			t.Errorf("%v: %s%s\nlisted: %s", args, said, got, want)
		}
	}
	_, built, _ := command(t, "score", filepath.Join("examples", "cargo-girder.yaml"))
	if _, own, _ := command(t, "score", least); !strings.Contains(own, "crown root–lower_rear") || strings.Contains(built, "crown lower_rear–upper_rear") {
		t.Errorf("%s\nbuilt in: %s", own, built)
	}
}

// A file may list the members of some bodies and leave others to the layout. The built-in girder lists the shortest trees of all bodies but the
// crown, so that it is scored as one that lists the crown's members alone.
func TestLeastMembersBesideListedOnes(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	const crown = "  crown: [[root, lower_rear], [root, upper_rear], [upper_rear, shock_upper]]\n"
	mixed := girderWith(t, dir, "mixed", "members:\n"+crown+"  lower_link: least\n  upper_link: least\n  blade: least\n")
	_, got, said := command(t, "score", mixed)
	_, built, _ := command(t, "score", filepath.Join("examples", "cargo-girder.yaml"))
	from := func(text string) string { return text[max(0, strings.Index(text, "measure")):] }
	if built == "" || from(got) != from(built) {
		t.Errorf("%s%s\nbuilt in: %s", got, said, built)
	}
	for members, want := range map[string]string{
		"  blade: least\n" + crown + "  upper_link: least\n":              "members: no members of lower_link; expected least or a list for each body",
		crown + "  lower_link: []\n  upper_link: least\n  blade: least\n": "members.lower_link: no members of lower_link; expected least",
		crown + "  lower_link: most\n":                                    `members.lower_link: "most"; expected least, or members as [[from, to], …]`,
	} {
		bad := girderWith(t, dir, "bad", "members:\n"+members)
		if code, _, said := command(t, "score", bad); code != process.Input || !strings.Contains(said, want) {
			t.Errorf("exit %d: %s\nwant %s", code, said, want)
		}
	}
}

// A job's enumerated linkages have the shortest trees, but high ones a crown with members from its root; the mechanism files that are
// written of them state that, and are read as it.
func TestEnumeratedLinkagesHaveLeastMembers(t *testing.T) {
	t.Parallel()
	demo := fileText(t, filepath.Join("examples", "demo.yaml"))
	from, to := strings.Index(demo, "mechanisms:"), strings.Index(demo, "objectives:")
	job, _, err := files.ReadJob("four.yaml", strings.NewReader(demo[:from]+"topologies: {only: [c1-c2-1l-2l+c1]}\n"+demo[to:]))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][]string{{"crown crown_link_2 shock_upper", "crown root crown_link_1", "crown root crown_link_2"}, nil} {
		var listed []string
		spec := job.Mechanisms[i].Spec
		for _, m := range spec.Members {
			listed = append(listed, m.Body+" "+m.From+" "+m.To)
		}
		slices.Sort(listed)
		if !spec.Least || !slices.Equal(listed, want) {
			t.Errorf("%s: least %t, lists %q, want %q", spec.Name, spec.Least, listed, want)
		}
		text, err := document.Encode(files.FileOf(&spec))
		if err != nil {
			t.Fatal(err)
		}
		spec.Name = "again"
		path := filepath.Join(t.TempDir(), "again.yaml")
		if err := os.WriteFile(path, []byte(strings.Replace(string(text), job.Mechanisms[i].Spec.Name, "again", 1)), 0o600); err != nil {
			t.Fatal(err)
		}
		read, err := files.LoadMechanism(path, ".")
		if err != nil {
			t.Fatalf("%s\n%v", text, err)
		}
		if got := membersOf(read); !slices.Equal(got, membersOf(files.Compile(spec))) || !read.Least() {
			t.Errorf("read as %v from %s", got, text)
		}
	}
}

// A search has candidates with different trees. Built again from the results, each has the measures of the front; one that is
// extracted lists its members, and its file has these measures.
func TestCandidatesHaveTreesOfTheirOwn(t *testing.T) {
	t.Parallel()
	text := fileText(t, filepath.Join("examples", "short", "girder.yaml"))
	from, to := strings.Index(text, "mechanisms:"), strings.Index(text, "objectives:")
	text = text[:from] + "topologies: {only: [c1-c2-1l-2l+c1], arrangements: [high], members: least}\n" + text[to:]
	text = strings.NewReplacer("clearance_mm, min: 6", "clearance_mm, min: -80").Replace(text)
	dir := filepath.Join(t.TempDir(), "out")
	front, reader := searched(t, jobFile(t, text), dir)
	trees := map[string]int{}
	for row := range front.Rows {
		fork, err := reader.Fork(row)
		if err != nil {
			t.Fatal(err)
		}
		tree := strings.Join(membersOf(fork.Design.Mechanism), ", ")
		if trees[tree]++; trees[tree] > 1 || len(trees) > 3 {
			continue
		}
		id := front.Series[front.Index("candidate")].Texts[row]
		out := filepath.Join(t.TempDir(), "fork")
		want(t, process.Done, "extract", dir, id, "--out", out)
		concept := globbed(t, filepath.Join(out, "*.yaml"))
		i := slices.IndexFunc(concept, func(name string) bool { return !strings.HasSuffix(name, ".mechanism.yaml") })
		file, source, err := files.ReadConcept(concept[i], opened(t, concept[i]))
		if err != nil {
			t.Fatal(err)
		}
		extracted, err := cases.Design(file, source, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(membersOf(extracted.Mechanism), ", "); file.Spec.Least || got != tree {
			t.Errorf("row %d: its file has the members %s, the fork %s", row, got, tree)
		}
		for _, d := range []*objectives.Design{&fork.Design, extracted} {
			var s objectives.Score
			objectives.NewScorer(fork.Conditions).Score(&s, d).Complete(&s)
			asInFront(t, front, row, &s)
		}
	}
	if len(trees) < 2 {
		t.Errorf("all have one tree: %v", slices.Collect(maps.Keys(trees)))
	}
}

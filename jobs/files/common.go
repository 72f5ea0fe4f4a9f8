package files

import (
	"reflect"
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
)

// commonKey is a key that a job and a concept declare in one section, with the value of each; the job's can be
// set.
type commonKey struct {
	key, section string
	job, concept reflect.Value
}

// common lists the keys of the sections embedded in both kinds of file, in the order of the job file.
func (j *JobFile) common(c *ConceptFile) []commonKey {
	var all []commonKey
	job, concept := reflect.ValueOf(j).Elem(), reflect.ValueOf(c).Elem()
	for _, section := range reflect.VisibleFields(job.Type()) {
		if !section.Anonymous {
			continue
		}
		here, there := job.FieldByIndex(section.Index), concept.FieldByName(section.Name)
		for _, f := range document.FieldsOf(section.Type) {
			all = append(all, commonKey{f.Key, section.Name, here.FieldByIndex(f.Index), there.FieldByIndex(f.Index)})
		}
	}
	return all
}

// Differences lists the keys by which a concept would be evaluated differently from the job: its bike, its material,
// and what the two kinds of file have in common.
func (j *JobFile) Differences(c *ConceptFile) []string { return j.differences(c, "") }

// DifferencesBesidesAims is Differences without the bands and coil rates, which a judge takes from the job.
func (j *JobFile) DifferencesBesidesAims(c *ConceptFile) []string {
	return j.differences(c, reflect.TypeFor[sections.Aims]().Name())
}

// differences leaves one of the common sections out of the comparison.
func (j *JobFile) differences(c *ConceptFile, without string) (keys []string) {
	if !j.hasBike(c) {
		keys = append(keys, "bike")
	}
	if !slices.Contains(j.Materials, c.Material) {
		keys = append(keys, "material")
	}
	for _, common := range j.common(c) {
		same := common.section == without || reflect.DeepEqual(common.job.Interface(), common.concept.Interface())
		if common.key == "package" {
			same = j.hasPackage(c)
		}
		if !same {
			keys = append(keys, common.key)
		}
	}
	return keys
}

// hasBike tells whether the concept's bike, whatever its name, is one of the job's.
func (j *JobFile) hasBike(c *ConceptFile) bool {
	return slices.ContainsFunc(j.Bikes, func(b sections.Bike) bool {
		b.Name = c.Bike.Name
		return b == c.Bike
	})
}

// hasPackage tells whether the concept's package, whatever its name, is one of the job's.
func (j *JobFile) hasPackage(c *ConceptFile) bool {
	all := j.Packages
	if len(all) == 0 {
		all = []sections.PackageSection{j.Package}
	}
	return slices.ContainsFunc(all, func(p sections.PackageSection) bool {
		p.Name = c.Package.Name
		return reflect.DeepEqual(p, c.Package)
	})
}

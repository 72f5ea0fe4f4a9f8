package tables

import (
	"slices"
	"strings"

	"forkfront/jobs/cases"
	"forkfront/jobs/store"
	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/results/table"
)

// placedFields are columns that follow from the variables: the position of an eye of the shock that has an angle, the
// size of the shock chosen, and whether every measure has a value.
func placedFields(all []store.Found) []frontField {
	var fields []frontField
	for _, eye := range []string{scheme.PointShockLower, scheme.PointShockUpper} {
		if slices.ContainsFunc(all, func(f store.Found) bool { return places(f.Case, eye) }) {
			fields = append(
				fields,
				eyeField(eye, cases.ColumnAlong(eye), func(at kinematics.Vec[float64]) float64 { return at.Along }),
				eyeField(eye, cases.ColumnAhead(eye), func(at kinematics.Vec[float64]) float64 { return at.Ahead }),
			)
		}
	}
	return append(
		fields,
		shockField(cases.ColumnShockLength, "eye-to-eye length of the selected shock at top-out", func(k cases.ShockSize) float64 { return k.EyeToEyeMM }),
		shockField(cases.ColumnShockStroke, "stroke of the selected shock", func(k cases.ShockSize) float64 { return k.StrokeMM }),
		text("status", "complete: every measure has a value, except those of the other kind of spring; partial: reason says which have none", statusOf),
		frontField{table.Column{Name: "reason", Doc: "measures without a value, each with the reason; NULL if status is complete", Kind: table.Text, Optional: true}, setReason},
	)
}

// places tells whether this eye of the shock has an angle.
func places(c *cases.Case, eye string) bool {
	if !c.Polar() {
		return false
	}
	_, hung, _ := c.ShockEyes()
	return c.Mechanism.Points[hung] == eye
}

// eyeField is an eye's variable, or NULL, for a case in which that eye has no angle.
func eyeField(eye, name string, of func(kinematics.Vec[float64]) float64) frontField {
	column := table.Column{
		Name: name, Unit: "mm", Kind: table.Float, Optional: true,
		Doc: "position of the shock's " + strings.TrimPrefix(eye, "shock_") + " eye at top-out, from its angle", Source: "placed",
	}
	variable := variableField(column.Name)
	return frontField{column, func(w *table.Writer, col int, r *frontRow) {
		if !places(r.c, eye) {
			variable.set(w, col, r)
			return
		}
		w.Float(col, of(r.c.Layout(r.candidate.X)[r.c.Mechanism.Point(eye)]))
	}}
}

func shockField(name, doc string, of func(cases.ShockSize) float64) frontField {
	column := table.Column{Name: name, Unit: "mm", Doc: doc, Kind: table.Float, Optional: true, Source: "placed"}
	return frontField{column, func(w *table.Writer, col int, r *frontRow) {
		if r.c.Mechanism.HasShock() {
			w.Float(col, of(r.c.ShockOf(r.candidate.X)))
		} else {
			w.Null(col)
		}
	}}
}

func statusOf(r *frontRow) string {
	if reason(r) == "" {
		return "complete"
	}
	return "partial"
}

func setReason(w *table.Writer, col int, r *frontRow) {
	if why := reason(r); why != "" {
		w.Text(col, why)
	} else {
		w.Null(col)
	}
}

// reason lists the measures that have no value, each with why, except for those of the other kind of spring and those of which
// the job gives nothing.
func reason(r *frontRow) string {
	var all []string
	given := r.c.Conditions.Given()
	shock := fork.Shock{Air: r.c.ShockOf(r.candidate.X).Air}
	for i := range objectives.Measures {
		if why := r.score.Missing[i]; why != "" && objectives.Measures[i].AppliesTo(&shock, given) {
			all = append(all, objectives.Measures[i].Name+": "+why)
		}
	}
	return strings.Join(all, "; ")
}

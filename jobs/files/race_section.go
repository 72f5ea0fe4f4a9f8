package files

// RaceSection has the cases of a job race each other for its evaluations.
type RaceSection struct {
	FirstEvaluations int `yaml:"first_evaluations" jsonschema:"minimum=1" default:"16000" jsonschema_description:"evaluations of each case in the first round. With fewer, more cases are cut that would have become feasible; with hundreds of cases that pays all the same"`
	Finalists        int `yaml:"finalists" jsonschema:"minimum=1" default:"8" jsonschema_description:"cases in the last round, at least"`
}

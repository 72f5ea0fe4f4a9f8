package shards

import (
	"encoding/json"
	"fmt"
	"io"
	"text/template"

	"forkfront/results/display"
)

// submissions are the texts with which a plan is submitted, one per engine. PLAN, RESULTS and the image are for the
// site to fill in.
var submissions = template.Must(template.New("submissions").Parse(`Slurm:
  a=$(sbatch --parsable --requeue --open-mode=append --signal=B:TERM@120 --array={{.First}}-{{.Last}} jobs/cluster/slurm-shard.sh {{.Plan}} RESULTS)
  sbatch --dependency=afterany:$a jobs/cluster/slurm-merge.sh {{.Plan}} RESULTS

Kubernetes (jobs/cluster/kubernetes.yaml has the complete Job):
  completionMode: Indexed, completions: {{.Shards}}, command: [forkfront, run, --plan, {{.Entry}}, --out, RESULTS]

AWS Batch:
{{- if gt .Shards 1}}
  aws batch submit-job --job-name forkfront --job-queue QUEUE --job-definition DEFINITION --array-properties size={{.Shards}} \
    --container-overrides {{.Override}}
{{- else}}
  an array needs at least two tasks; submit one job with the command run --plan {{.Plan}} --shard 0/1 --out RESULTS
{{- end}}

Then: forkfront merge --plan {{.Plan}} --out RESULTS
`))

// submission prints how to submit a plan to an array engine. The plan's path is quoted for each of them: as a shell's
// word, an entry of a YAML list, JSON within a shell's word.
func submission(w io.Writer, p *Plan, path string) error {
	inJSON, err := json.Marshal(path)
	if err != nil {
		return fmt.Errorf("print how to run the plan: %w", err)
	}
	shell, entry := display.ShellWord(path), path
	if shell != path {
		entry = string(inJSON) // JSON is YAML
	}
	return submissions.Execute(w, struct {
		Plan, Entry, Override string
		Shards, First, Last   int
	}{
		shell, entry, display.ShellWord(fmt.Sprintf(`command=["run","--plan",%s,"--out","RESULTS"]`, inJSON)),
		p.Shards, p.IndexBase, p.IndexBase + p.Shards - 1,
	})
}

package jobs

import (
	"io"
	"text/template"
)

// submissions are the texts that send a plan off, an engine each. PLAN, RESULTS and the image are
// the site's to fill in.
var submissions = template.Must(template.New("submissions").Parse(`Slurm:
  a=$(sbatch --parsable --requeue --open-mode=append --signal=B:TERM@120 --array={{.First}}-{{.Last}} jobs/cluster/slurm-shard.sh {{.Plan}} RESULTS)
  sbatch --dependency=afterany:$a jobs/cluster/slurm-merge.sh {{.Plan}} RESULTS

Kubernetes (jobs/cluster/kubernetes.yaml holds the whole Job):
  completionMode: Indexed, completions: {{.Shards}}, command: [forkfront, run, --plan, {{.Plan}}, --out, RESULTS]

AWS Batch:
{{- if gt .Shards 1}}
  aws batch submit-job --job-name forkfront --job-queue QUEUE --job-definition DEFINITION --array-properties size={{.Shards}} \
    --container-overrides 'command=["run","--plan","{{.Plan}}","--out","RESULTS"]'
{{- else}}
  an array needs two tasks at least; submit one job with the command run --plan {{.Plan}} --shard 0/1 --out RESULTS
{{- end}}

Then: forkfront merge --plan {{.Plan}} --out RESULTS
`))

// submission prints how to send a plan to an array engine.
func submission(w io.Writer, p *plan, path string) error {
	return submissions.Execute(w, struct {
		Plan                string
		Shards, First, Last int
	}{path, p.Shards, p.IndexBase, p.IndexBase + p.Shards - 1})
}

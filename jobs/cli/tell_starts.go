package cli

import (
	"fmt"
	"io"
	"strings"

	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
)

// tellStarts says which settings of the concepts the search does not use, and what was assumed about them.
func tellStarts(j *files.JobFile, w io.Writer) {
	for i := range j.Start {
		st := &j.Start[i]
		if st.File == nil {
			continue
		}
		other := j.Differences(st.File)
		if len(other) > 0 {
			fmt.Fprintf(w, "start %s: its %s differs from that of the job; the job's is used\n", st.Name, strings.Join(other, ", "))
		}
		if k := st.File.Shock; st.OwnShock.EyeToEyeMM > 0 && len(j.Shocks) == 0 && (k == nil || k.StrokeMM == 0) {
			fmt.Fprintf(w, "start %s: its shock has no stroke_mm; %.2f of its length of %.4g mm is used: %.4g mm\n", st.Name, sections.StrokeShare, st.OwnShock.EyeToEyeMM, st.OwnShock.StrokeMM)
		}
	}
}

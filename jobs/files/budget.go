package files

import "time"

// CaseEvaluations is how many evaluations a case gets; 0: no limit.
func (b *Budget) CaseEvaluations(cases int) int {
	n := 0
	if b.Evaluations != nil {
		n = *b.Evaluations
	}
	if b.TotalEvaluations != nil {
		if share := max(1, *b.TotalEvaluations/cases); n == 0 || share < n {
			n = share
		}
	}
	return n
}

// CaseWall is how long one of the given number of cases may take when lanes of them run side by side; 0: no limit.
func (b *Budget) CaseWall(cases, lanes int) time.Duration {
	var d time.Duration
	if b.MaxWall != nil {
		d = b.MaxWall.Duration
	}
	if b.TotalWall != nil {
		if share := time.Duration(float64(b.TotalWall.Duration) * float64(min(lanes, cases)) / float64(cases)); d == 0 || share < d {
			d = max(share, time.Millisecond)
		}
	}
	return d
}

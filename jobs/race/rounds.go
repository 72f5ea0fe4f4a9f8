package race

// Round is how many cases are left in a round, and how many evaluations each has come to at its end.
type Round struct{ Cases, Until int }

// Kept is how many of some cases go on: half, rounded up, but never fewer than the finalists.
func Kept(cases, finalists int) int { return min(cases, max((cases+1)/2, finalists)) }

// Rounds are those of a race. Each case gets first evaluations, and what it has come to doubles from round to round while half of
// the cases go on. The last round shares what is left of total evenly among its cases. It is the one in which only the finalists
// are left, or after which the total would not pay for one more round. There are none where the total does not pay for the first
// round.
func Rounds(cases, first, total, finalists int) []Round {
	if cases < 1 || first < 1 || first > total/cases {
		return nil
	}
	if cases <= finalists {
		return []Round{{cases, total / cases}}
	}
	all := []Round{{cases, first}}
	left := total - cases*first
	for until := first; ; {
		n := Kept(all[len(all)-1].Cases, finalists)
		if left < n {
			return all
		}
		next := Kept(n, finalists)
		if after := left/n - until; n == next || after < 0 || (left-n*until)/next < 2*until {
			return append(all, Round{n, until + left/n})
		}
		left -= n * until
		until *= 2
		all = append(all, Round{n, until})
	}
}

// Evaluations is what the rounds cost together.
func Evaluations(rounds []Round) int {
	sum, before := 0, 0
	for _, r := range rounds {
		sum += r.Cases * (r.Until - before)
		before = r.Until
	}
	return sum
}

package race

// Round is how many cases are left in a round, and how many evaluations each has come to at its end.
type Round struct{ Cases, Until int }

// mostCut is the largest reduction in one round: no fewer than one case in mostCut goes on.
const mostCut = 6

// Kept is how many cases go on to the next round: one in oneIn, rounded up, but never fewer than the finalists.
func Kept(cases, oneIn, finalists int) int {
	return min(cases, max((cases+oneIn-1)/oneIn, finalists))
}

// Rounds are those of a race. Each case gets first evaluations, and what it has come to doubles from round to round while half of
// the cases go on. The last round shares what is left of total evenly among its cases. It is the one in which only the finalists
// are left, or after which the total would not pay for one more round. Where that would leave more than twice the finalists, among
// whom the evaluations of the last round would be spread thin, one in three goes on, or in four, and so on. There are no rounds where the total
// does not pay for the first.
func Rounds(cases, first, total, finalists int) []Round {
	if cases < 1 || first < 1 || first > total/cases {
		return nil
	}
	if cases <= finalists {
		return []Round{{cases, total / cases}}
	}
	var best []Round
	for oneIn := 2; oneIn <= mostCut; oneIn++ {
		all := roundsBy(oneIn, cases, first, total, finalists)
		if best == nil || all[len(all)-1].Cases < best[len(best)-1].Cases {
			best = all
		}
		if best[len(best)-1].Cases <= 2*finalists {
			break
		}
	}
	return best
}

// roundsBy are the rounds of a race in which one case in oneIn goes on after each.
func roundsBy(oneIn, cases, first, total, finalists int) []Round {
	all := []Round{{cases, first}}
	left := total - cases*first
	for until := first; ; {
		n := Kept(all[len(all)-1].Cases, oneIn, finalists)
		if left < n {
			return all
		}
		next := Kept(n, oneIn, finalists)
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

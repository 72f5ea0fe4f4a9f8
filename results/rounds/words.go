package rounds

import (
	"fmt"
	"strings"
)

// Short is the name of a case or linkage without its bike: a race is between forks for one.
func Short(name string) string {
	_, rest, found := strings.Cut(name, "/")
	if !found {
		return name
	}
	return rest
}

// Ended says in words how the race ended for a linkage, and why no later.
func (r *Row) Ended() string {
	where := "in the last round"
	if r.Outcome == Cut {
		where = fmt.Sprintf("cut after round %d of %d", r.Rounds, r.Of)
	}
	switch {
	case r.Front == 0 && r.Unmet != "":
		return fmt.Sprintf("%s; not found feasible within %d evaluations, the nearest outside %s", where, r.Spent, r.Unmet)
	case r.Front == 0:
		return fmt.Sprintf("%s; not found feasible within %d evaluations", where, r.Spent)
	case r.Covered != nil:
		return fmt.Sprintf("%s, at %d evaluations: %s covered %.0f %% of what it covered then", where, r.Spent, Short(r.CoveredBy), 100**r.Covered)
	}
	return where
}

// Percent is a share in %, or a dash.
func Percent(share *float64) string {
	switch {
	case share == nil:
		return "–"
	case *share > 0 && *share < 0.0005:
		return "under 0.1 %"
	}
	return fmt.Sprintf("%.1f %%", 100**share)
}

package report

import (
	"fmt"
	"testing"
)

// A page of ten thousand searches lists a hundred of those that found something and says how many it leaves out.
func TestReportListsAtMostSoManySearches(t *testing.T) {
	p := &page{}
	for i := range 10_000 {
		p.Cases = append(p.Cases, caseTrust{Name: fmt.Sprint(i), Found: i%50 == 49})
	}
	p.Nothing = 9800
	if !p.Brief() || len(p.Listed()) != 100 || p.Unlisted() != 100 || p.Listed()[1].Name != "99" {
		t.Errorf("brief %v, %d listed, %d left out", p.Brief(), len(p.Listed()), p.Unlisted())
	}
	p.Cases, p.Nothing = p.Cases[:6], 6
	if p.Brief() || len(p.Listed()) != 0 || p.Unlisted() != 0 {
		t.Errorf("%d of 6 that found nothing are listed", len(p.Listed()))
	}
}

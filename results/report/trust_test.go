package report

import (
	"fmt"
	"testing"
)

// A page of ten thousand searches lists a hundred of each kind and says how many it leaves out.
func TestAPageListsSoManySearches(t *testing.T) {
	p := &page{}
	for i := range 10_000 {
		p.Cases = append(p.Cases, caseTrust{Name: fmt.Sprint(i), Found: i%50 == 49})
	}
	found := 0
	for _, c := range p.Listed() {
		if c.Found {
			found++
		}
	}
	if len(p.Listed()) != 200 || found != 100 || p.Unlisted() != 9800 || p.Listed()[49].Name != "49" {
		t.Errorf("%d listed, %d of them found something, %d left out", len(p.Listed()), found, p.Unlisted())
	}
	p.Cases = p.Cases[:60]
	if len(p.Listed()) != 60 || p.Unlisted() != 0 {
		t.Errorf("%d of 60 listed", len(p.Listed()))
	}
}

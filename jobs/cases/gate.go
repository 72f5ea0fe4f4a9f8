package cases

// gate limits how many evaluations run at once, over all cases being searched.
type gate chan struct{}

// NewGate lets n evaluations run at once.
func NewGate(n int) gate { return make(gate, n) }

func (g gate) enter() {
	if g != nil {
		g <- struct{}{}
	}
}

func (g gate) leave() {
	if g != nil {
		<-g
	}
}

package store

import (
	"fmt"
	"os"
)

func (c *Checkpoints) pausedPath(i int) string {
	return c.path(c.rounded(fmt.Sprintf("paused-%05d", i)))
}

// Pause keeps what case w.Case goes on from in the next round.
func (c *Checkpoints) Pause(w AtWork) error {
	w.Digest = c.Digest
	return Seal(c.pausedPath(w.Case), &w)
}

// LoadPaused reads what case i goes on from after this round; nil where there is nothing that can be used.
func (c *Checkpoints) LoadPaused(i int) (w *AtWork, trouble error) {
	w = new(AtWork)
	path := c.pausedPath(i)
	err := Unseal(path, w)
	switch {
	case err == nil && w.Digest != c.Digest:
		err = fmt.Errorf("%s belongs to another job", path)
	case err == nil && w.Case != i:
		err = fmt.Errorf("%s is of case %d of the job, under another name", path, w.Case+1)
	}
	if err != nil {
		w = nil
	}
	if Unreadable(err) {
		trouble = err
	}
	return w, trouble
}

// DropPaused removes what case i would go on from, since it has gone on or never will.
func (c *Checkpoints) DropPaused(i int) error { return Gone(os.Remove(c.pausedPath(i))) }

// Undo drops the result of case i, which is then searched again.
func (c *Checkpoints) Undo(i int) error { return Gone(os.Remove(c.casePath(i))) }

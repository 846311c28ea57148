package model

import "slices"

// BatchCount is how far a batch is.
type BatchCount struct {
	Copies, Filed, Unidentified int
}

// BatchCounts counts the copies of each batch that has any.
func (c *Collection) BatchCounts() map[BatchID]BatchCount {
	all := map[BatchID]BatchCount{}
	for _, cp := range c.Copies().All() {
		if c.Batch(cp.Batch) == nil {
			continue
		}
		n := all[cp.Batch]
		n.Copies++
		if c.StepOf(cp) == Filed {
			n.Filed++
		}
		if slices.ContainsFunc(c.Pattern(cp.Pattern).Tags, isUnidentified) {
			n.Unidentified++
		}
		all[cp.Batch] = n
	}
	return all
}

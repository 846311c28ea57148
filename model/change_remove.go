package model

import (
	"maps"
	"slices"

	"example.org/tuckrow/model/words"
)

// Remove takes copies off the list: entered by mistake, sold, given away. A
// pattern that no copy is left of goes too.
type Remove struct {
	Copies []Accession `json:"copies"`
}

// Title implements Change.
func (ch *Remove) Title(c *Collection) string {
	if len(ch.Copies) == 1 {
		return "removed " + c.heading(ch.Copies[0])
	}
	return "removed " + words.Count(len(ch.Copies), "copy", "copies")
}

func (ch *Remove) apply(e *editor) error {
	gone, orphans := map[Accession]bool{}, map[PatternID]bool{}
	for _, a := range ch.Copies {
		cp, err := e.copyOrErr(a)
		if err != nil {
			return err
		}
		gone[a], orphans[cp.Pattern] = true, true
	}
	e.unbox(gone)
	for _, cp := range e.c.copies.All() {
		if !gone[cp.Accession] {
			delete(orphans, cp.Pattern)
		}
	}
	for _, a := range ch.Copies {
		if e.c.Copy(a) != nil {
			e.drop(KindCopy, uint32(a))
		}
	}
	for _, p := range slices.Sorted(maps.Keys(orphans)) {
		e.link(p, nil)
		e.drop(KindPattern, uint32(p))
	}
	return nil
}

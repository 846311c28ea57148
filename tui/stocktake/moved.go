package stocktake

import "example.org/tuckrow/model"

// moved are the copies of a count that have gone to another place since than where
// they were found, or not found: by how many moves. What becomes of them from then
// on is no matter of the stocktake, also when they are put in the box that they had
// been recorded in. Undo goes back move by move.
type moved map[model.Accession]int

// noteMoves follows what the commit has moved from box to box.
func (s *Screen) noteMoves(commit model.Commit) {
	to := moves(commit.Delta)
	if len(to) == 0 {
		return
	}
	for box, n := range s.counts {
		for a := range n.copies() {
			now, did := to[a]
			switch {
			case !did:
				continue
			case commit.TakesBack():
				if n.moved[a]--; n.moved[a] <= 0 {
					delete(n.moved, a)
				}
			case n.moved[a] > 0 || now != box:
				n.moved[a]++
			}
			s.unkept = true
		}
	}
}

// moves tells of the copies that a change has moved which box they stand in then; 0
// for none.
func moves(d model.Delta) map[model.Accession]model.BoxID {
	to, from := map[model.Accession]model.BoxID{}, map[model.Accession]model.BoxID{}
	for _, e := range d {
		if row, ok := e.Before.(*model.Row); ok && row != nil {
			for _, a := range row.Copies {
				from[a], to[a] = row.Box, 0
			}
		}
	}
	for _, e := range d {
		if row, ok := e.After.(*model.Row); ok && row != nil {
			for _, a := range row.Copies {
				to[a] = row.Box
			}
		}
	}
	for a, box := range to {
		if from[a] == box {
			delete(to, a)
		}
	}
	return to
}

// copies are those that were found in the box, or were not.
func (n *count) copies() map[model.Accession]bool {
	all := map[model.Accession]bool{}
	for _, x := range n.steps {
		if x.Copy != 0 {
			all[x.Copy] = true
		}
	}
	for _, a := range n.lost {
		all[a] = true
	}
	return all
}

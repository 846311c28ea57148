package storage

import (
	"maps"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// Dropped counts the copies that were there at a revision and went since by a
// change, or by an undo of what had brought them. It never counts too few; of
// those that had gone before the revision already, it counts too what was
// brought back by an undo and taken back by a further one. It is an error when
// the history does not reach back so far.
func (s *Store) Dropped(since uint64) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == nil {
		return 0, s.closed("reading")
	}
	touched, added := map[uint32]bool{}, map[uint32]bool{} // since, and those that were not there before
	err := s.db.View(func(txn *badger.Txn) error {
		for rev := since + 1; rev <= s.c.Rev(); rev++ {
			line, err := lineOf(txn, rev)
			if err != nil {
				return err
			}
			if line.Undoes == 0 {
				err = copiesOf(txn, rev, line, touched, added)
			} else if rev := line.Undoes; rev <= since { // what that change had brought was there
				if line, err = lineOf(txn, rev); err == nil {
					err = copiesOf(txn, rev, line, map[uint32]bool{}, touched)
				}
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
	maps.DeleteFunc(touched, func(id uint32, _ bool) bool { return added[id] || s.c.Copy(model.Accession(id)) != nil })
	return len(touched), s.tell("reading the history of", err)
}

func lineOf(txn *badger.Txn, rev uint64) (line entry, err error) {
	if err = get(txn, historyKey(rev), &line); err != nil {
		err = missing(err, "the history of revision %d", rev)
	}
	return line, err
}

// copiesOf notes the copies that a change altered or took out, and those that
// it brought.
func copiesOf(txn *badger.Txn, rev uint64, line entry, were, absent map[uint32]bool) error {
	for i := range line.Pieces {
		var b before
		if err := get(txn, beforeKey(rev, i), &b); err != nil {
			return missing(err, "what revision %d changed, part %d", rev, i+1)
		}
		for _, w := range b.Were {
			if kind, id, ok := parseRecordKey(w.Key); ok && kind == model.KindCopy {
				were[id] = true
			}
		}
		for _, sp := range b.Absent {
			for id := sp.From; sp.Kind == model.KindCopy && id <= sp.To && id >= sp.From; id++ {
				absent[id] = true
			}
		}
	}
	return nil
}

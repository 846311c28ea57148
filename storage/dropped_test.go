package storage

import (
	"context"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// Dropped counts the copies that are in the cupboard of a revision and not in
// the one of now, whatever happened between; just those, unless an undo went
// back beyond that revision.
func TestDroppedIsWhatWent(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := openMemory(t)
		defer s.shut()
		at := []*model.Collection{s.Collection()}
		undone := map[int]int{} // the revision that undid, and which
		for range rapid.IntRange(1, 12).Draw(rt, "changes") {
			var err error
			given := int(s.Collection().Counters().Copy)
			switch what := rapid.IntRange(0, 3).Draw(rt, "what"); {
			case what == 0 && given > 0:
				a := model.Accession(rapid.IntRange(1, given).Draw(rt, "which"))
				if s.Collection().Copy(a) != nil {
					_, err = s.Commit(context.Background(), &model.Remove{Copies: []model.Accession{a}})
				}
			case what == 1 && given > 0:
				if rev, _, e := s.undoable(); e == nil {
					_, err = s.Undo(context.Background())
					undone[len(at)] = int(rev)
				}
			case what == 2 && s.Collection().Copy(1) != nil:
				_, err = s.Commit(context.Background(), &model.Tick{Copies: []model.Accession{1}, Step: model.StepSleeve})
			default:
				_, err = s.Commit(context.Background(), &model.Add{Entries: entries(rapid.IntRange(1, 4).Draw(rt, "entries"))})
			}
			if err != nil {
				rt.Fatal(err)
			}
			if s.Collection() != at[len(at)-1] {
				at = append(at, s.Collection())
			}
		}
		for rev, c := range at {
			want := 0
			for _, cp := range c.Copies().All() {
				if s.Collection().Copy(cp.Accession) == nil {
					want++
				}
			}
			beyond := false
			for by, undid := range undone {
				beyond = beyond || by > rev && undid <= rev
			}
			if got, err := s.Dropped(uint64(rev)); err != nil || got < want || got > want && !beyond {
				rt.Fatalf("since revision %d of %d: %d (%v), want %d", rev, len(at)-1, got, err, want)
			}
		}
	})
}

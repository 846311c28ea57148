package tui_test

import (
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/intake"
)

// A publisher, category or batch that is renamed meanwhile does not come back
// by its old name with the next entry, neither with the one that is being typed
// nor with one that lies aside.
func TestIntakeSaysTheNewNameOfWhatWasRenamed(t *testing.T) {
	p := play(t, intake.ID, wardrobe(), &model.Expect{Batch: "hall draw"})
	p.hit("tab", "tab", "tab", "tab", "tab", "tab", "'hall draw", "enter")
	p.hit("'61", "ctrl+x", "'62")
	p.hit("ctrl+e")
	for _, ch := range []*model.Rename{{Kind: model.NamedPublisher, Old: "Harrow & Pell", New: "Harrow and Pelle"},
		{Kind: model.NamedCategory, Old: "Dresses", New: "Frocks"}, {Kind: model.NamedBatch, Old: "hall draw", New: "hall drawer"}} {
		commit, err := p.store.Store.Commit(t.Context(), ch)
		if err != nil {
			t.Fatal(err)
		}
		p.send(frame.StoreChanged{Commit: commit})
	}
	p.mustShow("Harrow and Pelle", "Frocks")
	p.hit("esc", "enter", "enter", "ctrl+x", "enter", "enter")
	c := p.listed()
	if c.Publishers().Len() != 2 || c.Categories().Len() != 2 || c.Batches().Len() != 1 || c.Copies().Len() != 7 {
		t.Errorf("%d publishers, %d categories, %d batches, %d copies; want 2, 2, 1 and 7\n%s", c.Publishers().Len(), c.Categories().Len(), c.Batches().Len(), c.Copies().Len(), p.root.View())
	}
	for a := model.Accession(6); a <= 7; a++ {
		if en := p.entryOf(a); en.Publisher != "Harrow and Pelle" || en.Category != "Frocks" || en.Batch != "hall drawer" {
			t.Errorf("the entry is %+v, want it by the new names", en)
		}
	}
}

package backup

import (
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"pgregory.net/rapid"
)

// anyChange is a change that a small cupboard may take or refuse.
var anyChange = rapid.Custom(func(t *rapid.T) model.Change {
	part := rapid.OneOf(rapid.SampledFrom([]string{"x", "=1", "é", "日本", "\u202e", "\x1b[31m", "\n", `"`, "\\", "</b>", "👗", " "}), rapid.String())
	text := func(label string) string { return strings.Join(rapid.SliceOfN(part, 0, 3).Draw(t, label), "") }
	which := func() model.Accession { return model.Accession(rapid.IntRange(1, 6).Draw(t, "which")) }
	switch rapid.IntRange(0, 6).Draw(t, "kind") {
	case 0:
		return &model.Remove{Copies: []model.Accession{which()}}
	case 1:
		return &model.TakeOut{Copy: which(), To: text("to"), For: text("for")}
	case 2:
		return &model.Tick{Copies: []model.Accession{which()}, Step: model.StepSleeve}
	case 3:
		return &model.SetShelf{Spec: model.ShelfSpec{
			Settings: model.DefaultSettings(),
			Sections: []model.SectionSpec{{Title: "t" + text("title"), Publishers: []string{"*"}}},
			Boxes:    []model.BoxSpec{{Name: "1", Length: model.MM(rapid.Float64Range(1, 999).Draw(t, "length")), Place: text("place")}, {Name: "b" + text("box"), Length: model.MM(300)}},
			Hooks:    []model.HookSpec{{Name: "door", Hooks: 3, Each: 3}},
		}}
	}
	return &model.Add{From: text("from"), Entries: []model.Entry{{
		Publisher: "p" + text("publisher"), Number: text("number"), Name: "n" + text("name"), Category: text("category"), Notes: text("notes"), Batch: text("batch"),
		Tags: []string{text("tag"), text("tag")}, Thickness: model.Length(rapid.IntRange(0, 9999).Draw(t, "thickness")), Box: rapid.SampledFrom([]string{"", "1"}).Draw(t, "in"),
	}}}
})

// Whatever has happened to a cupboard: it comes back from a backup as the same
// bytes, over whatever is there.
func TestAnyCupboardComesBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir := t.TempDir()
		s, err := storage.Open("", storage.Options{InMemory: true})
		if err != nil {
			rt.Fatal(err)
		}
		defer shut(t, s)
		for range rapid.IntRange(0, 12).Draw(rt, "changes") {
			if _, err := s.Commit(ctx, anyChange.Draw(rt, "change")); err != nil && !model.IsInput(err) {
				rt.Fatal(err)
			}
			if rapid.IntRange(0, 5).Draw(rt, "undo") == 0 {
				_, _ = s.Undo(ctx) // there may be nothing to undo
			}
		}
		file, there := filepath.Join(dir, "cupboard.jsonl"), filepath.Join(dir, "store")
		backup(t, s, file)
		if rapid.IntRange(0, 3).Draw(rt, "there") == 0 {
			old := opened(t, there)
			do(t, old, adding(1))
			shut(t, old)
		}
		restored(t, there, file)
		if got := holds(t, there); got != exported(t, s.Collection()) {
			rt.Fatalf("it came back as\n%s\nit was\n%s", got, exported(t, s.Collection()))
		}
	})
}

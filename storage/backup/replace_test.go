package backup

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// A backup does not take the place of a file that is none, nor of a good one
// that holds more without a cause.
func TestWriteReplacesBackupsOnly(t *testing.T) {
	s := opened(t, t.TempDir())
	do(t, s, adding(3))
	for path, want := range unusable(t) {
		name := strings.TrimSuffix(filepath.Base(path), ".jsonl")
		before, _ := os.ReadFile(path)
		_, err := Write(ctx, path, s, noon("2026-11-25"), NoProgress)
		if name == "cut" || name == "altered" || name == "zeros" || name == "nowhere" || name == "more" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		says(t, err, want)
		if after, _ := os.ReadFile(path); string(after) != string(before) {
			t.Errorf("%s was altered", name)
		}
	}
	file := filepath.Join(t.TempDir(), "cupboard.jsonl")
	backup(t, s, file)
	do(t, s, adding(1))
	backup(t, s, file) // it has gone on
	fresh := opened(t, t.TempDir())
	do(t, fresh, adding(1))
	_, err := Write(ctx, file, fresh, noon("2026-11-25"), NoProgress)
	if !model.IsInput(err) {
		t.Errorf("got %v, want that the better one stays", err)
	}
	says(t, err, "stays as it is", "4 copies as of revision 2", "revision 1 with 1 copy, as after a restore", "name another file")
	if w, err := Read(ctx, file, NoProgress); err != nil || w.Copies != 4 {
		t.Errorf("it now holds %+v (%v)", w, err)
	}
}

// Who keeps two cupboards and one stick does not lose the backup of one by
// backing up the other, however much further on that is.
func TestWriteKeepsTheBackupOfAnotherCupboard(t *testing.T) {
	mine, file := opened(t, t.TempDir()), filepath.Join(t.TempDir(), "cupboard.jsonl")
	do(t, mine, adding(4))
	backup(t, mine, file)
	before, _ := os.ReadFile(file)
	circle := opened(t, t.TempDir())
	for i := range 9 {
		do(t, circle, &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: fmt.Sprint(700 + i), Name: "Gown"}}})
	}
	_, err := Write(ctx, file, circle, noon("2026-11-25"), NoProgress)
	if !model.IsInput(err) {
		t.Errorf("got %v, want that the backup of the other cupboard stays", err)
	}
	says(t, err, "stays as it is", "another cupboard, with 4 copies", "name another file")
	if after, _ := os.ReadFile(file); string(after) != string(before) {
		t.Error("it was written over")
	}
	// What is corrected, merged and passed on meanwhile makes no other cupboard of it.
	do(t, mine, &model.Revise{Entry: model.Entry{Accession: 1, Publisher: "Sorrelade", Number: "9", Name: "Cloak"}},
		&model.Remove{Copies: []model.Accession{3}}, adding(2))
	backup(t, mine, file)
}

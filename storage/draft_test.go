package storage

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

func TestADraftIsKeptUntilTheNext(t *testing.T) {
	dir := t.TempDir()
	for _, o := range []struct {
		name, dir string
		options   Options
	}{{"disk", filepath.Join(dir, "store"), Options{}}, {"memory", "", Options{InMemory: true}}} {
		s, err := Open(o.dir, o.options)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"", `{"a":1}`, `{"b":"ö"}`, ""} {
			if err := s.SaveDraft("draft", []byte(want)); err != nil {
				t.Fatal(err)
			}
			got, err := s.LoadDraft("draft")
			if err != nil || !bytes.Equal(got, []byte(want)) {
				t.Errorf("%s: kept %q, %v; want %q", o.name, got, err, want)
			}
		}
		if err := s.SaveDraft("draft", []byte("x")); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if err := s.SaveDraft("draft", []byte("y")); err != nil { // the store is closed last of all, but a draft needs no database
			t.Errorf("%s: after closing: %v", o.name, err)
		}
	}
	s, err := Open(filepath.Join(dir, "store"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if got, err := s.LoadDraft("draft"); err != nil || string(got) != "y" {
		t.Errorf("after opening again the draft is %q, %v; want y", got, err)
	}
	info, err := os.Stat(filepath.Join(dir, "store", "draft.json"))
	if err != nil {
		t.Fatal(err)
	}
	if got := info.Mode().Perm(); got != 0o600 {
		t.Errorf("the draft has mode %o, want 600: it is for its owner alone", got)
	}
	left, err := filepath.Glob(filepath.Join(dir, "store", "draft.json.*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// Drafts of different names are kept apart, also when one is forgotten.
func TestDraftsAreKeptByName(t *testing.T) {
	for _, s := range []*Store{{dir: t.TempDir()}, {}} {
		for name, text := range map[string]string{"draft": "a", "draft-shelf": "b"} {
			if err := s.SaveDraft(name, []byte(text)); err != nil {
				t.Fatal(err)
			}
		}
		if err := s.SaveDraft("draft", nil); err != nil {
			t.Fatal(err)
		}
		for name, want := range map[string]string{"draft": "", "draft-shelf": "b", "draft-refile": ""} {
			if got, err := s.LoadDraft(name); err != nil || string(got) != want {
				t.Errorf("in %q the draft %q is %q, %v; want %q", s.dir, name, got, err, want)
			}
		}
	}
}

// What a kill left of a draft that was half written does not count.
func TestAHalfWrittenDraftDoesNotCount(t *testing.T) {
	s := &Store{dir: t.TempDir()}
	if err := s.SaveDraft("draft", []byte("whole")); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(s.draftFile("draft")+".new", []byte("a longer one, cut off in the mid"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, err := s.LoadDraft("draft"); err != nil || string(got) != "whole" {
		t.Errorf("the draft is %q, %v; want the whole one", got, err)
	}
	if err := s.SaveDraft("draft", []byte("next")); err != nil {
		t.Fatal(err)
	}
	if got, err := s.LoadDraft("draft"); err != nil || string(got) != "next" {
		t.Errorf("the draft is %q, %v; want the next one", got, err)
	}
}

// A draft that cannot be written leaves the one before as it is.
func TestADraftThatFailsLeavesTheOneBefore(t *testing.T) {
	if os.Geteuid() == 0 {
		// Root may write anywhere, so the folder itself is what is missing.
		s := &Store{dir: filepath.Join(t.TempDir(), "gone")}
		if err := s.SaveDraft("draft", []byte("x")); err == nil {
			t.Error("a draft was kept in a folder that is not there")
		}
		return
	}
	dir := t.TempDir()
	s := &Store{dir: dir}
	if err := s.SaveDraft("draft", []byte("first")); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o700)
	if err := s.SaveDraft("draft", []byte("second")); err == nil {
		t.Error("a draft was kept in a folder that cannot be written to")
	}
	if got, err := s.LoadDraft("draft"); err != nil || string(got) != "first" {
		t.Errorf("the draft is %q, %v; want the first", got, err)
	}
}

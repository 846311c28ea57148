package exchange_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage"
	"pgregory.net/rapid"
)

// Records that are merged, and one that is split, say together all that they
// said, and undone in one step the export has the same bytes as before. Of a
// split the counters alone have gone on: no number is given twice, not even after
// an undo.

// inDemo is a store with the demo cupboard.
func inDemo(t *testing.T) *storage.Store {
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	s := store(t)
	if _, err := s.Fill(context.Background(), c, "the sample"); err != nil {
		t.Fatal(err)
	}
	return s
}

// made commits a change, and undone takes it back.
func made(t *rapid.T, s *storage.Store, ch model.Change) {
	if _, err := s.Commit(context.Background(), ch); err != nil {
		t.Fatalf("%+v: %v", ch, err)
	}
	if err := s.Collection().Check(); err != nil {
		t.Fatalf("%+v: %v", ch, err)
	}
}

func undone(t *rapid.T, s *storage.Store) {
	if _, err := s.Undo(context.Background()); err != nil {
		t.Fatal(err)
	}
}

// texts are all texts and figures that a pattern has, as they stand in an export,
// but for the numbers by which records know each other.
func texts(t *rapid.T, p *model.Pattern) []string {
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var fields map[string]any
	if err := json.Unmarshal(b, &fields); err != nil {
		t.Fatal(err)
	}
	var out []string
	for name, v := range fields {
		if name != "id" && name != "links" && name != "merged" {
			b, err := json.Marshal(map[string]any{name: v})
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, strings.Trim(string(b), "{}"))
		}
	}
	return out
}

// lineOf is the line of the export with a record.
func lineOf(t *rapid.T, export, kind, id string) string {
	for line := range strings.SplitSeq(export, "\n") {
		if strings.HasPrefix(line, fmt.Sprintf(`{"kind":%q,%s`, kind, id)) {
			var all map[string]any
			if err := json.Unmarshal([]byte(line), &all); err != nil {
				t.Fatal(err)
			}
			b, err := json.Marshal(all) // names in the order in which texts has them
			if err != nil {
				t.Fatal(err)
			}
			return string(b)
		}
	}
	t.Fatalf("the export has no %s %s", kind, id)
	return ""
}

func TestMergedAndUndoneTheExportIsTheSame(t *testing.T) {
	s := inDemo(t)
	rapid.Check(t, func(rt *rapid.T) {
		c, before := s.Collection(), jsonl(t, s.Collection())
		ids := slices.Collect(func(yield func(model.PatternID) bool) {
			for id := range c.Patterns().All() {
				if !yield(model.PatternID(id)) {
					return
				}
			}
		})
		any := rapid.SampledFrom(ids)
		keep, gone := any.Draw(rt, "keep"), any.Draw(rt, "gone")
		if keep == gone {
			rt.Skip()
		}
		ch := &model.Merge{Keep: keep, Gone: gone, Take: rapid.SliceOfNDistinct(rapid.SampledFrom(model.Takes()), 0, 4, rapid.ID).Draw(rt, "take")}
		j, err := ch.Look(c)
		if err != nil {
			rt.Fatal(err)
		}
		made(rt, s, ch)
		after := jsonl(t, s.Collection())
		line := lineOf(rt, after, "pattern", fmt.Sprintf(`"id":%d,`, keep))
		for _, p := range []*model.Pattern{c.Pattern(keep), c.Pattern(gone)} {
			for _, text := range texts(rt, p) {
				if !strings.Contains(line, text) {
					rt.Fatalf("%s of %s is lost:\n%s", text, p.Heading(), line)
				}
			}
		}
		now := s.Collection()
		en := now.TitleOf(now.Pattern(keep))
		for _, said := range j.Said {
			f, _ := model.FieldNamed(said.Field)
			if got := f.Get(&en); got != said.Will {
				rt.Fatalf("%s is %q, and was to be %q", said.Field, got, said.Will)
			}
			if slices.Contains(ch.Take, said.Field) && said.Gone != "" && said.Will != said.Gone {
				rt.Fatalf("%s is to be %q, though %q is taken", said.Field, said.Will, said.Gone)
			}
		}
		nothingLost(rt, c, now, gone, keep)
		undone(rt, s)
		if again := jsonl(t, s.Collection()); again != before {
			rt.Fatalf("undone it is\n%s\nit was\n%s", again, before)
		}
	})
}

// nothingLost checks that all copies are as they were but for their pattern, and
// so is all that was made and all that waits to be sewn.
func nothingLost(t *rapid.T, was, is *model.Collection, from, to model.PatternID) {
	moved := func(id model.PatternID) bool { return id == to || id == from }
	for _, cp := range was.Copies().All() {
		x, now := *cp, is.Copy(cp.Accession)
		if now == nil || now.Pattern != x.Pattern && !(x.Pattern == from && moved(now.Pattern)) {
			t.Fatalf("copy %d is lost, or another's", cp.Accession)
		}
		if x.Pattern = now.Pattern; fmt.Sprintf("%+v", x) != fmt.Sprintf("%+v", *now) {
			t.Fatalf("copy %d was %+v and is %+v", cp.Accession, x, *now)
		}
		if a, at := was.Standing(cp.Accession); at {
			if b, stands := is.Standing(cp.Accession); !stands || a != b {
				t.Fatalf("copy %d stood at %v and stands at %v", cp.Accession, a, b)
			}
		}
	}
	for _, k := range was.Makes().All() {
		x, now := *k, is.Makes().Get(uint32(k.ID))
		if now == nil {
			t.Fatalf("what was made as %d is lost", k.ID)
		}
		if x.Pattern = now.Pattern; x != *now {
			t.Fatalf("what was made was %+v and is %+v", *k, *now)
		}
	}
}

func TestSplitAndUndoneTheExportIsTheSame(t *testing.T) {
	s := inDemo(t)
	rapid.Check(t, func(rt *rapid.T) {
		of := rapid.SampledFrom(several(s.Collection())).Draw(rt, "pattern")
		c := s.Collection()
		lines := func() []string { // but for the counters, and what the last line says of them
			all := strings.Split(jsonl(t, s.Collection()), "\n")
			return all[1 : len(all)-2]
		}
		before := lines()
		ch := &model.SplitPattern{}
		for _, cp := range c.Copies().All() {
			if cp.Pattern == of.ID && (len(ch.Copies) == 0 || rapid.Bool().Draw(rt, "goes")) {
				ch.Copies = append(ch.Copies, cp.Accession)
			}
		}
		if all := copiesOf(c, of.ID); len(ch.Copies) == all {
			ch.Copies = ch.Copies[1:]
		}
		for _, k := range c.Makes().All() {
			if k.Pattern == of.ID && rapid.Bool().Draw(rt, "made of it") {
				ch.Makes = append(ch.Makes, k.ID)
			}
		}
		if rapid.Bool().Draw(rt, "it differs") {
			en := c.TitleOf(of)
			en.Number, en.Year = rapid.StringMatching(`[1-9][0-9]{3}`).Draw(rt, "number"), 1974
			ch.Says = &en
		}
		made(rt, s, ch)
		now := s.Collection()
		fresh := *now.PatternOf(ch.Copies[0])
		if ch.Says != nil && (fresh.Number != ch.Says.Number || fresh.Year != 1974) {
			rt.Fatalf("it says %+v", fresh)
		}
		if got := now.Pattern(of.ID); fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", of) {
			rt.Fatalf("the one that stays says %+v, it said %+v", got, of)
		}
		for _, id := range ch.Makes {
			if now.Makes().Get(uint32(id)).Pattern != fresh.ID {
				rt.Fatalf("what was made as %d has not gone over", id)
			}
		}
		nothingLost(rt, c, now, of.ID, fresh.ID)
		undone(rt, s)
		if again := lines(); !slices.Equal(again, before) {
			rt.Fatalf("undone it is\n%s\nit was\n%s", strings.Join(again, "\n"), strings.Join(before, "\n"))
		}
	})
}

func copiesOf(c *model.Collection, id model.PatternID) (n int) {
	for _, cp := range c.Copies().All() {
		if cp.Pattern == id {
			n++
		}
	}
	return n
}

// several lists the patterns that have several copies.
func several(c *model.Collection) (out []*model.Pattern) {
	for _, p := range c.Patterns().All() {
		if copiesOf(c, p.ID) > 1 {
			out = append(out, p)
		}
	}
	return out
}

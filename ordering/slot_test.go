package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// checkSlot compares what is said of a copy with the rows as recorded.
func checkSlot(t failer, l *ordering.Layout, a model.Accession) {
	t.Helper()
	c, s := l.Collection(), l.Slot(a)
	cp := c.Copy(a)
	for _, b := range c.Shelf().Boxes {
		row := c.Row(b.ID)
		i := slices.Index(row, a)
		if i < 0 {
			continue
		}
		if want := measured(l, b.ID, i); s.Box.ID != b.ID || s.Position != i+1 || s.FromFront != want {
			t.Fatalf("copy %d: box %q place %d %v from the front, want %q %d %v", a, s.Box.Name, s.Position, s.FromFront, b.Name, i+1, want)
		}
		if of(s.Behind) != neighbour(row, i-1) || of(s.Before) != neighbour(row, i+1) {
			t.Fatalf("copy %d: behind %d and before %d, but the row is %v", a, of(s.Behind), of(s.Before), row)
		}
		if want := ordering.InBox; cp.Out == nil && s.Kind != want || cp.Out != nil && s.Kind != ordering.IsOut {
			t.Fatalf("copy %d: kind %q in a box, out %v", a, s.Kind, cp.Out)
		}
		if s.Holding == nil || !slices.Equal(s.Holding.Contents(), row) || s.Holding.Load != measured(l, b.ID, len(row)) {
			t.Fatalf("copy %d: the box holds %+v, want %v", a, s.Holding, row)
		}
		return
	}
	want := ordering.OnPile
	switch {
	case cp == nil:
	case cp.Out != nil:
		want = ordering.IsOut
	case cp.Missing != "":
		want = ordering.Lost
	case cp.Hook.Row != 0:
		want = ordering.OnHook
	}
	if s.Kind != want || s.Box.ID != 0 || s.Holding != nil {
		t.Fatalf("copy %d stands in no box: kind %q in box %q, want %q", a, s.Kind, s.Box.Name, want)
	}
}

// measured is how far it is to the front of an envelope in a box as it stands:
// all before it, and the cards, which checkStanding holds to what they should be.
func measured(l *ordering.Layout, box model.BoxID, index int) model.Length {
	c, mm := l.Collection(), model.Length(0)
	for i, p := range l.StandingIn(box).Items {
		if i <= index {
			mm += model.Length(len(p.Cards)) * c.Shelf().Settings.Divider
		}
		if i < index {
			mm += c.Shelf().Takes(c.Copy(c.Row(box)[i]))
		}
	}
	return mm
}

func TestSlotIsWhereACopyStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 8, drawShelf(t, 3, mixed, true))
		c = do(t, c, drawStands(t, c))
		for range rapid.IntRange(0, 3).Draw(t, "changes") {
			if next, _, err := c.Apply(drawChange(t, c), day); err == nil {
				c = next
			}
		}
		l := ordering.Arrange(c)
		checkStanding(t, l)
		for a := range c.Counters().Copy + 2 {
			checkSlot(t, l, a)
		}
		all := l.Standing()
		if len(all) != len(c.Shelf().Boxes) {
			t.Fatalf("%d boxes stand, the shelf has %d", len(all), len(c.Shelf().Boxes))
		}
		for i, b := range c.Shelf().Boxes {
			one := l.StandingIn(b.ID)
			if !slices.Equal(all[i].Contents(), c.Row(b.ID)) || !slices.Equal(one.Contents(), c.Row(b.ID)) {
				t.Fatalf("box %q holds %v, alone %v, recorded is %v", b.Name, all[i].Contents(), one.Contents(), c.Row(b.ID))
			}
			if !slices.Equal(one.Cards(), all[i].Cards()) || one.Load != all[i].Load || one.Load != measured(l, b.ID, len(c.Row(b.ID))) {
				t.Fatalf("box %q: cards %v and load %v alone, %v and %v among all", b.Name, one.Cards(), one.Load, all[i].Cards(), all[i].Load)
			}
		}
	})
}

// standingBeside gives the nearest in filing order that stand in a box, on
// either side of a copy.
func standingBeside(l *ordering.Layout, a model.Accession) (behind, before model.Accession) {
	row := accessions(l.Row())
	at := slices.Index(row, a)
	stands := func(a model.Accession) bool { _, ok := l.Collection().Standing(a); return ok }
	for i := at - 1; i >= 0 && behind == 0; i-- {
		if stands(row[i]) {
			behind = row[i]
		}
	}
	for i := at + 1; i < len(row) && before == 0; i++ {
		if stands(row[i]) {
			before = row[i]
		}
	}
	return behind, before
}

// inBox tells which box a copy stands in, 0 for none.
func inBox(c *model.Collection, a model.Accession) model.BoxID {
	spot, _ := c.Standing(a)
	return spot.Box
}

// The gap shown for an entry is where it comes to stand when it is entered and
// put there.
func TestGapForIsWhereTheCopyComesToStand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 8, drawShelf(t, 3, roomy, false))
		c = do(t, c, drawStands(t, c))
		tidy := rapid.Bool().Draw(t, "tidy")
		if tidy {
			m := ordering.Arrange(c).Refile()
			c = do(t, c, m.Done(), &model.Add{Entries: []model.Entry{drawEntry(t), drawEntry(t)}}) // and some on the pile
		}
		en := drawEntry(t)
		en.Publisher, en.Medium, en.Home = rapid.SampledFrom(houses).Draw(t, "publisher"), "", ""
		l := ordering.Arrange(c)
		g := l.GapFor(en.Publisher, &model.Pattern{Number: en.Number, Name: en.Name, SizeRange: en.SizeRange, Year: en.Year, Tags: en.Tags})

		entered := do(t, c, &model.Add{Entries: []model.Entry{en}})
		a := entered.Counters().Copy
		behind, before := standingBeside(ordering.Arrange(entered), a)
		if behind == 0 && before == 0 {
			if g.Holding != nil || g.Behind != nil || g.Before != nil {
				t.Fatalf("nothing stands that it could stand by, but the gap is %+v", g)
			}
			return
		}
		box := g.Holding.Box
		if box.ID != inBox(c, behind) && box.ID != inBox(c, before) {
			t.Fatalf("the gap is in box %q, its neighbours %d and %d are not", box.Name, behind, before)
		}
		if tidy { // where the boxes are in order, both neighbours are the nearest
			for _, n := range []struct{ got, want model.Accession }{{of(g.Behind), behind}, {of(g.Before), before}} {
				if inBox(c, n.want) != box.ID {
					n.want = 0 // it stands in another box: the gap is at an end of this
				}
				if n.got != n.want {
					t.Fatalf("the gap is beside %d, want %d, in box %q %v", n.got, n.want, box.Name, c.Row(box.ID))
				}
			}
		} else if of(g.Behind) != behind && of(g.Before) != before {
			t.Fatalf("the gap is between %d and %d, the nearest that stand are %d and %d", of(g.Behind), of(g.Before), behind, before)
		}
		checkGap(t, entered, a, g, tidy)
	})
}

// checkGap stands a copy in the gap and compares with its slot.
func checkGap(t failer, c *model.Collection, a model.Accession, g ordering.Gap, tidy bool) {
	t.Helper()
	row := c.Row(g.Holding.Box.ID)
	i := 0
	if g.Behind != nil {
		i = slices.Index(row, g.Behind.Copy) + 1
	}
	put := do(t, c, &model.Stand{Rows: []model.NamedRow{{Box: g.Holding.Box.Name, Copies: slices.Insert(slices.Clone(row), i, a)}}})
	l := ordering.Arrange(put)
	s := l.Slot(a)
	if of(s.Behind) != of(g.Behind) || of(s.Before) != of(g.Before) || s.Section != g.Section {
		t.Fatalf("put there it is behind %d, before %d, in %q; the gap said %d, %d, %q",
			of(s.Behind), of(s.Before), s.Section, of(g.Behind), of(g.Before), g.Section)
	}
	// Where it stands in order and no card is due that was not, it stands as far
	// from the front as the gap said.
	was := ordering.Arrange(c).StandingIn(g.Holding.Box.ID)
	if same := slices.Equal(cardsAround(&was, 0), cardsAround(s.Holding, a)); tidy && same && s.FromFront != g.FromFront {
		t.Fatalf("put there it is %v from the front, the gap said %v, with cards %v", s.FromFront, g.FromFront, s.Holding.Cards())
	}
	// In any case it is where the two are parted, but for cards of its own.
	least, most := model.Length(0), was.Load
	if i > 0 {
		least = was.Items[i-1].Front + was.Items[i-1].Thickness
	}
	if i < len(row) {
		most = was.Items[i].Front
	}
	if most += 2 * c.Shelf().Settings.Divider; g.FromFront < least || g.FromFront > most {
		t.Fatalf("the gap is %v from the front, and the two that it parts at %v and %v", g.FromFront, least, most)
	}
}

// cardsAround is the cards and copies of a box in turn, without a copy and
// without the section card that it is the first to need. Of what is at a head
// it says only that there is something.
func cardsAround(h *ordering.Holding, a model.Accession) []string {
	var out []string
	for i, p := range h.Items {
		for k, card := range p.Cards {
			last := i+1 == len(h.Items) || sectionOrNone(h, i+1) != p.Section
			if alone := last && (i == 0 || sectionOrNone(h, i-1) != p.Section); p.Copy == a && alone && card.Kind == ordering.SectionCard {
				continue
			}
			if i == 0 && k == 0 {
				out = append(out, "head")
				continue
			}
			out = append(out, string(card.Kind)+" "+card.Text)
		}
		if p.Copy != a {
			out = append(out, fmt.Sprint(p.Copy))
		}
	}
	return out
}

func sectionOrNone(h *ordering.Holding, i int) int {
	if i < 0 || i >= len(h.Items) {
		return -1
	}
	return h.Items[i].Section
}

func TestSlotInWords(t *testing.T) {
	c := fourBoxes(t)
	hooks := c.ShelfSpec()
	hooks.Hooks = []model.HookSpec{{Name: "door", Hooks: 4, Each: 3}}
	c = do(t, c, &model.SetShelf{Spec: hooks}, &model.Add{Entries: []model.Entry{entry("Quillon", "500", 5)}},
		&model.Hang{Copy: 1, Hook: "door 3"}, &model.TakeOut{Copy: 6, To: "Ida"}, &model.TakeOut{Copy: 1}, &model.Stand{Missing: []model.Accession{10}})
	l := ordering.Arrange(c)
	for a, want := range map[model.Accession]string{
		2:  "box 1, place 1, 0 mm from the front, before 103",
		5:  "box 2, place 1, 0 mm from the front, before 106",
		6:  "out since 2026-03-01, with Ida, box 2, place 2, 10 mm from the front, behind 105, before 107",
		17: "on the to-file pile",
		1:  "out since 2026-03-01, its place is hook door 3",
		10: "not found on 2026-03-01",
	} {
		if got := l.Slot(a).Text(); got != want {
			t.Errorf("copy %d: %q, want %q", a, got, want)
		}
	}
}

// A publisher that is not on the list yet files behind the one that is filed
// under the same name.
func TestGapForANewPublisherFiledAsAnotherIs(t *testing.T) {
	shelf := bareShelf(380)
	shelf.Publishers = []model.PublisherSpec{{Name: "Quillon", FilesAs: "Tallowby"}}
	first := entry("Quillon", "900", 5)
	first.Box = "1"
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, &model.Add{Entries: []model.Entry{first}})
	g := ordering.Arrange(c).GapFor("Tallowby", &model.Pattern{Number: "1"})
	if of(g.Behind) != 1 || g.Before != nil || g.FromFront != model.MM(5) {
		t.Errorf("the gap is behind %d and before %d, %v from the front, want behind copy 1", of(g.Behind), of(g.Before), g.FromFront)
	}
	c = do(t, c, &model.Add{Entries: []model.Entry{entry("Tallowby", "1", 5)}})
	checkGap(t, c, 2, g, true)
}

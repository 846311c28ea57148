package reading_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/reading"
)

func threeBoxes(t failer) *model.Collection {
	spec := model.ShelfSpec{Settings: model.DefaultSettings()}
	for _, n := range []string{"1", "2", "3"} {
		spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: n, Length: model.MM(400)})
	}
	add := &model.Add{}
	for i := range 9 {
		en := entry(fmt.Sprint(100 + i))
		en.Box = fmt.Sprint(1 + i/3)
		add.Entries = append(add.Entries, en)
	}
	return do(t, model.NewCollection(), &model.SetShelf{Spec: spec}, add)
}

func stock(t failer, c *model.Collection, text string) *reading.Stocktake {
	walks, err := reading.Walks(c.Shelf(), strings.Split(text, "\n"))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return reading.TakeStock(ordering.Arrange(c), walks)
}

// What one box lacks and another has is moved and not missing; what none has is;
// a box that was not read says nothing of what is in it.
func TestStocktake(t *testing.T) {
	c := threeBoxes(t)
	s := stock(t, c, "\nbox 1:\n100\n105\n102\n\nBOX 2:\n103\nno such thing\n\n")
	got := fmt.Sprintf("%v %d %d %s %s %v %s %d", s.Missing, len(s.Moved), s.Moved[0].Copy, s.Moved[0].From.Name, s.Moved[0].To.Name, s.Twice, s.Unread[0].Name, len(s.Unlisted()))
	if want := "[2 5] 1 6 2 1 [] 3 1"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	ch, err := s.Record()
	if err != nil {
		t.Fatal(err)
	}
	next := do(t, c, ch)
	if got := fmt.Sprint(next.Row(1), next.Row(2), next.Row(3)); got != "[1 6 3] [4] [7 8 9]" || next.Copy(2).Missing == "" || next.Copy(6).Missing != "" {
		t.Errorf("recorded are %s, want the rows as found", got)
	}
	if _, err := stock(t, c, "box 1:\n#100\nbox 2:\n#1\nbox 3:\n#1").Record(); err == nil || !strings.Contains(err.Error(), "#1 was read in two boxes") {
		t.Errorf("a copy in two boxes gives %v", err)
	}
	for text, want := range map[string]string{"100": "before any box", "box 9:\n1": `there is no box "9"`, "box 1:\nbox 1:": "comes twice", "": "no box was read"} {
		if _, err := reading.Walks(c.Shelf(), strings.Split(text, "\n")); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, want %q", text, err, want)
		}
	}
}

// However what stands in the boxes is strewn over them, and whatever is taken
// away: a stocktake by accession numbers finds just what is gone, and recording
// it makes the list say what was read.
func TestStocktakeFindsWhatIsGone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := threeBoxes(t)
		all := []model.Accession{1, 2, 3, 4, 5, 6, 7, 8, 9}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		gone := rapid.IntRange(0, 4).Draw(t, "gone")
		rows, text := make([][]model.Accession, 3), ""
		for _, a := range all[gone:] {
			b := rapid.IntRange(0, 2).Draw(t, "box")
			rows[b] = append(rows[b], a)
		}
		for i, row := range rows {
			text += fmt.Sprintf("box %d:\n", i+1)
			for _, a := range row {
				text += fmt.Sprintf("#%d\n", a)
			}
			if len(row) == 0 {
				text += "-\n" // looked into, and empty
			}
		}
		s := stock(t, c, text)
		want := slices.Sorted(slices.Values(all[:gone]))
		if got := slices.Sorted(slices.Values(s.Missing)); !slices.Equal(got, want) || len(s.Twice)+len(s.Unread)+len(s.Unlisted()) > 0 {
			t.Fatalf("missing are %v, want %v; twice %v, unread %v", got, want, s.Twice, s.Unread)
		}
		ch, err := s.Record()
		if err != nil {
			t.Fatal(err)
		}
		if ch == nil {
			return
		}
		next := do(t, c, ch)
		for i, row := range rows {
			if !slices.Equal(next.Row(model.BoxID(i+1)), row) {
				t.Fatalf("box %d is recorded as %v, want %v", i+1, next.Row(model.BoxID(i+1)), row)
			}
		}
	})
}

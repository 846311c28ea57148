package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

func oversizeText(l *ordering.Layout) (out []string) {
	for _, h := range l.Oversize() {
		text := fmt.Sprintf("%s %s of %s:", h.Box.Name, h.Load, h.Usable)
		if h.New {
			text = "new " + text
		}
		for _, x := range h.Things {
			text += fmt.Sprintf(" %s %v", x.Title, x.Copies)
		}
		out = append(out, text)
	}
	return out
}

// What is oversize lies in its own boxes in filing order and spills like any
// other; in the row stands a dummy, as thick as a divider. A magazine kept whole
// is one thing; a style that was traced out of it is in its envelope.
func TestOversize(t *testing.T) {
	shelf := bareShelf(100)
	shelf.Settings.Divider = model.MM(0.5)
	shelf.Oversize = []model.BoxSpec{{Name: "folios", Length: model.MM(30)}}
	shelf.Publishers = []model.PublisherSpec{{Name: "Ombrévaux", Numbers: model.Issue}}
	put := func(publisher, number string, mm float64, medium model.Medium, home model.Home) model.Entry {
		en := entry(publisher, number, mm)
		en.Medium, en.Home = medium, home
		return en
	}
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, &model.Add{Entries: []model.Entry{
		put("Ombrévaux", "04/2019 112", 8, model.Magazine, ""),
		put("Quillon", "30", 25, "", model.HomeOversize),
		put("Ombrévaux", "04/2019 101", 6, model.Magazine, ""),
		put("Ombrévaux", "04/2019 105", 4, model.Traced, model.HomeBox),
		put("Ombrévaux", "05/2019 101", 7, model.Magazine, model.HomeBox),
		put("Quillon", "9", 12, "", model.HomeOversize),
	}})
	l := ordering.Arrange(c)
	want := []string{"folios 20 mm of 30 mm: Ombrévaux 2019/4 [3 1] Quillon 9 [6]", "new  25 mm of 30 mm: Quillon 30 [2]"}
	if got := oversizeText(l); !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	var row []string
	for _, it := range l.Row() {
		row = append(row, fmt.Sprintf("%d %s", it.Copy, it.Thickness))
	}
	if want := []string{"3 0.5 mm", "4 4 mm", "1 0.5 mm", "5 7 mm", "6 0.5 mm", "2 0.5 mm"}; !slices.Equal(row, want) {
		t.Errorf("in the row stand %q, want %q", row, want)
	}
	c = do(t, c, &model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: accessions(l.Row()[:5])}}})
	l = ordering.Arrange(c)
	for a, want := range map[model.Accession]string{
		1: "in box folios; its dummy in box 1, place 3, 5 mm from the front, behind 04/2019 105, before 05/2019 101",
		2: "in a new box for what is oversize; its dummy is on the to-file pile",
		4: "box 1, place 2, 1 mm from the front, behind 04/2019 101, before 04/2019 112",
	} {
		if got := l.Slot(a).Text(); got != want {
			t.Errorf("copy %d is %q, want %q", a, got, want)
		}
	}
	for a, want := range map[model.Accession]model.Step{1: model.StepSleeve, 2: model.StepSleeve} {
		if got := c.StepOf(c.Copy(a)); got != want {
			t.Errorf("copy %d is at the step %s, want %s", a, got, want)
		}
	}
	c = do(t, c, &model.Tick{Copies: []model.Accession{1, 2}, Step: model.StepSleeve})
	if a, b := c.StepOf(c.Copy(1)), c.StepOf(c.Copy(2)); a != model.Filed || b != model.StepBox {
		t.Errorf("with its dummy in the box the one is at %s, with none the other at %s: it needs no envelope", a, b)
	}
}

// Whatever lies apart does so once, in filing order, and no box is overfull but
// for one thing alone.
func TestOversizeProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawShelf(t, 2, roomy, false)
		for i := range rapid.IntRange(0, 3).Draw(t, "oversize boxes") {
			spec.Oversize = append(spec.Oversize, model.BoxSpec{Name: fmt.Sprint("o", i), Length: model.MM(float64(rapid.IntRange(1, 20).Draw(t, "length")))})
		}
		c := drawCollection(t, 25, spec)
		l := ordering.Arrange(c)
		var lie []model.Accession
		for _, h := range l.Oversize() {
			if h.Load > h.Usable && len(h.Things) > 1 || h.New && len(h.Things) == 0 {
				t.Fatalf("box %q takes %s of %s with %d things, new %v", h.Box.Name, h.Load, h.Usable, len(h.Things), h.New)
			}
			for _, x := range h.Things {
				lie = append(lie, x.Copies...)
			}
		}
		var want []model.Accession
		for _, it := range l.Row() {
			if c.Shelf().LiesApart(c.Copy(it.Copy)) {
				want = append(want, it.Copy)
				if it.Thickness > c.Shelf().Settings.Divider && it.Thickness != 1 {
					t.Fatalf("the dummy of copy %d is %s thick", it.Copy, it.Thickness)
				}
			}
		}
		if !slices.Equal(lie, want) {
			t.Fatalf("oversize lie %v, want %v", lie, want)
		}
	})
}

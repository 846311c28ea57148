package tui_test

import (
	"fmt"
	"testing"

	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/tui/collection"
)

// Packing is the model's: each load with what it weighs, in which order it is packed
// and unpacked, local rules first.
func TestPackingAsThePlanHasIt(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab", "tab", "tab", "tab")
	m := moving.List(ordering.Arrange(p.listed()))
	for i, x := range m.Loads {
		p.mustShow("Local rules and qualified advice on lifting come first")
		line := fmt.Sprintf("%d %d %d", len(m.Loads)-i, i+1, x.Items)
		if x.Length > 0 {
			line += " " + p.theme.Length(x.Length) + " " + moving.Kilograms(x.Low, x.High)
		}
		p.mustList(line)
		p.keys("down")
	}
	p.mustList(fmt.Sprintf("in all %d %s", m.Copies, moving.Kilograms(m.Low, m.High)))
	p.keys("up", "pgup", "pgdown", "home", "end")
}

// Each hook is listed with what hangs on it or as free, and what lies apart with its
// dummy; one key leads to the slot.
func TestHooksAndWhatLiesApart(t *testing.T) {
	p := demo(t, collection.ID)
	p.size(80, 70)
	p.keys("shift+tab", "shift+tab")
	l := ordering.Arrange(p.listed())
	free := 0
	for _, h := range l.Hooks() {
		if len(h.Items) == 0 {
			free++
			p.mustList(h.Name() + " free")
		}
		for _, it := range h.Items {
			p.mustShow(h.Name() + "  " + p.listed().Publisher(it.Pattern.Publisher).Name)
		}
	}
	p.mustShow(fmt.Sprintf("12 hooks for 3 each, %d free", free), "a dummy stands in its place for each")
	for _, h := range l.Oversize() {
		for _, x := range h.Things {
			if s := l.Slot(x.Copies[0]); s.Box.ID != 0 {
				p.mustShow(fmt.Sprintf("dummy box %s, place %d", s.Box.Name, s.Position))
			} else {
				p.mustShow("dummy waits to be filed")
			}
		}
	}
	p.keys("end", "home", "pgdown", "pgup", "down", "up", "'f")
	p.mustShow("tuckrow: Find")
}

// A batch gets another name, and is dropped in one step: its copies stay.
func TestABatchIsRenamedAndDropped(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab", "tab", "home", "'r", "ctrl+u", "'bag from the attic", "enter")
	p.mustShow("cannot be called")
	p.keys("esc", "ctrl+u", "'top shelf", "enter")
	p.mustList("top shelf 2025-03-08 147")
	p.keys("'r", "enter", "'d")
	p.mustShow("its 147 copies stay listed where they are, and belong to no batch then")
	all, n := p.listed().Copies().Len(), p.listed().Batches().Len()
	p.keys("enter")
	if p.listed().Batches().Len() != n {
		t.Fatal("it is dropped though nobody said so")
	}
	p.keys("'d", "'y", "enter")
	if p.listed().Batches().Len() != n-1 || p.listed().Copies().Len() != all {
		t.Errorf("%d batches and %d copies are left", p.listed().Batches().Len(), p.listed().Copies().Len())
	}
	p.mustNotShow("top shelf  ")
	p.keys("ctrl+z")
	p.mustList("top shelf 2025-03-08 147")
	p.keys("'d", "space", "esc")
}

// What was found out makes a pattern of the bin one like any other.
func TestWhatIsFoundOutLeavesTheBin(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab", "tab", "end")
	bin := identify.Bin(p.listed())
	u := bin[len(bin)-1]
	p.mustShow("enter: what was found out")
	p.keys("enter", "ctrl+u", "enter")
	p.mustShow("say who issued it")
	p.keys("esc", "'Quil", "right", "tab", "'Q999", "tab", "ctrl+u", "'Child's coat", "tab", "'Chil", "right", "tab", "tab", "'soon", "enter")
	p.mustShow("soon")
	p.keys("esc", "ctrl+u", "'1911", "tab", "'copyright line", "enter")
	now := p.listed().Pattern(u.ID)
	if p.listed().Publisher(now.Publisher).Name != "Quillon" || now.Number != "Q999" || now.Year != 1911 || now.DatedBy != "copyright line" || len(now.Tags) != len(u.Tags)-1 {
		t.Errorf("it is %+v", now)
	}
	if len(identify.Bin(p.listed())) != len(bin)-1 {
		t.Error("it is in the bin still")
	}
	l := ordering.Arrange(p.listed())
	if g := l.GapFor("Quillon", now); g.Holding == nil {
		t.Error("it has no slot among those of Quillon")
	}
}

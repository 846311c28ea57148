package tui_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/refile"
)

func TestRefileFailingStore(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "Overview")
	p.store.fail = nil
	p.keys("enter")
	p.mustShow("0 of 2 pulled")
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "0 of 2 pulled", "500 Cape")
	p.keys("'n")
	p.mustShow("the disk is gone", "0 of 2 pulled", "500 Cape")
	p.mustNotShow("noted as not found")
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 6}, "8": {4, 5}})
	p.store.fail = nil
	p.keys("enter", "enter", "enter", "enter", "enter", "enter")
	p.mustShow("everything stands where it belongs")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7, 3}, "8": {4, 8, 5, 6}})
}

// hold sends keys and keeps back what they have run, so that writes queue up.
func (p *player) hold(names ...string) (held []tea.Cmd) {
	for _, name := range names {
		_, cmd := p.root.Update(tea.KeyMsg{Type: map[string]tea.KeyType{"enter": tea.KeyEnter, "ctrl+z": tea.KeyCtrlZ}[name]})
		held = append(held, cmd)
	}
	return held
}

func (p *player) release(held []tea.Cmd) {
	for _, cmd := range held {
		p.run(cmd)
	}
}

// A tick says all that stands in its box. When the tick before it is undone
// while both are still on their way, it must not bring that back.
func TestRefileTicksThatQueueUp(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter")
	held := p.hold("enter", "enter")
	p.mustShow("0 of 4 put in") // the screen does not wait
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 6}, "8": {4, 5}})
	p.release(held)
	p.mustStand(map[string][]model.Accession{"7": {1, 2}, "8": {4, 5}})

	p = play(t, refile.ID, afterABatch()...)
	p.keys("enter")
	p.release(p.hold("enter", "ctrl+z", "enter"))
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2}, "8": {4, 5}})
	p.mustShow("1 of 2 pulled", "500 Cape")

	p = play(t, refile.ID, afterABatch()...)
	p.keys("enter", "enter", "enter")
	p.release(p.hold("enter", "ctrl+z", "enter")) // 250 put in and taken back, 500 put in
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 3}, "8": {4, 5}})
	p.mustShow("1 of 4 put in", "250 Hood", "before 500 Cape")
}

func TestRefileFailureInTheQueue(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter")
	held := p.hold("enter", "enter")
	p.store.fail = errDisk
	landed := held[0]() // the first write fails, the second is made when that is known
	p.store.fail = nil
	p.send(landed)
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2}, "8": {4, 5}})
	p.mustShow("1 of 2 pulled", "500 Cape")
	p.keys("enter", "enter", "enter", "enter", "enter")
	p.mustShow("everything stands where it belongs")
}

// All that is ticked is written when the program is quit at once.
func TestRefileQuitWithTicksOnTheirWay(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter")
	p.hold("enter", "enter", "enter")
	if err := p.root.Drain(t.Context()); err != nil {
		t.Fatal(err)
	}
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7}, "8": {4, 5}})
}

// Whatever keys are pressed, and however often the program ends, a key records
// at most the one envelope that the screen named; and in the end everything
// stands as planned.
func TestRefileAnyKeys(t *testing.T) {
	byChance(t)
	rapid.Check(t, func(r *rapid.T) {
		store, err := storage.Open("", storage.Options{InMemory: true})
		if err != nil {
			r.Fatal(err)
		}
		defer func() { // not at the end of the test: there are many
			if err := store.Close(); err != nil {
				r.Error(err)
			}
		}()
		n := rapid.IntRange(1, 14).Draw(r, "envelopes")
		for _, ch := range anyCupboard(r, n) {
			if _, err := store.Commit(t.Context(), ch); err != nil {
				r.Fatal(err)
			}
		}
		p := playOn(t, refile.ID, store)
		mine := 0 // changes of the walk that can be taken back
		for range rapid.IntRange(0, 40).Draw(r, "keys") {
			was, view := p.listed(), p.root.View()
			k := rapid.SampledFrom([]string{"enter", "enter", "enter", "enter", "' ", "'s", "'n", "up", "down", "tab", "shift+tab", "esc", "ctrl+z", "reopen"}).Draw(r, "key")
			switch {
			case k == "reopen":
				p = playOn(t, refile.ID, p.store.Store)
			case k != "ctrl+z":
				p.keys(k)
				mine += int(p.listed().Rev() - was.Rev())
			case mine > 0:
				p.keys(k)
				mine--
			}
			moved := differing(was, p.listed())
			ticks := k == "enter" || k == "' " || k == "'n"
			if len(moved) > 1 || len(moved) == 1 && k != "ctrl+z" && (!ticks || !strings.Contains(view, was.PatternOf(moved[0]).Heading())) {
				r.Fatalf("%q moved %v\n%s\nthen\n%s", k, moved, view, p.root.View())
			}
			if err := p.listed().Check(); err != nil {
				r.Fatal(err)
			}
		}
		p = playOn(t, refile.ID, p.store.Store)
		want := planned(p.listed())
		for range 4*n + 10 {
			if p.shows("everything stands where it belongs") && !p.shows("enter note it as done") {
				break
			}
			p.keys("enter")
		}
		if got := p.rows(); !same(got, want) || len(p.listed().Walls().Firsts) > 0 {
			r.Fatalf("in the end there stand %v, want %v, with no walls decided\n%s", got, want, p.root.View())
		}
	})
}

// anyCupboard fills two boxes in any order and leaves some on the pile.
func anyCupboard(r *rapid.T, n int) []model.Change {
	changes := []model.Change{twoBoxes()}
	rows := []model.NamedRow{{Box: "7"}, {Box: "8"}}
	for i := range n {
		publisher := rapid.SampledFrom([]string{"Quillon", "Harrow & Pell"}).Draw(r, "publisher")
		changes = append(changes, add(publisher, fmt.Sprint(1000+rapid.IntRange(0, 30).Draw(r, "number")), fmt.Sprintf("Dress %c", 'A'+i), "", 0))
		if where := rapid.IntRange(0, 2).Draw(r, "where"); where < len(rows) {
			row := &rows[where].Copies
			*row = slices.Insert(*row, rapid.IntRange(0, len(*row)).Draw(r, "at"), model.Accession(i+1))
		}
	}
	return append(changes, &model.Stand{Rows: rows})
}

// differing lists the copies that do not stand in the same box in both.
func differing(a, b *model.Collection) []model.Accession {
	var out []model.Accession
	for id := range max(a.Counters().Copy, b.Counters().Copy) { // from 0 on
		x, xOK := a.Standing(id + 1)
		y, yOK := b.Standing(id + 1)
		if xOK != yOK || x.Box != y.Box {
			out = append(out, id+1)
		}
	}
	return out
}

package main

import (
	"fmt"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
)

// demoReport says in some fifty lines what the cupboard holds and what is to
// be done next.
func (a *app) demoReport(l *ordering.Layout) error {
	c := l.Collection()
	a.printf("a cupboard of invented patterns: the wardrobe of a small village theatre.\n"+
		"%d patterns of %d publishers, %s.\n", c.Patterns().Len(), c.Publishers().Len(), copies(c.Copies().Len()))
	for _, part := range []func(*ordering.Layout) error{a.demoSteps, a.demoBoxes, a.demoOut, a.demoWaiting, a.demoRefile, a.demoSplit} {
		a.printf("\n")
		if err := part(l); err != nil {
			return err
		}
	}
	return nil
}

// demoSteps says how far the filing is.
func (a *app) demoSteps(l *ordering.Layout) error {
	n := l.Collection().Steps()
	a.printf("how far the filing is:\n")
	return columns(a.out, [][]string{
		{"  sleeve", strconv.Itoa(n[model.StepSleeve]), "the sleeve is to go into its binder"},
		{"  envelope", strconv.Itoa(n[model.StepEnvelope]), "to be put into a labelled envelope"},
		{"  group", strconv.Itoa(n[model.StepGroup]), "to be sorted to its publisher"},
		{"  box", strconv.Itoa(n[model.StepBox]), "to be put into its box, or on its hook"},
		{"  done", strconv.Itoa(n[model.Filed]), "in its place, and its sleeve dealt with"},
	})
}

// demoBoxes says what stands where.
func (a *app) demoBoxes(l *ordering.Layout) error {
	c := l.Collection()
	a.printf("what stands where:\n")
	rows := [][]string{{"  box", "envelopes", "filled", "free", "label"}}
	for _, h := range l.Standing() {
		rows = append(rows, []string{"  " + h.Box.Name, strconv.Itoa(len(h.Items)), h.Load.Whole(), h.Free().Whole(), l.Label(&h)})
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	hung := map[model.HookRowID]int{}
	for _, cp := range c.Copies().All() {
		hung[cp.Hook.Row]++
	}
	for _, row := range c.Shelf().Hooks {
		a.printf("  hooks %q: %d on %d hooks for %d each\n", row.Name, hung[row.ID], row.Hooks, row.Each)
	}
	pockets, used, lines := 0, 0, 0
	for _, b := range l.Binders() {
		used += b.Used()
		if !b.New {
			pockets += b.Binder.Pockets
		}
		for _, p := range b.Pockets {
			if p.Home != nil {
				lines++
			}
		}
	}
	a.printf("  %d binders with %d pockets for %d sleeves, and %d see-also entries (tuckrow binders)\n", len(c.Shelf().Binders), pockets, used, lines)
	for _, h := range l.Oversize() {
		a.printf("  box %q: %d that are oversize, a dummy for each in its place (tuckrow print dummies)\n", h.Box.Name, len(h.Things))
	}
	a.printf("  %d in the unidentified bin (tuckrow identify)\n", len(identify.Bin(c)))
	return nil
}

// demoOut lists what is out.
func (a *app) demoOut(l *ordering.Layout) error {
	a.printf("out, with an out card at its slot:\n")
	var rows [][]string
	for _, cp := range l.Collection().OutList("") {
		p := l.Collection().Pattern(cp.Pattern)
		who := cp.Out.To
		if cp.Out.For != "" {
			who += ", for " + cp.Out.For
		}
		if cp.Out.To == "" {
			who = "for " + cp.Out.For
		}
		rows = append(rows, []string{"  " + string(cp.Out.Since), l.Collection().Publisher(p.Publisher).Name, p.Heading(), who})
	}
	return columns(a.out, rows)
}

// demoWaiting says what is on the pile, by batch.
func (a *app) demoWaiting(l *ordering.Layout) error {
	c, waiting, total := l.Collection(), map[model.BatchID]int{}, 0
	for _, cp := range c.Copies().All() {
		if c.StepOf(cp) != model.Filed {
			waiting[cp.Batch]++
			total++
		}
	}
	a.printf("waiting, %s:\n", copies(total))
	var rows [][]string
	for _, b := range c.Batches().All() {
		if n := waiting[b.ID]; n > 0 {
			rows = append(rows, []string{"  " + b.Name, strconv.Itoa(n), "begun " + string(b.Begun)})
		}
	}
	return columns(a.out, rows)
}

// demoFew is how many lines of a long list the report shows.
const demoFew = 6

// demoRefile says how the next refiling begins.
func (a *app) demoRefile(l *ordering.Layout) error {
	c, m := l.Collection(), l.Refile()
	a.printf("the next refiling: %s to pull, %d to put in, %d stay (tuckrow refile).\n", envelopes(len(m.Pull)), len(m.Insert), m.Kept)
	var rows [][]string
	for _, p := range m.Pull[:min(demoFew, len(m.Pull))] {
		note := ""
		if p.Leaves {
			note = "to its hook"
		}
		rows = append(rows, []string{"  pull   box " + p.Box.Name + ", place " + strconv.Itoa(p.Position), publisher(c, p.Item) + " " + p.Item.Pattern.Heading(), note})
	}
	rows = andMore(rows, len(m.Pull))
	if err := columns(a.out, rows); err != nil {
		return err
	}
	rows = nil
	for _, in := range m.Insert[:min(demoFew, len(m.Insert))] {
		rows = append(rows, []string{"  put in box " + m.Plan.Boxes[in.Box].Box.Name, publisher(c, in.Item) + " " + in.Item.Pattern.Heading(), shortBetween(in)})
	}
	return columns(a.out, andMore(rows, len(m.Insert)))
}

// shortBetween is between with numbers alone, where there are numbers.
func shortBetween(in ordering.Insert) string {
	for _, end := range []**ordering.Item{&in.Behind, &in.Before} {
		if it := *end; it != nil && it.Pattern.Number != "" {
			p := *it.Pattern
			p.Name = ""
			*end = &ordering.Item{Copy: it.Copy, Pattern: &p}
		}
	}
	return between(in)
}

func andMore(rows [][]string, all int) [][]string {
	if more := all - len(rows); more > 0 {
		rows = append(rows, []string{fmt.Sprintf("  and %d more", more)})
	}
	return rows
}

// demoSplit says where the boxes spill once the pile is in them.
func (a *app) demoSplit(l *ordering.Layout) error {
	p := l.Split(ordering.Fewest)
	a.printf("with the pile in them the boxes spill; the fewest boxes would be (tuckrow split):\n")
	rows := [][]string{{"  box", "envelopes", "filled", "free", "label", ""}}
	for i := range p.Boxes {
		h, note := &p.Boxes[i], ""
		if h.New {
			note = "(new)"
		}
		rows = append(rows, []string{"  " + h.Box.Name, strconv.Itoa(len(h.Items)), h.Load.Whole(), h.Free().Whole(), l.Label(h), note})
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	d := l.Compare(p)
	a.printf("  %s.\n", changing(d))
	a.prose(moving.Caution(moving.Fullest(p.Boxes)), "")
	return nil
}

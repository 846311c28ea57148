package main

import (
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// listed is one copy in the JSON of shelflist; lengths in mm. Copies that
// stand in no box have an empty box and position 0.
type listed struct {
	Accession model.Accession `json:"accession"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	Section   string          `json:"section"`
	Box       string          `json:"box"`
	Position  int             `json:"position"`
	FromFront model.Length    `json:"from_front_mm"`
	Thickness model.Length    `json:"thickness_mm"`
	Step      string          `json:"step"`
	word      string          // for it, as people read it
}

func (a *app) shelfListCommand() *cobra.Command {
	var box string
	cmd := &cobra.Command{
		Use:   "shelflist",
		Short: "Everything in the order in which it stands",
		Long: `Lists everything in storage order: the boxes front to back as they stand, then
what waits on the pile in filing order, then what hangs on hooks.`,
		Example: "  tuckrow shelflist --box 2\n  tuckrow shelflist --json",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			return a.withShelf(func(l *ordering.Layout) error { return a.shelfList(l, box) })
		},
	}
	cmd.Flags().StringVar(&box, "box", "", "only this box")
	return a.reads(cmd)
}

func (a *app) shelfList(l *ordering.Layout, box string) error {
	out := []listed{}
	if box != "" {
		b, err := l.Collection().Shelf().BoxNamed(box)
		if err != nil {
			return err
		}
		h := l.StandingIn(b.ID)
		out = append(out, listBox(l, &h)...)
	} else {
		out = append(out, listAll(l)...)
	}
	if a.json {
		return a.printJSON(out)
	}
	rows := [][]string{{"box", "place", "from front", "section", "publisher", "number", "name", "step"}}
	for _, x := range out {
		place, from := "", ""
		if x.Position > 0 {
			place, from = strconv.Itoa(x.Position), x.FromFront.In(unitsOf(l.Collection()))
		}
		rows = append(rows, []string{x.Box, place, from, x.Section, x.Publisher, x.Number, x.Name, x.word})
	}
	return columns(a.out, rows)
}

func listAll(l *ordering.Layout) []listed {
	var out []listed
	for _, h := range l.Standing() {
		out = append(out, listBox(l, &h)...)
	}
	for _, it := range l.Waiting() {
		out = append(out, listItem(l, it, "", 0, 0))
	}
	for _, cp := range l.Collection().Copies().All() {
		if _, stands := l.Collection().Standing(cp.Accession); !stands && l.Item(cp.Accession) == nil {
			p := l.Collection().Pattern(cp.Pattern)
			out = append(out, listItem(l, &ordering.Item{Copy: cp.Accession, Pattern: p, Section: -1}, "", 0, 0))
		}
	}
	return out
}

func listBox(l *ordering.Layout, h *ordering.Holding) []listed {
	out := make([]listed, len(h.Items))
	for i, p := range h.Items {
		out[i] = listItem(l, p.Item, h.Box.Name, i+1, p.Front)
	}
	return out
}

func listItem(l *ordering.Layout, it *ordering.Item, box string, position int, front model.Length) listed {
	c, p := l.Collection(), it.Pattern
	section := ""
	if it.Section >= 0 {
		section = l.Section(it.Section).Title
	}
	cp := c.Copy(it.Copy)
	return listed{it.Copy, c.Publisher(p.Publisher).Name, p.Number, p.Name, section, box, position, front,
		c.Shelf().Takes(cp), c.StepOf(cp).String(), c.StepOf(cp).Word()}
}

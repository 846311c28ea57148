package main

import (
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// boxToMake is what is to be made for a box, in the JSON of labels.
type boxToMake struct {
	Box     string       `json:"box"`
	Label   *labelToMake `json:"label"` // null: the one it has is right
	Cards   []cardToMake `json:"cards"`
	TakeOut []string     `json:"take_out"` // cards that are needed nowhere
}

type labelToMake struct {
	Was string `json:"was"` // empty: it has none
	Is  string `json:"is"`  // empty: it is to have none
}

type cardToMake struct {
	Text   string          `json:"text"`
	Before model.Accession `json:"before"`
	From   string          `json:"from"` // the box in which one of that text is left over; empty: to be printed
}

func (a *app) labelsCommand() *cobra.Command {
	done := false
	cmd := &cobra.Command{
		Use:   "labels [BOX...]",
		Short: "Labels and cards that are still to be made, box by box",
		Long: `Lists the labels and divider cards that a split or a refiling calls for, until
they are noted as made; print boxes and print dividers with --only-new print
them. With --done label and cards of these boxes, or of all, are made, whether
the envelopes have been moved already or not.`,
		Example: "  tuckrow labels\n  tuckrow labels --done 1 2\n  tuckrow labels --done",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				for _, name := range args {
					if _, err := s.Collection().Shelf().BoxNamed(name); err != nil {
						return err
					}
				}
				l := s.Layout()
				if !done {
					return a.listLabels(l, args)
				}
				commit, err := s.Commit(cmd.Context(), l.SignsMade(args...))
				if err != nil {
					return err
				}
				a.printf("%s\n", commit.Title)
				return nil
			})
		},
	}
	cmd.Flags().BoolVar(&done, "done", false, "label and cards of these boxes, or of all, are made")
	return a.reads(cmd)
}

// listLabels prints what is outstanding for these boxes, or for all.
func (a *app) listLabels(l *ordering.Layout, only []string) error {
	boxes := toMake(l)
	if len(only) > 0 {
		boxes = slices.DeleteFunc(boxes, func(b boxToMake) bool { return !slices.Contains(only, b.Box) })
	}
	if a.json {
		return a.printJSON(boxes)
	}
	if len(boxes) == 0 {
		a.printf("every box has its label and cards.\n")
	}
	for _, b := range boxes {
		a.printf("box %s\n", b.Box)
		var rows [][]string
		switch x := b.Label; {
		case x == nil:
		case x.Is == "":
			rows = append(rows, []string{"  label", "take it off: the box stays empty", "was " + x.Was})
		case x.Was == "":
			rows = append(rows, []string{"  label", x.Is, "it has none yet"})
		default:
			rows = append(rows, []string{"  label", x.Is, "was " + x.Was})
		}
		for _, c := range b.Cards {
			note := "before " + l.Collection().PatternOf(c.Before).Heading()
			if c.From != "" {
				note = "from box " + c.From + ", " + note
			}
			rows = append(rows, []string{"  card", c.Text, note})
		}
		for _, text := range b.TakeOut {
			rows = append(rows, []string{"  card", text, "take it out"})
		}
		if err := columns(a.out, rows); err != nil {
			return err
		}
	}
	if text := l.Outstanding().Text(); text != "" && len(only) == 0 {
		a.printf("%s.\n", text)
	}
	return nil
}

// toMake is what is outstanding, in the order of the boxes.
func toMake(l *ordering.Layout) []boxToMake {
	out := []boxToMake{}
	said := func(label string) string {
		if label == ordering.NoLabel {
			return ""
		}
		return label
	}
	for _, b := range l.Outstanding().ByBox() {
		x := boxToMake{Box: b.Box.Name, Cards: []cardToMake{}, TakeOut: append([]string{}, b.Spare...)}
		if b.Label != nil {
			x.Label = &labelToMake{said(b.Label.Was), said(b.Label.Is)}
		}
		for _, c := range b.Cards {
			x.Cards = append(x.Cards, cardToMake{c.Text, c.Before.Copy, c.From})
		}
		out = append(out, x)
	}
	return out
}

package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

func (a *app) outCommand() *cobra.Command {
	var copyNo int
	var to, purpose, due string
	cmd := &cobra.Command{
		Use:   "out WORDS",
		Short: "Take a copy out, or lend it; its slot is kept",
		Long: `Notes that a copy is out. Its slot is kept: put an out card there. Without words
or --copy it lists what is out, oldest first, with what should be back by now
marked late; then what was looked for and not found.`,
		Example: "  tuckrow out harrow 6123\n  tuckrow out --copy 412 --to 'a friend' --for 'spring play' --due 2026-12-01\n  tuckrow out",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				l := s.Layout()
				if len(args) == 0 && copyNo == 0 {
					return a.listOut(l)
				}
				cp, err := oneCopy(s, l, copyNo, strings.Join(args, " "), func(c *model.Copy) string {
					if c.Out == nil || to+purpose+due != "" {
						return ""
					}
					return "is out already, since " + string(c.Out.Since) + label(", with ", c.Out.To) + "; --to says who has it now, tuckrow back that it is back"
				})
				if err != nil {
					return err
				}
				slot := slotText(l, l.Slot(cp))
				commit, err := s.Commit(cmd.Context(), &model.TakeOut{Copy: cp, To: to, For: purpose, Due: model.Date(due)})
				if err != nil {
					return err
				}
				a.printf("%s: %s. Put an out card there.\n", commit.Title, slot)
				return nil
			})
		},
	}
	cmd.Flags().IntVar(&copyNo, "copy", 0, "accession number of the copy")
	cmd.Flags().StringVar(&to, "to", "", "who has it")
	cmd.Flags().StringVar(&purpose, "for", "", "what for")
	cmd.Flags().StringVar(&due, "due", "", "day it is to be back, as year-month-day")
	return a.reads(cmd)
}

// outCopy is one copy that is out, in the JSON of out.
type outCopy struct {
	foundCopy
	Since model.Date `json:"since"`
	To    string     `json:"to"`
	For   string     `json:"for"`
	Due   model.Date `json:"due"` // empty: not agreed
	Late  bool       `json:"late"`
}

func (a *app) listOut(l *ordering.Layout) error {
	out, rows := []outCopy{}, [][]string(nil)
	for _, cp := range l.Collection().OutList(today()) {
		o := cp.Out
		f := outCopy{describe(l, cp.Accession, l.Slot(cp.Accession)), o.Since, o.To, o.For, o.Due, o.Overdue(today())}
		out = append(out, f)
		due := label("due ", string(o.Due))
		if f.Late {
			due = "late: due " + string(o.Due)
		}
		rows = append(rows, []string{string(o.Since), f.Publisher, f.Number, f.Name, o.To, o.For, due})
	}
	for _, cp := range l.Collection().MissingList() {
		f := outCopy{foundCopy: describe(l, cp.Accession, l.Slot(cp.Accession)), Since: cp.Missing}
		out = append(out, f)
		rows = append(rows, []string{string(cp.Missing), f.Publisher, f.Number, f.Name, "missing", ""})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(rows) == 0 {
		a.printf("nothing is out, nothing is missing.\n")
	}
	return columns(a.out, rows)
}

func (a *app) backCommand() *cobra.Command {
	var copyNo int
	cmd := &cobra.Command{
		Use:     "back WORDS",
		Short:   "Put a copy back",
		Long:    "Notes that a copy is back, or was found that was missing, and says where it goes.",
		Example: "  tuckrow back harrow 6123\n  tuckrow back --copy 412",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if len(args) == 0 && copyNo == 0 {
					return model.Inputf("say what is back: words, or --copy with its accession number; tuckrow out lists what is out or missing")
				}
				l := s.Layout()
				cp, err := oneCopy(s, l, copyNo, strings.Join(args, " "), func(c *model.Copy) string {
					if c.Out != nil || c.Missing != "" {
						return ""
					}
					return "is not out: " + slotText(l, l.Slot(c.Accession))
				})
				if err != nil {
					return err
				}
				commit, err := s.Commit(cmd.Context(), &model.PutBack{Copy: cp})
				if err != nil {
					return err
				}
				l = l.Next(commit)
				a.printf("%s: %s.\n", commit.Title, backTo(l, cp))
				return nil
			})
		},
	}
	cmd.Flags().IntVar(&copyNo, "copy", 0, "accession number of the copy")
	return cmd
}

// backTo says where a copy goes that is back: its slot, which moves with the run
// while it is out; or, where its box has gone meanwhile, where it will stand.
func backTo(l *ordering.Layout, a model.Accession) string {
	s, c := l.Slot(a), l.Collection()
	text := slotText(l, s)
	if p := c.PatternOf(a); s.Kind == ordering.OnPile && l.Item(a) != nil {
		text += "; it will stand in " + gapOf(l.GapFor(c.Publisher(p.Publisher).Name, p)).Text
	}
	return text
}

package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage"
	"github.com/spf13/cobra"
)

func (a *app) outCommand() *cobra.Command {
	var copyNo int
	var to, purpose string
	cmd := &cobra.Command{
		Use:   "out WORDS",
		Short: "Take a copy out, or lend it; its slot is kept",
		Long: `Notes that a copy is out. Its slot is kept: put an out card there. Without words
or --copy it lists what is out, oldest first.`,
		Example: "  tuckrow out harrow 6123\n  tuckrow out --copy 412 --to 'a friend' --for 'spring play'\n  tuckrow out",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s *storage.Store) error {
				l := ordering.Arrange(s.Collection())
				if len(args) == 0 && copyNo == 0 {
					return a.listOut(l)
				}
				cp, err := oneCopy(l, copyNo, strings.Join(args, " "), func(c *model.Copy) bool { return c.Out == nil })
				if err != nil {
					return err
				}
				slot := slotText(l, l.Slot(cp))
				commit, err := s.Commit(cmd.Context(), &model.TakeOut{Copy: cp, To: to, For: purpose})
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
	return a.reads(cmd)
}

func (a *app) listOut(l *ordering.Layout) error {
	out, rows := []foundCopy{}, [][]string(nil)
	for _, cp := range l.Collection().OutList() {
		f := describe(l, cp.Accession, l.Slot(cp.Accession))
		out = append(out, f)
		rows = append(rows, []string{string(cp.Out.Since), f.Publisher, f.Number, f.Name, cp.Out.To, cp.Out.For})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(rows) == 0 {
		a.printf("nothing is out.\n")
	}
	return columns(a.out, rows)
}

func (a *app) backCommand() *cobra.Command {
	var copyNo int
	cmd := &cobra.Command{
		Use:     "back WORDS",
		Short:   "Put a copy back",
		Long:    "Notes that a copy is back, and says where it goes.",
		Example: "  tuckrow back harrow 6123\n  tuckrow back --copy 412",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s *storage.Store) error {
				if len(args) == 0 && copyNo == 0 {
					return model.Inputf("say what is back: words, or --copy with its accession number; tuckrow out lists what is out")
				}
				l := ordering.Arrange(s.Collection())
				cp, err := oneCopy(l, copyNo, strings.Join(args, " "), func(c *model.Copy) bool { return c.Out != nil })
				if err != nil {
					return err
				}
				commit, err := s.Commit(cmd.Context(), &model.PutBack{Copy: cp})
				if err != nil {
					return err
				}
				l = l.Next(commit)
				a.printf("%s: %s.\n", commit.Title, slotText(l, l.Slot(cp)))
				return nil
			})
		},
	}
	cmd.Flags().IntVar(&copyNo, "copy", 0, "accession number of the copy")
	return cmd
}

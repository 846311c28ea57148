package main

import (
	"context"
	"fmt"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/reading"
	"github.com/spf13/cobra"
)

// stockTaken is the JSON of stocktake.
type stockTaken struct {
	Boxes    []readBox      `json:"boxes"`
	Missing  []named        `json:"missing"` // recorded in a box that was read, found in none
	Moved    []movedCopy    `json:"moved"`
	Unlisted []unlistedRead `json:"unlisted"`
	Unread   []string       `json:"unread"` // boxes with something in them that were not read
	Recorded bool           `json:"recorded"`
}

type movedCopy struct {
	named
	From string `json:"from"` // empty: it was recorded in no box
	To   string `json:"to"`
}

type unlistedRead struct {
	Box  string `json:"box"`
	Item int    `json:"item"`
	Read string `json:"read"`
}

func (a *app) stocktakeCommand() *cobra.Command {
	accessions, done := false, false
	cmd := &cobra.Command{
		Use:   "stocktake [FILE]",
		Short: "Compare all boxes with what a walk through them finds",
		Long: `Reads what stands in the boxes, as shelfread does for one: a line "box 1:", then
what stands in that box, front to back, one envelope a line. What one box lacks and
another has is not missing: only what is found in none. Boxes that were not read are
named at the end. Without FILE, or with "-", it reads what is typed, up to ctrl+d.

With --done all boxes are recorded as they were found, as one step for undo.`,
		Example: "  tuckrow stocktake walk.txt\n  tuckrow stocktake --accessions --done walk.txt",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return model.Inputf("stock is taken from one file, not from %d; see: %s --help", len(args), cmd.CommandPath())
			}
			return a.withStore(func(s cupboard) error {
				lines, err := a.walk(append(args, "-")[0])
				if err != nil {
					return err
				}
				return a.stocktake(cmd.Context(), s, lines, accessions, done)
			})
		},
	}
	cmd.Flags().BoolVar(&accessions, "accessions", false, "bare numbers are accession numbers")
	cmd.Flags().BoolVar(&done, "done", false, "record the boxes as they were found")
	return a.reads(cmd)
}

func (a *app) stocktake(ctx context.Context, s cupboard, lines []string, accessions, done bool) error {
	l := s.Layout()
	walks, err := reading.Walks(l.Collection().Shelf(), lines)
	if err != nil {
		return err
	}
	for _, w := range walks {
		for i, line := range w.Lines {
			if _, err := strconv.ParseUint(line, 10, 32); err == nil && accessions {
				w.Lines[i] = "#" + line
			}
		}
	}
	taken := reading.TakeStock(l, walks)
	ch, refused := taken.Record()
	if done && refused == nil {
		if _, err := s.Commit(ctx, recorded(ch, taken.Boxes...)); err != nil {
			return err
		}
	}
	if err := a.sayStock(l.Collection(), taken, done && refused == nil); err != nil {
		return err
	}
	if done {
		return refused
	}
	return nil
}

// recorded is the change that records boxes as they were found; where all stand as
// recorded, that they were gone through.
func recorded(ch *model.Stand, boxes ...*reading.Report) model.Change {
	if ch != nil {
		return ch
	}
	count := &model.Count{}
	for _, rep := range boxes {
		count.Boxes = append(count.Boxes, rep.Box.Name)
	}
	return count
}

func (a *app) sayStock(c *model.Collection, s *reading.Stocktake, recorded bool) error {
	out := stockTaken{[]readBox{}, namesOf(c, s.Missing), []movedCopy{}, []unlistedRead{}, []string{}, recorded}
	var rows [][]string
	matters := s.Matters(c)
	for _, m := range matters {
		publisher, called := m.Name(c)
		rows = append(rows, []string{m.What, publisher, called, m.About(c)})
		if m.What == reading.NoList {
			out.Unlisted = append(out.Unlisted, unlistedRead{m.Box.Name, m.Item, m.Read})
		}
	}
	for _, m := range s.Moved {
		out.Moved = append(out.Moved, movedCopy{nameOf(c, m.Copy), m.From.Name, m.To.Name})
	}
	items := 0
	for _, rep := range s.Boxes {
		out.Boxes = append(out.Boxes, reportOf(c, rep, recorded))
		items += len(rep.Findings) - len(rep.Of(reading.Gap))
	}
	for _, b := range s.Unread {
		out.Unread = append(out.Unread, b.Name)
		rows = append(rows, []string{"not read", "", "box " + b.Name, fmt.Sprintf("%s recorded in it", copies(len(c.Row(b.ID))))})
	}
	if a.json {
		return a.printJSON(out)
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf("%s, %d read: %d missing, %d in another box, %d misplaced in theirs, %d unlisted.\n",
		words.Count(len(s.Boxes), "box", "boxes"), items, len(s.Missing), len(s.Moved), reading.Count(matters, reading.Wrong), len(out.Unlisted))
	if recorded {
		a.printf("recorded as found.\n")
	}
	return nil
}

package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// wished is something wanted or on the way, in JSON; lengths in mm.
type wished struct {
	ID        model.WishID    `json:"id"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	SizeRange string          `json:"size_range"`
	Category  string          `json:"category"`
	Since     model.Date      `json:"since"`
	Ordered   model.Date      `json:"ordered"` // empty: only wanted
	Expected  model.Date      `json:"expected"`
	Late      bool            `json:"late"` // it should have come by now
	From      string          `json:"from"`
	Notes     string          `json:"notes"`
	Here      model.PatternID `json:"here"` // the pattern that it was for, once it is listed; 0: none
	Slot      gap             `json:"slot"` // where it will stand
}

// gap is a slot of something that is not there yet, in JSON; lengths in mm.
type gap struct {
	Box       string           `json:"box,omitempty"`
	FromFront model.Length     `json:"from_front_mm"`
	Behind    *model.Accession `json:"behind"`
	Before    *model.Accession `json:"before"`
	Section   string           `json:"section"`
	Text      string           `json:"text"`
}

func (a *app) wantCommand() *cobra.Command {
	drop := 0
	cmd := &cobra.Command{
		Use:   "want [N] [FIELD=VALUE...]",
		Short: "The list of what is wanted",
		Long: `Without arguments, lists what is wanted and what is on the way, and what of it is
here already. FIELD=VALUE puts something on the list: a number or a name, and if
known the publisher, size_range, category and notes; with the number of a wish
before it, that one is said anew. How it is known in a shop: tuckrow have.`,
		Example: "  tuckrow want publisher='Harrow & Pell' number=6204\n  tuckrow want 3 notes='view B, for the harvest play'\n  tuckrow want --drop 3",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				switch {
				case drop != 0:
					return a.commit(cmd.Context(), s, &model.Strike{Kind: model.KindWish.String(), ID: uint32(drop)})
				case len(args) == 0:
					return a.listWishes(s, false)
				}
				w, err := wishFrom(s.Collection(), args)
				if err != nil {
					return err
				}
				return a.want(cmd, s, w)
			})
		},
	}
	cmd.Flags().IntVar(&drop, "drop", 0, "number of a wish that is none any more")
	return a.reads(cmd)
}

func (a *app) arrivingCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "arriving [N] [FIELD=VALUE...]",
		Short: "What is on the way, and where it will stand",
		Long: `Without arguments, lists what is on the way: when it is expected, from whom, and
between which two it will stand. The number of a wish, or FIELD=VALUE as with
want, notes that it is ordered; expected= gives the day, from= who sends it.`,
		Example: "  tuckrow arriving 3 expected=2026-12-01 from='a jumble sale'\n  tuckrow arriving",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if len(args) == 0 {
					return a.listWishes(s, true)
				}
				w, err := wishFrom(s.Collection(), args)
				if err != nil {
					return err
				}
				if w.Ordered == "" {
					w.Ordered = today()
				}
				return a.want(cmd, s, w)
			})
		},
	})
}

func (a *app) arrivedCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "arrived N [FIELD=VALUE...]",
		Short: "Something on the list has come: enter it",
		Long: `Enters one copy of what was wanted, takes it off that list, and prints its
accession number. What else is known of it is given as with add.`,
		Example: "  tuckrow arrived 3 cut=uncut batch='December post'",
		Args:    someArgs("the number of the wish; tuckrow want lists them"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				w, err := wishFrom(s.Collection(), args[:1])
				if err != nil {
					return err
				}
				en := w.Entry()
				if err := fill(&en, args[1:]); err != nil {
					return err
				}
				if p := s.Index().Granted(&w); p != nil && en.Pattern == 0 {
					a.printf("a copy of it is listed already; this is a pattern of its own unless you say pattern=%d\n", p.ID)
				}
				commit, err := s.Commit(cmd.Context(), &model.Arrive{Wish: w.ID, Entry: en})
				if err != nil {
					return err
				}
				a.printf("%d\n", commit.Added()[0])
				return nil
			})
		},
	}
}

// wishFrom is the wish whose number comes first, or a new one, with what is
// given.
func wishFrom(c *model.Collection, args []string) (w model.Wish, err error) {
	if !strings.Contains(args[0], "=") {
		n, err := strconv.Atoi(args[0])
		old := c.Wishes().Get(uint32(max(0, n)))
		if err != nil || old == nil {
			return w, model.Inputf("%q is neither the number of a wish nor FIELD=VALUE; tuckrow want lists the wishes", args[0])
		}
		w, args = *old, args[1:]
	}
	return w, assign(args, map[string]func(string) error{
		"publisher": into(&w.Publisher), "number": into(&w.Number), "name": into(&w.Name), "size_range": into(&w.SizeRange), "category": into(&w.Category),
		"since": intoDate("since", &w.Since), "ordered": intoDate("ordered", &w.Ordered), "expected": intoDate("expected", &w.Expected), "from": into(&w.From), "notes": into(&w.Notes),
	})
}

// want puts a wish on the list, and says if it is owned.
func (a *app) want(cmd *cobra.Command, s cupboard, w model.Wish) error {
	if p := s.Index().Granted(&w); p != nil {
		a.printf("it is listed already: %s %s\n", s.Collection().Publisher(p.Publisher).Name, p.Heading())
	}
	return a.commit(cmd.Context(), s, &model.Want{Wish: w})
}

func today() model.Date { return model.Date(time.Now().Format(time.DateOnly)) }

func (a *app) listWishes(s cupboard, onTheWay bool) error {
	c, l, out, rows := s.Collection(), s.Layout(), []wished{}, [][]string{{"", "what", "sizes", "", "will stand"}}
	x := s.Index()
	for _, w := range c.Wishes().All() {
		if onTheWay && !w.OnTheWay() {
			continue
		}
		item := wishedOf(l, x, w)
		out = append(out, item)
		rows = append(rows, []string{strconv.Itoa(int(w.ID)), w.Heading(), w.SizeRange, item.state(), item.Slot.Text})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("nothing is on this list.\n")
		return nil
	}
	return columns(a.out, rows)
}

func wishedOf(l *ordering.Layout, x *lookup.Index, w *model.Wish) wished {
	item := wished{ID: w.ID, Publisher: w.Publisher, Number: w.Number, Name: w.Name, SizeRange: w.SizeRange, Category: w.Category,
		Since: w.Since, Ordered: w.Ordered, Expected: w.Expected, Late: w.Expected != "" && w.Expected < today(), From: w.From, Notes: w.Notes}
	if p := x.Granted(w); p != nil {
		item.Here = p.ID
	}
	item.Slot = gapOf(l.GapFor(w.Publisher, &model.Pattern{Number: w.Number, Name: w.Name, SizeRange: w.SizeRange}))
	return item
}

func gapOf(g ordering.Gap) gap {
	out := gap{Section: g.Section, Text: "no box yet, section " + g.Section}
	if g.Holding == nil {
		return out
	}
	out.Box, out.FromFront = g.Holding.Box.Name, g.FromFront
	out.Text = fmt.Sprintf("box %s, %s from the front", out.Box, g.FromFront.Whole())
	if g.Behind != nil {
		out.Behind = &g.Behind.Copy
		out.Text += ", behind " + g.Behind.Pattern.Heading()
	}
	if g.Before != nil {
		out.Before = &g.Before.Copy
		out.Text += ", before " + g.Before.Pattern.Heading()
	}
	return out
}

// state says in words how far a wish is.
func (w wished) state() string {
	switch {
	case w.Here != 0:
		return "here already"
	case w.Late:
		return "late: expected " + string(w.Expected) + label(" from ", w.From)
	case w.Expected != "":
		return "on the way, expected " + string(w.Expected) + label(" from ", w.From)
	case w.Ordered != "":
		return "on the way since " + string(w.Ordered) + label(" from ", w.From)
	}
	return "wanted since " + string(w.Since)
}

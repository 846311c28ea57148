package main

import (
	"fmt"
	"math"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/measure"
	"example.org/tuckrow/ordering/moving"
	"github.com/spf13/cobra"
)

// moves is the JSON of refile. Taking out all of pull, then putting in all of
// insert in the order given, gives the planned order.
type moves struct {
	Pull   []pulled   `json:"pull"`
	Insert []inserted `json:"insert"`
	Kept   int        `json:"kept"`
	// Where there are many to put in, the piles to deal them into first.
	Piles []dealt `json:"piles,omitempty"`
	// How long it takes; not there while no pace was measured.
	Minutes float64 `json:"minutes,omitempty"`
}

// dealt is a table pile: the next so many to be put in, up to a copy.
type dealt struct {
	Count int             `json:"count"`
	UpTo  model.Accession `json:"up_to"`
	Text  string          `json:"text"`
}

type pulled struct {
	Accession model.Accession `json:"accession"`
	Box       string          `json:"box"`
	Position  int             `json:"position"`
}

type inserted struct {
	Accession model.Accession  `json:"accession"`
	Box       string           `json:"box"`
	Behind    *model.Accession `json:"behind"`
	Before    *model.Accession `json:"before"`
	Position  int              `json:"position"`
}

func (a *app) refileCommand() *cobra.Command {
	var done bool
	var took float64
	cmd := &cobra.Command{
		Use:   "refile",
		Short: "What to pull and where to put it",
		Long: `Works out how to get the pile into the boxes, and the boxes into order, with the
fewest envelopes pulled: first take out all that is to be pulled, then put all
in, in the order given. With a split decided on (tuckrow split --apply) it
carries that out; else each box begins where it begins now, and what does not
fit is pushed on. With --done it records that all of it has been done; told how
many minutes that took, it says the next time how long it will take.

When many are to be put in, it says into which piles to deal them on the table
before each pile is sorted.`,
		Example: "  tuckrow refile\n  tuckrow refile --done\n  tuckrow refile --done --minutes 35",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			timed := cmd.Flags().Changed("minutes")
			if timed && (!done || !(took > 0 && took <= mostMinutes)) {
				return model.Inputf("--minutes says, beside --done, how long the refiling took, like: tuckrow refile --done --minutes 35")
			}
			return a.withStore(func(s cupboard) error {
				l := s.Layout()
				m := l.Refile()
				if !done {
					return a.refile(l, &m)
				}
				if len(m.Pull)+len(m.Insert) == 0 {
					a.printf("there was nothing to refile.\n")
					return nil
				}
				ch := m.Done()
				if timed {
					ch.Took = &model.Took{Pulled: len(m.Pull), Inserted: len(m.Insert), Seconds: max(1, int(math.Round(took*60)))}
				}
				if _, err := s.Commit(cmd.Context(), ch); err != nil {
					return err
				}
				a.printf("recorded: %d pulled, %d put in.\n", len(m.Pull), len(m.Insert))
				a.sayLeft(s.Layout())
				return nil
			})
		},
	}
	cmd.Flags().BoolVar(&done, "done", false, "record that the refiling has been done")
	cmd.Flags().Float64Var(&took, "minutes", 0, "how many minutes it took")
	return a.reads(cmd)
}

// mostMinutes is a day and a night of refiling.
const mostMinutes = 24 * 60

func (a *app) refile(l *ordering.Layout, m *ordering.Moves) error {
	if a.json {
		return a.printJSON(movesOf(l, m))
	}
	return a.sayMoves(l, m)
}

func movesOf(l *ordering.Layout, m *ordering.Moves) moves {
	out := moves{Pull: []pulled{}, Insert: []inserted{}, Kept: m.Kept}
	for _, p := range l.Piles(m) {
		out.Piles = append(out.Piles, dealt{p.Count, p.UpTo.Copy, l.UpTo(p)})
	}
	if p, ok := measure.PaceOf(l.Collection()); ok {
		out.Minutes = math.Round(p.Minutes(len(m.Pull), len(m.Insert))*10) / 10
	}
	for _, p := range m.Pull {
		out.Pull = append(out.Pull, pulled{p.Item.Copy, p.Box.Name, p.Position})
	}
	for _, in := range m.Insert {
		x := inserted{Accession: in.Item.Copy, Box: m.Plan.Boxes[in.Box].Box.Name, Position: in.Position}
		if in.Behind != nil {
			x.Behind = &in.Behind.Copy
		}
		if in.Before != nil {
			x.Before = &in.Before.Copy
		}
		out.Insert = append(out.Insert, x)
	}
	return out
}

// sayLeft says what refiling boxes leaves to be done: labels, cards, hooks.
func (a *app) sayLeft(l *ordering.Layout) {
	if text := l.Outstanding().Text(); text != "" {
		a.printf("%s: tuckrow labels\n", text)
	}
	if note := l.HookNote(); note != "" {
		a.printf("%s: tuckrow hooks\n", note)
	}
}

func (a *app) sayMoves(l *ordering.Layout, m *ordering.Moves) error {
	c := l.Collection()
	if len(m.Pull)+len(m.Insert) == 0 {
		a.printf("everything stands where it belongs; there is nothing to refile.\n")
		a.sayLeft(l)
		return nil
	}
	a.printf("%s to pull, %d to put in, %d stay.\n", envelopes(len(m.Pull)), len(m.Insert), m.Kept)
	for _, b := range m.Plan.Needs() {
		a.printf("a new box %s is needed (%s).\n", b.Name, b.Length.Fine(unitsOf(l.Collection())))
	}
	a.sayMinutes(c, m)
	var rows [][]string
	for _, p := range m.Pull {
		note := ""
		if p.Leaves {
			note = "to its hook"
		}
		rows = append(rows, []string{"  box " + p.Box.Name, "place " + strconv.Itoa(p.Position), publisher(c, p.Item), p.Item.Pattern.Heading(), note})
	}
	if len(rows) > 0 {
		a.printf("\npull, in this order of walking:\n")
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	if err := a.sayPiles(l, m); err != nil {
		return err
	}
	rows = nil
	for _, in := range m.Insert {
		note := ""
		if cp := c.Copy(in.Item.Copy); !cp.Enveloped {
			note = "(needs its envelope first)"
		}
		rows = append(rows, []string{"  box " + m.Plan.Boxes[in.Box].Box.Name, publisher(c, in.Item), in.Item.Pattern.Heading(), between(in), note})
	}
	if len(rows) > 0 {
		a.printf("\nput in, in this order:\n")
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf("\n")
	a.prose(moving.Caution(moving.Fullest(m.Plan.Boxes)), "")
	return nil
}

func publisher(c *model.Collection, it *ordering.Item) string {
	return c.Publisher(it.Pattern.Publisher).Name
}

func between(in ordering.Insert) string {
	switch {
	case in.Behind == nil && in.Before == nil:
		return "alone in the box so far"
	case in.Behind == nil:
		return "at the front, before " + in.Before.Pattern.Heading()
	case in.Before == nil:
		return "behind " + in.Behind.Pattern.Heading()
	}
	return fmt.Sprintf("behind %s, before %s", in.Behind.Pattern.Heading(), in.Before.Pattern.Heading())
}

package main

import (
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/ordering/newroom"
	"example.org/tuckrow/storage/exchange"
	"github.com/spf13/cobra"
)

// roomAnswer is the JSON of whatif; lengths in mm.
type roomAnswer struct {
	Today   roomNeeds `json:"today"`
	Then    roomNeeds `json:"then"`
	Years   int       `json:"years"`
	PerYear int       `json:"per_year"` // copies a year that were reckoned with
	Pace    string    `json:"pace"`     // they are: given, counted or not known, and none then
}

type roomNeeds struct {
	Copies      int          `json:"copies"`
	Boxes       int          `json:"boxes"`
	NewBoxes    int          `json:"new_boxes"` // of those, to be got
	Free        model.Length `json:"free_mm"`
	Fullest     model.Length `json:"fullest_mm"` // what stands in the fullest box
	Binders     int          `json:"binders"`
	NewBinders  int          `json:"new_binders"`
	Hooks       int          `json:"hooks"`
	NewHooks    int          `json:"new_hooks"`
	Oversize    int          `json:"oversize"`
	NewOversize int          `json:"new_oversize"`
}

// roomQuestion is what the flags of whatif say.
type roomQuestion struct {
	years, perYear int
	length         string
}

func (a *app) whatIfCommand() *cobra.Command {
	var q roomQuestion
	cmd := &cobra.Command{
		Use:   "whatif [SHELFFILE]",
		Short: "What the collection would need in another room, some years on",
		Long: `Compares today with another room, and changes nothing: with the furniture of a shelf
file (tuckrow shelf show prints one to begin with), or with all boxes of another
length, or with so many years of growth, or with all of that. Growth is as if what
came last came again, as many a year as came during the last one; with --per-year it
is as many as you say. What was there when the list was begun is no growth: until
half a year after that the pace is not known, and nothing grows. What is needed is
worked out by the rules by which boxes, binders and hooks are filled; the years to
come are an estimate.`,
		Example: "  tuckrow shelf show > room.toml   # then write the new boxes into it\n  tuckrow whatif room.toml --years 5\n  tuckrow whatif --box-length '500 mm' --years 5 --per-year 60",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return model.Inputf("one room at a time, and not %d; see: %s --help", len(args), cmd.CommandPath())
			}
			return a.withStore(func(s cupboard) error {
				ask := newroom.Question{Years: q.years, PerYear: q.perYear, On: today()}
				var err error
				if ask.BoxLength, err = newroom.ParseBoxLength(q.length); err != nil {
					return err
				}
				if ask.Shelf, err = a.roomOf(args); err != nil {
					return err
				}
				return a.whatIf(s.Collection(), ask)
			})
		},
	}
	cmd.Flags().IntVar(&q.years, "years", 0, "years of growth")
	cmd.Flags().IntVar(&q.perYear, "per-year", 0, "copies that a year brings (else by the pace of growth)")
	cmd.Flags().StringVar(&q.length, "box-length", "", "all boxes of this length inside, like 500 mm or 20 in")
	return a.reads(cmd)
}

// roomOf reads what furniture is asked for; nil when it is the one there is.
func (a *app) roomOf(args []string) (_ *model.ShelfSpec, err error) {
	if len(args) == 0 {
		return nil, nil
	}
	f, err := a.files.Open(args[0])
	if err != nil {
		return nil, unreadable(err)
	}
	defer closing(f, &err)
	spec, err := exchange.ReadShelf(f)
	return &spec, err
}

func (a *app) whatIf(c *model.Collection, ask newroom.Question) error {
	answer, err := newroom.Ask(c, ask)
	if err != nil {
		return err
	}
	out := roomAnswer{roomNeeds(answer.Today), roomNeeds(answer.Then), ask.Years, answer.PerYear, paceWord(answer.Grows)}
	if ask.PerYear > 0 {
		out.Pace = "given"
	}
	if a.json {
		return a.printJSON(out)
	}
	units, rows := unitsOf(c), [][]string{{"", "today", "then"}}
	write := func(l model.Length) string { return l.In(units) }
	then := answer.Then.Lines(write)
	for i, today := range answer.Today.Lines(write) {
		rows = append(rows, []string{today[0], today[1], then[i][1]})
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	for _, doubt := range ask.Doubts(c, func(l model.Length) string { return l.Fine(units) }) {
		a.prose(doubt, "")
	}
	switch {
	case ask.Years > 0 && out.Pace == "not known":
		a.prose("nothing grows in this, for growth is "+answer.Grows.Text()+". Say it with --per-year, or for good: tuckrow supplies 'a year=40'", "")
	case ask.Years > 0:
		a.printf("with %s a year for %s: an estimate.\n", copies(answer.PerYear), yearsText(ask.Years))
	}
	a.printf("nothing was changed; tuckrow shelf apply makes a room the one there is.\n")
	a.prose(moving.Caution(answer.Then.Fullest), "")
	return nil
}

func yearsText(n int) string {
	if n == 1 {
		return "a year"
	}
	return strconv.Itoa(n) + " years"
}

package main

import (
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/growth"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/supplies"
	"github.com/spf13/cobra"
)

// supply is one line of supplies, in JSON.
type supply struct {
	Item    model.StockItem `json:"item"`
	Have    int             `json:"have"`
	Counted model.Date      `json:"counted"` // empty: never
	Need    int             `json:"need"`
	Short   int             `json:"short"`
	PerYear float64         `json:"per_year"`
	Months  *int            `json:"months"` // that what is over lasts; null: nothing is used of it, or that is not known
	Pace    string          `json:"pace"`   // of growth: counted, given or not known
}

func (a *app) suppliesCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "supplies [ITEM=COUNT...]",
		Short: "Envelopes, pockets, cards, boxes: have, need, short",
		Long: `Says of each supply what lies ready, what is needed to file all there is, what is
short, and how long what is over lasts. Needed is what the plan of refiling, the
binders and the hooks ask for beyond what is there: of divider cards those that
tuckrow labels has as to be made, and a dummy for each oversize copy that is not put
in yet. ITEM=COUNT notes what was counted.

How long it lasts goes by the pace at which the collection grows: what came during
the last year, but not what was there when the list was begun. Until half a year
after that first listing the pace is not known, unless you say it: 'a year=40' says
how many copies a year brings, and 'a year=0' has it counted again.`,
		Example: "  tuckrow supplies envelopes=60 'divider cards=12'\n  tuckrow supplies 'a year=40'\n  tuckrow supplies",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				fields := map[string]func(string) error{}
				for _, item := range model.StockItems() {
					fields[string(item)] = func(text string) error {
						ch, err := model.ReadStock(item, text)
						if err != nil {
							return err
						}
						return a.commit(cmd.Context(), s, ch)
					}
				}
				fields["a year"] = func(text string) error {
					ch, err := model.ReadPerYear(text)
					if err != nil {
						return err
					}
					return a.commit(cmd.Context(), s, ch)
				}
				if len(args) > 0 {
					return assign(args, fields)
				}
				return a.supplies(s.Layout())
			})
		},
	})
}

func (a *app) supplies(l *ordering.Layout) error {
	grows := growth.Of(l.Collection(), today())
	out, rows := []supply{}, [][]string{{"", "have", "need", "short", "a year takes", "what is over lasts"}}
	for _, x := range supplies.List(l, today()) {
		line := supply{x.Item, x.Have, x.On, x.Need, x.Short, x.PerYear, nil, paceWord(grows)}
		perYear := x.Yearly()
		switch x.Months {
		case supplies.NotKnown:
			perYear = "?"
		case supplies.NoEnd:
		default:
			line.Months = &x.Months
		}
		out = append(out, line)
		have := strconv.Itoa(x.Have)
		if x.On == "" {
			have = "not counted"
		}
		rows = append(rows, []string{string(x.Item), have, strconv.Itoa(x.Need), strconv.Itoa(x.Short), perYear, x.Lasts()})
	}
	if a.json {
		return a.printJSON(out)
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.sayGrowth(grows)
	return nil
}

// paceWord says in JSON what a pace goes by.
func paceWord(p growth.Pace) string {
	switch {
	case p.Given:
		return "given"
	case p.Known:
		return "counted"
	}
	return "not known"
}

// sayGrowth says at what pace the collection grows and, where nobody knows, what
// to do.
func (a *app) sayGrowth(p growth.Pace) {
	text := "growth: " + p.Text()
	if !p.Known {
		text += ". Say it until then: tuckrow supplies 'a year=40'"
	}
	a.prose(text, "")
}

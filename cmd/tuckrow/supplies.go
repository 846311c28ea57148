package main

import (
	"fmt"
	"strconv"

	"example.org/tuckrow/model"
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
	Months  *int            `json:"months"` // that what is over lasts; null: nothing is used of it
}

func (a *app) suppliesCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "supplies [ITEM=COUNT...]",
		Short: "Envelopes, pockets, cards, boxes: have, need, short",
		Long: `Says of each supply what lies ready, what is needed to file all there is, what is
short, and how long what is over lasts. Needed is what the plan of refiling, the
binders and the hooks ask for beyond what is there. How long it lasts goes by what
came in during the year before: an estimate. ITEM=COUNT notes what was counted.`,
		Example: "  tuckrow supplies envelopes=60 'divider cards=12'\n  tuckrow supplies",
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
				if len(args) > 0 {
					return assign(args, fields)
				}
				return a.supplies(s.Layout())
			})
		},
	})
}

func (a *app) supplies(l *ordering.Layout) error {
	out, rows := []supply{}, [][]string{{"", "have", "need", "short", "a year takes", "what is over lasts"}}
	for _, x := range supplies.List(l, today()) {
		line := supply{x.Item, x.Have, x.On, x.Need, x.Short, x.PerYear, nil}
		lasts := ""
		if x.Months != supplies.NoEnd {
			line.Months = &x.Months
			lasts = fmt.Sprintf("%d months", x.Months)
		}
		out = append(out, line)
		have := strconv.Itoa(x.Have)
		if x.On == "" {
			have = "not counted"
		}
		rows = append(rows, []string{string(x.Item), have, strconv.Itoa(x.Need), strconv.Itoa(x.Short), fmt.Sprintf("%.0f", x.PerYear), lasts})
	}
	if a.json {
		return a.printJSON(out)
	}
	return columns(a.out, rows)
}

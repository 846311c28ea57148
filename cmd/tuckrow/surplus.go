package main

import (
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/surplus"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// surplusCopy is one of several copies of a pattern, in JSON.
type surplusCopy struct {
	Accession model.Accession `json:"accession"`
	Pattern   model.PatternID `json:"pattern"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	Advice    surplus.Advice  `json:"advice"`
	Why       []string        `json:"why"`
	Where     string          `json:"where"`
}

func (a *app) surplusCommand() *cobra.Command {
	gone := 0
	cmd := &cobra.Command{
		Use:   "surplus",
		Short: "Copies to pass on: the better one is kept",
		Long: `Lists patterns of which there are several copies, which to keep, which can be
passed on, and why: complete before uncut before the sleeve. "look" means that the
copy has something that the kept one has not. --gone notes that one has gone: it
comes off the list.`,
		Example: "  tuckrow surplus\n  tuckrow surplus --gone 412",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.withStore(func(s cupboard) error {
				if gone != 0 {
					return a.commit(cmd.Context(), s, &model.Remove{Copies: []model.Accession{model.Accession(gone)}})
				}
				return a.surplus(s.Layout())
			})
		},
	}
	cmd.Flags().IntVar(&gone, "gone", 0, "accession number of a copy that was passed on")
	return a.reads(cmd)
}

func (a *app) surplus(l *ordering.Layout) error {
	c, out, rows := l.Collection(), []surplusCopy{}, [][]string(nil)
	for _, g := range surplus.Groups(c) {
		for _, j := range g.Copies {
			p := g.Pattern
			item := surplusCopy{j.Copy.Accession, p.ID, c.Publisher(p.Publisher).Name, p.Number, p.Name, j.Advice, j.Why, l.Slot(j.Copy.Accession).Text()}
			out = append(out, item)
			rows = append(rows, []string{string(item.Advice), strconv.Itoa(int(item.Accession)), item.Publisher, p.Heading(), strings.Join(item.Why, "; "), item.Where})
		}
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("there is one copy of everything.\n")
	}
	return columns(a.out, rows)
}

package main

import (
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/worth"
	"github.com/spf13/cobra"
)

// insured is what a collection is worth, in JSON; money as written, "12.50".
type insured struct {
	Groups   []insuredGroup    `json:"groups"`
	Sum      string            `json:"sum"`
	Unvalued []model.Accession `json:"unvalued"`
}

type insuredGroup struct {
	Of     string            `json:"of"` // tag, category or publisher; empty: all others, or each by its own value
	Own    bool              `json:"own"`
	Each   string            `json:"each"` // empty where each has its own
	Sum    string            `json:"sum"`
	Copies []model.Accession `json:"copies"`
}

func (a *app) worthCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "worth [GROUP=AMOUNT...]",
		Short: "What it is all worth to an insurer, by group",
		Long: `Adds up what the copies are worth: each by its own value (tuckrow change value=),
else by its tag, its category, its publisher, or what all others are worth.
GROUP=AMOUNT says what each copy of a group is worth; "others" is all others, and 0
takes the group off. The figures are the owner's, not an appraisal: what is old or
rare is for somebody who knows. The list for the insurer: tuckrow print insurance.`,
		Example: "  tuckrow worth inherited=14 'Harrow & Pell=6.50' others=4\n  tuckrow worth --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				for _, arg := range args {
					at := strings.LastIndexByte(arg, '=')
					if at < 1 {
						return model.Inputf("%q is not GROUP=AMOUNT; write for example inherited=14", arg)
					}
					of, each := arg[:at], model.Money(0)
					if strings.EqualFold(of, "others") {
						of = ""
					}
					if amount := arg[at+1:]; amount != "0" {
						var err error
						if each, err = model.ParseMoney(amount); err != nil {
							return err
						}
					}
					if err := a.commit(cmd.Context(), s, &model.SetWorth{Of: of, Each: each}); err != nil {
						return err
					}
				}
				if len(args) > 0 {
					return nil
				}
				return a.worth(s.Collection())
			})
		},
	})
}

func (a *app) worth(c *model.Collection) error {
	all := worth.Add(c)
	out, rows := insured{[]insuredGroup{}, all.Sum.String(), append([]model.Accession{}, all.Unvalued...)}, [][]string{{"", "copies", "each", "together"}}
	for _, g := range all.Groups {
		x := insuredGroup{g.Of, g.Own, g.Each.String(), g.Sum.String(), g.Copies}
		if g.Own {
			x.Each = ""
		}
		out.Groups = append(out.Groups, x)
		rows = append(rows, []string{g.Name(), strconv.Itoa(len(g.Copies)), x.Each, x.Sum})
	}
	if a.json {
		return a.printJSON(out)
	}
	if n := len(all.Unvalued); n > 0 {
		rows = append(rows, []string{"without a value", strconv.Itoa(n), "", ""})
	}
	rows = append(rows, []string{"in all", strconv.Itoa(c.Copies().Len()), "", all.Sum.String()})
	return columns(a.out, rows)
}

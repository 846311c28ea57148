package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/owned"
	"example.org/tuckrow/model/propose"
	"github.com/spf13/cobra"
)

// haveAnswer is the JSON of have.
type haveAnswer struct {
	Answer  lookup.Answer `json:"answer"`
	Matches []haveMatch   `json:"matches"`
	Wishes  []wished      `json:"wishes"`          // what is wanted or on the way and fits
	Reads   string        `json:"reads,omitempty"` // what a barcode probably stands for
}

type haveMatch struct {
	Accession model.Accession `json:"accession"`
	Why       string          `json:"why"`
}

func (a *app) haveCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "have WORDS",
		Short: "Before buying: is it owned, or something close to it?",
		Long: `Says whether a pattern is owned already. Give the publisher (its beginning will
do) and the number, with the size range if there is one; or words of the name; or
the digits of a barcode.
What is on the list of wishes is said too. Exit code 0 when it is owned, or
something close to it is, or it is on the way; 1 when it is not.`,
		Example: "  tuckrow have harrow 6123 H5\n  tuckrow have quillon 220 && echo 'look at home first'",
		Args:    someArgs("a number or words of the name"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error { return a.have(s, strings.Join(args, " ")) })
		},
	})
}

func (a *app) have(s cupboard, words string) error {
	c, x := s.Collection(), s.Index()
	answered := owned.Ask(x, func() *propose.Known { return propose.New(c) }, words)
	verdict := answered.Verdict
	out, rows := haveAnswer{verdict, []haveMatch{}, wishesOf(s, x, answered.Wishes), answered.Reads}, [][]string(nil)
	for _, o := range answered.Owned {
		p := c.Pattern(o.Pattern)
		for _, cp := range x.Copies(o.Pattern) {
			out.Matches = append(out.Matches, haveMatch{cp, o.Why})
		}
		rows = append(rows, []string{"  " + c.Publisher(p.Publisher).Name, p.Number, p.Name, p.SizeRange, copies(len(x.Copies(o.Pattern))), o.Why})
	}
	coming := false
	for _, w := range out.Wishes {
		coming = coming || w.Ordered != ""
		rows = append(rows, []string{"  " + w.Publisher, w.Number, w.Name, w.SizeRange, "", w.state()})
	}
	if a.json {
		if err := a.printJSON(out); err != nil {
			return err
		}
	} else {
		says := map[lookup.Answer]string{lookup.Own: "owned:", lookup.Close: "not exactly, but close:", lookup.None: "not owned."}[verdict]
		if verdict == lookup.None && answered.Coded {
			says = answered.Barcode() + "."
		}
		a.printf("%s\n", says)
		if err := columns(a.out, rows); err != nil {
			return err
		}
	}
	if verdict == lookup.None && !coming {
		return answer(exitNo)
	}
	return nil
}

// wishesOf tells of wishes what has not come yet.
func wishesOf(s cupboard, x *lookup.Index, wishes []*model.Wish) []wished {
	out := []wished{}
	if len(wishes) == 0 {
		return out
	}
	l := s.Layout()
	for _, w := range wishes {
		if item := wishedOf(l, x, w); item.Here == 0 {
			out = append(out, item)
		}
	}
	return out
}

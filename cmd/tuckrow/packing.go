package main

import (
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
	"github.com/spf13/cobra"
)

// packed is the JSON of packing; lengths in mm, weights in kg.
type packed struct {
	Loads   []packedLoad `json:"loads"`
	Copies  int          `json:"copies"`
	Low     float64      `json:"low_kg"`
	High    float64      `json:"high_kg"`
	Caution string       `json:"caution"`
}

type packedLoad struct {
	Kind   moving.Kind  `json:"kind"`
	Name   string       `json:"name"`
	From   string       `json:"from"`
	To     string       `json:"to"`
	Items  int          `json:"items"` // copies; of a binder its pockets in use
	Length model.Length `json:"length_mm"`
	Low    float64      `json:"low_kg"` // both 0: no figure
	High   float64      `json:"high_kg"`
	Heavy  bool         `json:"heavy"` // more than one should lift alone
	Pack   int          `json:"pack"`  // as which one it is packed, from 1
	Unpack int          `json:"unpack"`
}

func (a *app) packingCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "packing",
		Short: "What there is to carry in a move, and about what it weighs",
		Long: `Lists what is carried together when the cupboard moves house: each box with what
is first and last in it, what is oversize, what waits to be filed, what hangs, and
the binders. Weights are estimated by thickness, so weigh one before you rely on
them. What is out is not carried. Boxes are packed from the last to the first and
unpacked from the first on, so that each stands at its place at once. A sheet with
squares to tick, what is packed and what is there: tuckrow print packing.`,
		Example: "  tuckrow packing\n  tuckrow packing --json",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.withShelf(a.packing) },
	})
}

func (a *app) packing(l *ordering.Layout) error {
	c, m := l.Collection(), moving.List(l)
	end := func(p *model.Pattern) string {
		if p == nil {
			return ""
		}
		return c.Publisher(p.Publisher).Name + " " + p.Short()
	}
	out := packed{[]packedLoad{}, m.Copies, m.Low, m.High, moving.Caution(0) + " " + moving.PackCaution}
	rows := [][]string{{"", "", "from", "to", "copies", "length", "weighs about", "pack", "unpack", ""}}
	for i, x := range m.Loads {
		p := packedLoad{x.Kind, x.Name, end(x.From), end(x.To), x.Items, x.Length, x.Low, x.High, x.Heavy(), m.Packed(i), m.Unpacked(i)}
		out.Loads = append(out.Loads, p)
		length, note := "", ""
		if x.Length > 0 {
			length = x.Length.In(unitsOf(c))
		}
		if p.Heavy {
			note = "too much for one: split it up, in order"
		}
		rows = append(rows, []string{string(x.Kind), x.Name, p.From, p.To, strconv.Itoa(x.Items), length, moving.Kilograms(x.Low, x.High), strconv.Itoa(p.Pack), strconv.Itoa(p.Unpack), note})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(m.Loads) == 0 {
		a.printf("there is nothing to carry.\n")
		return nil
	}
	a.prose(out.Caution, "")
	a.printf("\n")
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf("%s, in all about %s without the binders.\n", copies(m.Copies), moving.Kilograms(m.Low, m.High))
	return nil
}

package main

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/gtin"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
	"github.com/spf13/cobra"
)

// learnedCode is what the codes of a publisher have taught, in JSON. How sure is
// from 0 to 1.
type learnedCode struct {
	Prefix        string  `json:"prefix"`
	Publisher     string  `json:"publisher"`
	Sleeves       int     `json:"sleeves"` // so many begin so and are of the publisher,
	Of            int     `json:"of"`      // of so many that begin so
	SurePublisher float64 `json:"sure_publisher"`
	Agree         int     `json:"agree"` // so many have their number at one place,
	Tried         int     `json:"tried"` // of so many that could
	SureNumber    float64 `json:"sure_number"`
}

// readCode is what one code stands for, in JSON.
type readCode struct {
	Kind          gtin.Kind       `json:"kind"`
	Digits        string          `json:"digits"`
	Pattern       model.PatternID `json:"pattern"` // that bears it; 0: none that is listed
	What          string          `json:"what"`
	Publisher     string          `json:"publisher"`
	SurePublisher float64         `json:"sure_publisher"`
	Number        string          `json:"number"`
	SureNumber    float64         `json:"sure_number"`
}

func (a *app) codesCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "codes [CODE]",
		Short: "What the barcodes on sleeves have taught, and how sure that is",
		Long: `Lists by how they begin which publisher's sleeves bear which codes, from how many
sleeves that was learned, and whether the number can be read out of the code. Nothing
is kept besides the sleeves themselves: what turns out wrong and is corrected
(tuckrow change) counts against the guess from then on.

With a code (GTIN-8, 12 or 13, UPC-E, ISBN, ISSN; a supplement behind a plus) it says
what it is and what it stands for. How sure: who was right in m of n cases is right in
the next with (m+1)/(n+2).`,
		Example: "  tuckrow codes\n  tuckrow codes 6291041500213",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if len(args) > 0 {
					return a.readCode(s.Collection(), strings.Join(args, " "))
				}
				return a.codes(s.Collection())
			})
		},
	})
}

func (a *app) codes(c *model.Collection) error {
	out, rows := []learnedCode{}, [][]string{{"begins", "publisher", "learned from", "sure", "its number", "sure"}}
	for _, l := range propose.New(c).Learned() {
		x := learnedCode{l.Prefix, l.Guess.Publisher, l.Sleeves, l.Of, l.SurePublisher(), l.Agree, l.Tried, l.SureNumber()}
		out = append(out, x)
		number, sure := "not read", ""
		if x.Agree > 0 {
			number, sure = fmt.Sprintf("read alike in %d of %d", x.Agree, x.Tried), percent(x.SureNumber)
		}
		rows = append(rows, []string{x.Prefix, x.Publisher, fmt.Sprintf("%d of %d", x.Sleeves, x.Of), percent(x.SurePublisher), number, sure})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("no sleeve with a code is listed yet; scan one at intake, or note it with barcode=.\n")
		return nil
	}
	return columns(a.out, rows)
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

func (a *app) readCode(c *model.Collection, text string) error {
	code, err := gtin.Parse(text)
	if err != nil {
		return model.Inputf("%v", err)
	}
	g := propose.New(c).Code(text)
	x := readCode{code.Kind, code.String(), g.Pattern, "", g.Publisher, g.SurePublisher(), g.Number, g.SureNumber()}
	if p := c.Pattern(g.Pattern); p != nil {
		x.What = c.Called(p.ID)
	}
	if a.json {
		return a.printJSON(x)
	}
	a.printf("%s %s\n", x.Kind, x.Digits)
	switch {
	case x.Pattern != 0:
		a.printf("on a sleeve that is listed: %s\n", x.What)
	case x.Publisher == "":
		a.printf("nothing that is listed says whose it is\n")
	default:
		a.printf("probably %s: %s sure, from %d of %s\n", x.Publisher, percent(x.SurePublisher), g.Sleeves, words.Count(g.Of, "sleeve", "sleeves"))
		if x.Number != "" {
			a.printf("probably number %s: %s sure, from %d of %s\n", x.Number, percent(x.SureNumber), g.Agree, words.Count(g.Tried, "sleeve", "sleeves"))
		}
	}
	return nil
}

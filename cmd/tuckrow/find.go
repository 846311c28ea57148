package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// foundCopy is one copy in the JSON of find.
type foundCopy struct {
	Accession model.Accession `json:"accession"`
	Pattern   model.PatternID `json:"pattern"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	SizeRange string          `json:"size_range"`
	Where     where           `json:"where"`
	Links     []linked        `json:"links"` // patterns that it has to do with
}

// linked is a pattern that another has to do with.
type linked struct {
	Pattern model.PatternID `json:"pattern"`
	Kind    model.LinkKind  `json:"kind"`
	What    string          `json:"what"`
}

// where is a slot in JSON; lengths in mm.
type where struct {
	Kind      ordering.Place   `json:"kind"`
	Box       string           `json:"box,omitempty"`
	Position  int              `json:"position,omitempty"`
	FromFront model.Length     `json:"from_front_mm"`
	Behind    *model.Accession `json:"behind"`
	Before    *model.Accession `json:"before"`
	Section   string           `json:"section"`
	Text      string           `json:"text"`
}

func (a *app) findCommand() *cobra.Command {
	limit := 50
	cmd := &cobra.Command{
		Use:   "find WORDS",
		Short: "Look something up and say where it stands",
		Long: `Looks up a number with or without its prefix and zeros, words of the name, the
beginning of a publisher's name, a category. All words must fit; when none does,
a small typing error is allowed for.`,
		Example: "  tuckrow find 6123\n  tuckrow find harrow wrap dress",
		Args:    someArgs("something to look for"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withStore(func(c cupboard) error { return a.find(c, strings.Join(args, " "), limit) })
		},
	}
	cmd.Flags().IntVar(&limit, "most", limit, "how many patterns to show at the most")
	return a.reads(cmd)
}

func (a *app) find(in cupboard, words string, limit int) error {
	l := in.Layout()
	c := l.Collection()
	f, copiesOf := in.Find(words, limit)
	out, rows := []foundCopy{}, [][]string(nil)
	for _, p := range f.Patterns {
		for _, cp := range copiesOf[p] {
			s := l.Slot(cp)
			found := describe(l, cp, s)
			out = append(out, found)
			rows = append(rows, []string{found.Publisher, found.Number, found.Name, found.SizeRange, slotText(l, s)})
		}
	}
	if a.json {
		return a.printJSON(out)
	}
	switch {
	case len(rows) == 0 && c.Copies().Len() == 0:
		a.printf("nothing is listed yet; enter patterns with tuckrow, or tuckrow import FILE.\n")
	case len(rows) == 0:
		a.printf("nothing found for %q.\n", words)
	case f.Guessed:
		a.printf("nothing is exactly %q; nearly so:\n", words)
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	for _, p := range f.Patterns {
		for _, to := range c.Pattern(p).Links {
			a.printf("%s: %s %s\n", c.Pattern(p).Heading(), to.Kind, c.Called(to.To))
		}
	}
	if f.Total > len(f.Patterns) {
		a.printf("and %d more; add a word, or --most %d\n", f.Total-len(f.Patterns), f.Total)
	}
	return nil
}

func describe(l *ordering.Layout, cp model.Accession, s ordering.Slot) foundCopy {
	c := l.Collection()
	p := c.PatternOf(cp)
	w := where{Kind: s.Kind, Box: s.Box.Name, Position: s.Position, FromFront: s.FromFront, Section: s.Section, Text: s.Text()}
	if s.Behind != nil {
		w.Behind = &s.Behind.Copy
	}
	if s.Before != nil {
		w.Before = &s.Before.Copy
	}
	links := []linked{}
	for _, to := range p.Links {
		links = append(links, linked{to.To, to.Kind, c.Called(to.To)})
	}
	return foundCopy{cp, p.ID, c.Publisher(p.Publisher).Name, p.Number, p.Name, p.SizeRange, w, links}
}

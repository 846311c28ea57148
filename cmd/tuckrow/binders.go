package main

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// boundBinder is one binder, in the JSON of binders.
type boundBinder struct {
	Title    string       `json:"title"`
	Category string       `json:"category"`
	New      bool         `json:"new"` // it is not there yet
	Of       int          `json:"of"`  // pockets that it has
	Used     int          `json:"used"`
	Pockets  []boundSheet `json:"pockets"`
}

// boundSheet is one pocket, or a see-also entry.
type boundSheet struct {
	Pocket     int             `json:"pocket"`      // from the front, 1 first; 0: a line on the index page
	SubDivider string          `json:"sub_divider"` // that it stands behind
	In         string          `json:"in"`          // original, photocopy, nothing yet, nothing, see also
	Pattern    model.PatternID `json:"pattern"`
	Publisher  string          `json:"publisher"`
	Number     string          `json:"number"`
	Name       string          `json:"name"`
	SizeRange  string          `json:"size_range"`
	See        string          `json:"see,omitempty"` // where the sleeve of a see-also entry is
	Envelopes  []string        `json:"envelopes"`     // where each copy is
}

func (a *app) bindersCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:   "binders [CATEGORY]",
		Short: "The catalogue: what is in which pocket of which binder",
		Long: `Without a category, lists the binders and how full they are. With one, lists its
pockets front to back: what is in each (the original, a photocopy, nothing yet, or
nothing, because the sleeve is missing), see-also entries of what is for several
garments, and where the envelope is.

How a category is parted and how see-also entries are made is said in the shelf
file, with sub_dividers and see_also of a [[binder]]; which further categories a
pattern is in, with: tuckrow change WORDS also_in=Coats; and that a photocopy of its
sleeve is in the binder there, with: tuckrow change WORDS photocopied_in=Coats.`,
		Example: "  tuckrow binders\n  tuckrow binders dresses\n  tuckrow binders coats --json",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withShelf(func(l *ordering.Layout) error { return a.binders(l, strings.Join(args, " ")) })
		},
	})
}

func (a *app) binders(l *ordering.Layout, category string) error {
	c, out := l.Collection(), []boundBinder{}
	var only *model.Category
	if category != "" {
		if only = categoryLike(c, category); only == nil {
			return model.Inputf("there is no category %q; tuckrow binders lists those that have a binder", category)
		}
	}
	copies := map[model.PatternID][]model.Accession{}
	for _, cp := range c.Copies().All() {
		copies[cp.Pattern] = append(copies[cp.Pattern], cp.Accession)
	}
	for _, h := range l.Binders() {
		if only == nil || h.Binder.Category == only.ID {
			out = append(out, boundOf(l, &h, copies))
		}
	}
	switch {
	case a.json:
		return a.printJSON(out)
	case len(out) == 0:
		a.printf("there is no binder, and no sleeve for one.\n")
		return nil
	case only == nil:
		return a.sayBinders(out)
	}
	for i := range out {
		if err := a.sayPockets(&out[i]); err != nil {
			return err
		}
	}
	return nil
}

// categoryLike finds a category by its name, or by how just one begins.
func categoryLike(c *model.Collection, name string) *model.Category {
	if k := c.CategoryNamed(name); k != nil {
		return k
	}
	var like []*model.Category
	for _, k := range c.Categories().All() {
		if strings.HasPrefix(words.Fold(k.Name), words.Fold(name)) {
			like = append(like, k)
		}
	}
	if len(like) != 1 {
		return nil
	}
	return like[0]
}

func boundOf(l *ordering.Layout, h *ordering.BinderHolding, copies map[model.PatternID][]model.Accession) boundBinder {
	c := l.Collection()
	b := boundBinder{h.Title(), h.Category, h.New, h.Binder.Pockets, h.Used(), []boundSheet{}}
	for i, x := range h.Pockets {
		p := x.Pattern
		s := boundSheet{Pocket: x.N, In: inPocket(x), Pattern: p.ID, Publisher: c.Publisher(p.Publisher).Name, Number: p.Number, Name: p.Name, SizeRange: p.SizeRange, Envelopes: []string{}}
		for _, part := range h.Parts {
			if i >= part.From && i < part.To {
				s.SubDivider = part.Title
			}
		}
		if x.Home != nil {
			s.See = x.Home.String()
		}
		for _, a := range copies[p.ID] {
			s.Envelopes = append(s.Envelopes, slotText(l, l.Slot(a)))
		}
		b.Pockets = append(b.Pockets, s)
	}
	return b
}

// inPocket says what is in a pocket.
func inPocket(x ordering.Pocket) string {
	switch {
	case x.Photocopy:
		return "photocopy"
	case x.Home != nil:
		return "see also"
	case x.In == model.SleeveInBinder:
		return "original"
	case x.In == model.SleevePhotocopy:
		return "photocopy"
	case x.In == model.SleeveMissing:
		return "nothing"
	}
	return "nothing yet"
}

func (a *app) sayBinders(binders []boundBinder) error {
	rows := [][]string{{"binder", "pockets", "", ""}}
	for _, b := range binders {
		note, ends := "", ""
		if b.New {
			note = "to be got"
		}
		if n := len(b.Pockets); n > 0 {
			first, last := b.Pockets[0], b.Pockets[n-1]
			ends = fmt.Sprintf("%s %s to %s %s", first.Publisher, cmp.Or(first.Number, first.Name), last.Publisher, cmp.Or(last.Number, last.Name))
			if first.SubDivider != last.SubDivider {
				ends = first.SubDivider + " to " + last.SubDivider
			}
		}
		rows = append(rows, []string{b.Title, fmt.Sprintf("%d of %d", b.Used, b.Of), ends, note})
	}
	return columns(a.out, rows)
}

func (a *app) sayPockets(b *boundBinder) error {
	a.printf("%s: %d of %d pockets\n", b.Title, b.Used, b.Of)
	var rows [][]string
	part := ""
	flush := func() error {
		defer func() { rows = nil }()
		return columns(a.out, rows)
	}
	for _, s := range b.Pockets {
		if s.SubDivider != part {
			if err := flush(); err != nil {
				return err
			}
			part = s.SubDivider
			a.printf("%s\n", part)
		}
		pocket, in, where := "", s.In, strings.Join(s.Envelopes, "; ")
		if s.Pocket > 0 {
			pocket = strconv.Itoa(s.Pocket)
		}
		if s.See != "" {
			in = "see " + s.See
			if s.In == "photocopy" {
				in = "photocopy, see " + s.See
			}
		}
		rows = append(rows, []string{"  " + pocket, in, s.Publisher, s.Number, s.Name, s.SizeRange, where})
	}
	return flush()
}

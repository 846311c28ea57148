package main

import (
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/sewing"
	"github.com/spf13/cobra"
)

func (a *app) sewnCommand() *cobra.Command {
	drop, entry := 0, 0
	cmd := &cobra.Command{
		Use:   "sewn [WORDS [FIELD=VALUE...]]",
		Short: "Note what was made of a pattern",
		Long: `Notes that something was made: on (the day, else today), for (whom), view, size,
cloth, changed (what was changed on the pattern), better (what to do better the
next time) and notes. It is not to be sewn any more. A copy that it was cut from and
that is not listed as cut is named, with the command that lists it so. Without
words it lists what was made. With --entry, an entry of that list is said anew.`,
		Example: "  tuckrow sewn harrow 6123 for=Ada view=B size=14 cloth='blue wool' changed='20 mm longer' better='line it'\n  tuckrow sewn --entry 3 better='line it'\n  tuckrow sewn",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				c := s.Collection()
				words, given := nameAnd(args)
				switch {
				case drop != 0:
					return a.commit(cmd.Context(), s, &model.Strike{Kind: model.KindMake.String(), ID: uint32(drop)})
				case entry == 0 && words == "":
					return a.listSewn(c)
				}
				m, err := makeOf(s, entry, words)
				if err != nil {
					return err
				}
				err = assign(given, map[string]func(string) error{
					"on": intoDate("on", &m.On), "for": into(&m.For), "view": into(&m.View), "size": into(&m.Size), "cloth": into(&m.Cloth),
					"changed": into(&m.Changed), "better": into(&m.Better), "notes": into(&m.Notes),
				})
				if err != nil {
					return err
				}
				if err := a.commit(cmd.Context(), s, &model.Sewn{Make: m}); err != nil || entry != 0 {
					return err
				}
				if cp := sewing.Uncut(s.Collection(), m.Pattern); cp != 0 {
					a.printf("copy %d is not listed as cut; if it is now: tuckrow change --copy %d cut=cut\n", cp, cp)
				}
				return nil
			})
		},
	}
	cmd.Flags().IntVar(&drop, "drop", 0, "number of an entry that was a mistake")
	cmd.Flags().IntVar(&entry, "entry", 0, "number of an entry to say anew")
	return a.reads(cmd)
}

// makeOf is an entry of the log to say anew, or a new one of a pattern.
func makeOf(s cupboard, entry int, words string) (model.Make, error) {
	if entry == 0 {
		p, err := onePattern(s, words)
		if err != nil {
			return model.Make{}, err
		}
		return model.Make{Pattern: p.ID}, nil
	}
	if old := s.Collection().Makes().Get(uint32(max(0, entry))); old != nil {
		return *old, nil
	}
	return model.Make{}, model.Inputf("nothing made has number %d; tuckrow sewn lists what was made", entry)
}

// onePattern finds the pattern that the user means by words that lead to just
// one.
func onePattern(s cupboard, words string) (*model.Pattern, error) {
	c, x := s.Collection(), s.Index()
	ids := x.Named(words)
	if len(ids) == 0 {
		const few = 20
		ids = x.Find(words, few).Patterns
	}
	switch len(ids) {
	case 0:
		return nil, model.Inputf("%q leads to no pattern; look it up with: tuckrow find %s", words, words)
	case 1:
		return c.Pattern(ids[0]), nil
	}
	text := strconv.Quote(words) + " could be one of these; say more of it:"
	for _, id := range ids[:min(len(ids), 10)] {
		text += "\n  " + c.Called(id)
	}
	return nil, &model.InputError{Text: text}
}

func (a *app) listSewn(c *model.Collection) error {
	out, rows := []*model.Make{}, [][]string{{"", "made", "of", "for", "view", "size", "cloth", "changed, better the next time"}}
	for _, noted := range c.Makes().All() {
		m := *noted
		m.Title = c.CalledOr(m.Pattern, m.Title)
		out = append(out, &m)
		said := []string{m.Changed, label("better: ", m.Better), m.Notes}
		rows = append(rows, []string{strconv.Itoa(int(m.ID)), string(m.On), m.Title, m.For, m.View, m.Size, m.Cloth, joined(said, "; ")})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("nothing is noted as made yet.\n")
		return nil
	}
	return columns(a.out, rows)
}

// joined writes what there is of texts with something between.
func joined(texts []string, between string) string {
	var there []string
	for _, t := range texts {
		if t != "" {
			there = append(there, t)
		}
	}
	return strings.Join(there, between)
}

// share is what of a category is owned and made, in JSON.
type share struct {
	Category string `json:"category"` // empty: those without
	Owned    int    `json:"owned"`
	Made     int    `json:"made"` // of so many something was made
	Makes    int    `json:"makes"`
}

func (a *app) statsCommand() *cobra.Command {
	return a.reads(&cobra.Command{
		Use:     "stats",
		Short:   "What is owned and what was made of it, by category",
		Long:    "Shows for each category how many patterns are owned and of how many of them\nsomething was made, as a picture.",
		Example: "  tuckrow stats",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			return a.withStore(func(s cupboard) error { return a.stats(s.Collection()) })
		},
	})
}

func (a *app) stats(c *model.Collection) error {
	out, most := []share{}, 1
	for _, s := range sewing.Shares(c) {
		out = append(out, share(s))
		most = max(most, s.Owned)
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("nothing is listed yet.\n")
		return nil
	}
	const wide = 40
	rows := [][]string{{"category", "owned", "made", "# made  . owned"}}
	for _, s := range out {
		category := s.Category
		if category == "" {
			category = "(none)"
		}
		rows = append(rows, []string{category, strconv.Itoa(s.Owned), strconv.Itoa(s.Made), bar(s.Made, s.Owned, most, wide)})
	}
	return columns(a.out, rows)
}

// bar draws what was made of what is owned, so that the largest category is as
// wide as said. What is there at all is at least one sign wide.
func bar(made, owned, most, wide int) string {
	width := max(1, owned*wide/most)
	part := made * width / max(1, owned)
	if made > 0 {
		part = max(1, part)
	}
	return strings.Repeat("#", part) + strings.Repeat(".", width-part)
}

package main

import (
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/sewing"
	"github.com/spf13/cobra"
)

func (a *app) nextCommand() *cobra.Command {
	drop, at := false, 0
	cmd := &cobra.Command{
		Use:   "next [WORDS [FIELD=VALUE...]]",
		Short: "What to sew next, in order",
		Long: `Without words, lists what is to be sewn next. Words put a pattern at the end of
that list, or with --at to that place in it; by (a day), for (whom), cloth and
notes can be said. With --drop it is taken out. tuckrow choose gives reasons what
to put in.`,
		Example: "  tuckrow next harrow 6123 for=Ada by=2026-12-20\n  tuckrow next cape --at 1\n  tuckrow next --drop cape",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				words, given := nameAnd(args)
				if words == "" {
					return a.listNext(s.Collection())
				}
				p, err := onePattern(s, words)
				if err != nil {
					return err
				}
				if drop {
					return a.commit(cmd.Context(), s, &model.Dequeue{Pattern: p.ID})
				}
				q := nextAs(s.Collection(), p.ID)
				err = assign(given, map[string]func(string) error{
					"by": intoDate("by", &q.By), "since": intoDate("since", &q.Since), "for": into(&q.For), "cloth": into(&q.Cloth), "notes": into(&q.Notes),
				})
				if err != nil {
					return err
				}
				return a.commit(cmd.Context(), s, &model.Enqueue{Item: q, At: at})
			})
		},
	}
	cmd.Flags().BoolVar(&drop, "drop", false, "strike it off")
	cmd.Flags().IntVar(&at, "at", 0, "to which place, 1 first")
	return a.reads(cmd)
}

// nextAs is what is said of a pattern already.
func nextAs(c *model.Collection, id model.PatternID) model.Queued {
	for _, q := range c.Queue() {
		if q.Pattern == id {
			return q
		}
	}
	return model.Queued{Pattern: id}
}

func (a *app) listNext(c *model.Collection) error {
	out, rows := []model.Queued{}, [][]string{{"", "what", "for", "by", "cloth", "notes"}}
	for i, q := range c.Queue() {
		q.Title = c.CalledOr(q.Pattern, q.Title)
		out = append(out, q)
		by := string(q.By)
		if by != "" && q.By < today() {
			by += ", late"
		}
		title := q.Title
		if p := c.Pattern(q.Pattern); p == nil {
			title += " (not listed any more)"
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), title, q.For, by, q.Cloth, q.Notes})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("nothing is to be sewn yet; tuckrow choose says what could be.\n")
		return nil
	}
	return columns(a.out, rows)
}

// goalShown is how far a goal has got, in JSON.
type goalShown struct {
	ID    model.GoalID `json:"id"`
	Name  string       `json:"name"`
	Since model.Date   `json:"since"`
	Done  int          `json:"done"`
	Of    []goalStep   `json:"of"`
}

type goalStep struct {
	What string       `json:"what"`
	On   model.Date   `json:"on"`   // empty: not yet
	Made model.MakeID `json:"made"` // 0: not yet
}

func (a *app) goalCommand() *cobra.Command {
	drop := false
	cmd := &cobra.Command{
		Use:   "goal [NAME [of='THIS; THAT...']]",
		Short: "At least one of each of these, and how far that has got",
		Long: `Sets a goal: to make at least one of each of these, from today or the day since=
on. What to make is a category, or words that the pattern's title has. Without
of= it shows the goal, without a name all of them.`,
		Example: "  tuckrow goal winter of='Coats and jackets; Nightwear; beret'\n  tuckrow goal winter\n  tuckrow goal --drop winter",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				c := s.Collection()
				name, given := nameAnd(args)
				if drop {
					g, err := goalNamed(c, name)
					if err != nil {
						return err
					}
					return a.commit(cmd.Context(), s, &model.Strike{Kind: model.KindGoal.String(), ID: uint32(g.ID)})
				}
				if len(given) == 0 {
					return a.listGoals(c, name)
				}
				g := model.Goal{Name: name}
				if old := c.GoalNamed(name); old != nil {
					g = *old
				}
				err := assign(given, map[string]func(string) error{
					"since": intoDate("since", &g.Since),
					"of":    func(text string) error { g.Of = listOf(text); return nil },
				})
				if err != nil {
					return err
				}
				return a.commit(cmd.Context(), s, &model.SetGoal{Goal: g})
			})
		},
	}
	cmd.Flags().BoolVar(&drop, "drop", false, "give the goal up")
	return a.reads(cmd)
}

func goalNamed(c *model.Collection, name string) (*model.Goal, error) {
	if g := c.GoalNamed(name); g != nil {
		return g, nil
	}
	return nil, model.Inputf("there is no goal %q; tuckrow goal lists them", name)
}

func (a *app) listGoals(c *model.Collection, name string) error {
	out := []goalShown{}
	for _, g := range c.Goals().All() {
		if name != "" && g != c.GoalNamed(name) {
			continue
		}
		shown := goalShown{ID: g.ID, Name: g.Name, Since: g.Since, Of: []goalStep{}}
		for _, s := range sewing.Progress(c, g) {
			step := goalStep{What: s.Of}
			if s.Made != nil {
				step.On, step.Made = s.Made.On, s.Made.ID
				shown.Done++
			}
			shown.Of = append(shown.Of, step)
		}
		out = append(out, shown)
	}
	switch {
	case a.json:
		return a.printJSON(out)
	case len(out) == 0 && name != "":
		_, err := goalNamed(c, name)
		return err
	case len(out) == 0:
		a.printf("no goal is set; say for example: tuckrow goal winter of='Coats; Nightwear'\n")
		return nil
	}
	return a.showGoals(c, out)
}

func (a *app) showGoals(c *model.Collection, goals []goalShown) error {
	for _, g := range goals {
		a.printf("%s: %d of %d since %s\n", g.Name, g.Done, len(g.Of), g.Since)
		var rows [][]string
		for _, s := range g.Of {
			if s.Made == 0 {
				rows = append(rows, []string{"  .", s.What})
			} else {
				m := c.Makes().Get(uint32(s.Made))
				rows = append(rows, []string{"  #", s.What, string(s.On), c.CalledOr(m.Pattern, m.Title)})
			}
		}
		if err := columns(a.out, rows); err != nil {
			return err
		}
	}
	return nil
}

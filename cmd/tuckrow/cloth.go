package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/cloth"
	"example.org/tuckrow/model/fit"
	"github.com/spf13/cobra"
)

func (a *app) clothCommand() *cobra.Command {
	forget := false
	cmd := &cobra.Command{
		Use:   "cloth [NAME [FIELD=VALUE...]]",
		Short: "Note the cloth in the cupboard",
		Long: `Notes a length of cloth: width, length, one_way (yes for pile or a print that
runs one way) and notes. With a name known already, what is given replaces what
was noted. Without fields it shows the cloth, without a name all of it.`,
		Example: "  tuckrow cloth blue wool width='140 cm' length='2.5 m' one_way=yes\n  tuckrow cloth blue wool length='1 1/4 yd'\n  tuckrow cloth --forget blue wool",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				name, given := nameAnd(args)
				if forget {
					c, err := clothNamed(s.Collection(), name)
					if err != nil {
						return err
					}
					return a.commit(cmd.Context(), s, &model.Strike{Kind: model.KindCloth.String(), ID: uint32(c.ID)})
				}
				if len(given) == 0 {
					return a.listCloth(s.Collection(), name)
				}
				c := model.Cloth{Name: name}
				if old := s.Collection().ClothNamed(name); old != nil {
					c = *old
				}
				err := assign(given, map[string]func(string) error{
					"width": intoMeasure("width", model.ParseCloth, &c.Width), "length": intoMeasure("length", model.ParseCloth, &c.Length), "one_way": intoYes("one_way", &c.OneWay), "notes": into(&c.Notes),
				})
				if err != nil {
					return err
				}
				return a.commit(cmd.Context(), s, &model.SetCloth{Cloth: c})
			})
		},
	}
	cmd.Flags().BoolVar(&forget, "forget", false, "take the cloth off the list: it is used up")
	return a.reads(cmd)
}

func clothNamed(c *model.Collection, name string) (*model.Cloth, error) {
	if x := c.ClothNamed(name); x != nil {
		return x, nil
	}
	if name == "" {
		return nil, model.Inputf("say which cloth, with --cloth; tuckrow cloth lists what there is")
	}
	return nil, model.Inputf("there is no cloth %q; tuckrow cloth lists what there is, and tuckrow cloth %q width='140 cm' length='2.5 m' adds one", name, name)
}

func (a *app) listCloth(c *model.Collection, name string) error {
	out, rows := []*model.Cloth{}, [][]string{{"cloth", "width", "length", "runs", "notes"}}
	s := c.Shelf().Settings
	for _, x := range c.Cloths().All() {
		if name != "" && x != c.ClothNamed(name) {
			continue
		}
		runs := ""
		if x.OneWay {
			runs = "one way"
		}
		out = append(out, x)
		rows = append(rows, []string{x.Name, s.Tape(x.Width), s.ClothThere(x.Length), runs, x.Notes})
	}
	switch {
	case a.json:
		return a.printJSON(out)
	case len(out) == 0 && name != "":
		_, err := clothNamed(c, name)
		return err
	case len(out) == 0:
		a.printf("no cloth is noted yet; say for example: tuckrow cloth blue wool width='140 cm' length='2.5 m'\n")
		return nil
	}
	return columns(a.out, rows)
}

// needed is whether a cloth is enough for one view and size, in JSON; lengths in
// mm.
type needed struct {
	Pattern   model.PatternID `json:"pattern"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	View      string          `json:"view"`
	Size      string          `json:"size"`
	For       string          `json:"for"`
	Verdict   cloth.Verdict   `json:"verdict"`
	Need      model.Length    `json:"need_mm"`
	Short     model.Length    `json:"short_mm"`
	Spare     model.Length    `json:"spare_mm"`
	Printed   bool            `json:"printed"`
	Why       []string        `json:"why"`
}

func (a *app) enoughCommand() *cobra.Command {
	var size, of string
	all := false
	cmd := &cobra.Command{
		Use:   "enough WORDS --cloth NAME",
		Short: "Is there cloth enough for a pattern?",
		Long: `Says for which views and sizes a cloth is enough. What the sleeve prints for this
width is taken as it is; any other width is converted by a chart, and then it is
an estimate. Without words it looks through all patterns whose sleeve's needs are
noted (field cloth_needed). What is short is left out unless --all is given or
words are.`,
		Example: "  tuckrow enough harrow 6123 --cloth 'blue wool' --size 14\n  tuckrow enough --cloth 'blue wool'",
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				x, err := clothNamed(s.Collection(), of)
				if err != nil {
					return err
				}
				return a.enough(s, x, strings.Join(args, " "), size, all)
			})
		},
	}
	cmd.Flags().StringVar(&of, "cloth", "", "which cloth (required)")
	cmd.Flags().StringVar(&size, "size", "", "only this size")
	cmd.Flags().BoolVar(&all, "all", false, "also what it is too short for")
	return a.reads(cmd)
}

func (a *app) enough(in cupboard, x *model.Cloth, words, size string, all bool) error {
	c, out, rows := in.Collection(), []needed{}, [][]string(nil)
	s, listed := c.Shelf().Settings, 0
	for _, p := range patternsFor(in, words) {
		for _, n := range neededOf(c, p, cloth.For(p.Needs, x, c.Shelf().Settings)) {
			listed++
			if size != "" && !fit.Covers(n.Size, size) || n.Verdict == cloth.Short && words == "" && !all {
				continue
			}
			out = append(out, n)
			need := ""
			if n.Need > 0 {
				need = "needs " + s.Cloth(n.Need)
			}
			rows = append(rows, []string{string(n.Verdict), n.Publisher, n.Number, n.Name, label("view ", n.View), label("size ", n.Size), n.For, need, strings.Join(n.Why, "; ")})
		}
	}
	if a.json {
		return a.printJSON(out)
	}
	switch {
	case listed == 0:
		a.printf("of no such pattern is noted what cloth its sleeve asks for; note it with: tuckrow change WORDS cloth_needed='A | 10-14 | 45 in | 2 1/4 yd'\n")
	case len(rows) == 0:
		a.printf("%s is enough for none of them.\n", x.Name)
	}
	return columns(a.out, rows)
}

// neededOf writes answers of one pattern for JSON.
func neededOf(c *model.Collection, p *model.Pattern, answers []cloth.Answer) []needed {
	out := make([]needed, 0, len(answers))
	for _, n := range answers {
		out = append(out, needed{p.ID, c.Publisher(p.Publisher).Name, p.Number, p.Name, n.View, n.Size, n.For, n.Verdict,
			n.Need, max(0, -n.Spare), max(0, n.Spare), n.Printed, n.Why})
	}
	return out
}

func label(what, of string) string {
	if of == "" {
		return ""
	}
	return what + of
}

// patternsFor lists the patterns that words lead to; no words lead to all.
func patternsFor(s cupboard, words string) []*model.Pattern {
	var out []*model.Pattern
	c := s.Collection()
	if words == "" {
		for _, p := range c.Patterns().All() {
			out = append(out, p)
		}
		return out
	}
	const most = 200 // nobody reads more
	for _, id := range s.Index().Find(words, most).Patterns {
		out = append(out, c.Pattern(id))
	}
	return out
}

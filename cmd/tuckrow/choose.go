package main

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/choose"
	"example.org/tuckrow/model/fit"
	"example.org/tuckrow/ordering"
	"github.com/spf13/cobra"
)

// chooseOptions are the flags of choose as they are typed.
type chooseOptions struct {
	category, publisher, years, cut, who, by, cloth, size string
	never, south                                          bool
	most                                                  int
}

// chosen is a pattern that answers, in JSON; lengths in mm.
type chosen struct {
	Accession model.Accession `json:"accession"`
	Pattern   model.PatternID `json:"pattern"`
	Publisher string          `json:"publisher"`
	Number    string          `json:"number"`
	Name      string          `json:"name"`
	Known     bool            `json:"known"` // all that was asked is known
	Reasons   []string        `json:"reasons"`
	Fit       *fitCopy        `json:"fit,omitempty"`
	Cloth     []needed        `json:"cloth,omitempty"`
	Where     where           `json:"where"`
}

func (a *app) chooseCommand() *cobra.Command {
	var o chooseOptions
	cmd := &cobra.Command{
		Use:   "choose [WORDS]",
		Short: "Shop the own shelf: what to sew next, with reasons",
		Long: `Lists what could be sewn next: first that for which most speaks (never made, tagged
with the season to come, asked for by a goal), of those what has waited longest.
It can be narrowed by words, category, publisher, years and cut state, by whom it
is to fit and which cloth it is to be cut from. What certainly does not fit is
left out; what is not known comes last. What is out or to be sewn next is not offered.`,
		Example: "  tuckrow choose --who Ada --cloth 'blue wool' --size 14 --category Dresses\n  tuckrow choose --never-made --years 1940-1965 --cut uncut",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if !cmd.Flags().Changed("south") {
					o.south = s.Collection().Shelf().Settings.Half == model.South
				}
				q, err := o.question(s, strings.Join(args, " "))
				if err != nil {
					return err
				}
				return a.choose(s.Layout(), q, o.most)
			})
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.category, "category", "", "only this category")
	f.StringVar(&o.publisher, "publisher", "", "only this publisher")
	f.StringVar(&o.years, "years", "", "only of these years: 1950, 1950-1965, 1950-, -1965")
	f.StringVar(&o.cut, "cut", "", "only uncut, partly or cut ones")
	f.StringVar(&o.who, "who", "", "whom it is to fit")
	f.StringVar(&o.by, "by", "", "by which measures: bust, waist, hip")
	f.StringVar(&o.cloth, "cloth", "", "what it is to be cut from")
	f.StringVar(&o.size, "size", "", "in which size")
	f.BoolVar(&o.never, "never-made", false, "only what was never made")
	f.BoolVar(&o.south, "south", false, "the seasons of the southern half of the world (else by hemisphere in the shelf file)")
	f.IntVar(&o.most, "most", 20, "how many to show at the most")
	return a.reads(cmd)
}

// question reads what is looked for.
func (o chooseOptions) question(s cupboard, words string) (q choose.Question, err error) {
	c := s.Collection()
	q = choose.Question{NeverMade: o.never, South: o.south, On: today(), Size: o.size}
	if words != "" {
		const plenty = 1 << 20
		q.Words = append([]model.PatternID{}, s.Index().Find(words, plenty).Patterns...)
	}
	if o.category != "" {
		if q.Category = c.CategoryNamed(o.category); q.Category == nil {
			return q, model.Inputf("there is no category %q; tuckrow stats lists them", o.category)
		}
	}
	if o.publisher != "" {
		if q.Publisher = c.PublisherNamed(o.publisher); q.Publisher == nil {
			return q, model.Inputf("there is no publisher %q; tuckrow find %s looks for it", o.publisher, o.publisher)
		}
	}
	if q.Cut, err = model.ParseCut(o.cut); err != nil {
		return q, err
	}
	if q.From, q.To, err = choose.ParseYears(o.years); err != nil {
		return q, fmt.Errorf("--years %w", err)
	}
	if q.By, err = fit.ParseMeasures(o.by); err != nil {
		return q, fmt.Errorf("--by %w", err)
	}
	if o.who != "" {
		if q.Who, err = personNamed(c, o.who); err != nil {
			return q, err
		}
	}
	if o.cloth != "" {
		q.Cloth, err = clothNamed(c, o.cloth)
	}
	return q, err
}

func (a *app) choose(l *ordering.Layout, q choose.Question, most int) error {
	c, out, rows := l.Collection(), []chosen{}, [][]string(nil)
	offers := choose.Offers(c, q)
	for _, o := range offers[:min(len(offers), max(0, most))] {
		item := chosenOf(l, q, o)
		out = append(out, item)
		place := item.Where.Text
		if item.Where.Box != "" {
			place = "box " + item.Where.Box + ", place " + strconv.Itoa(item.Where.Position)
		}
		rows = append(rows, []string{item.Publisher, item.Number, item.Name, strings.Join(item.Reasons, ", "), item.said(), place})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("nothing on the shelf is like that.\n")
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	if len(offers) > len(out) {
		a.printf("and %d more; narrow it down, or --most %d\n", len(offers)-len(out), len(offers))
	}
	return nil
}

func chosenOf(l *ordering.Layout, q choose.Question, o choose.Offer) chosen {
	c := l.Collection()
	found := describe(l, o.Copy.Accession, l.Slot(o.Copy.Accession))
	item := chosen{Accession: o.Copy.Accession, Pattern: o.Pattern.ID, Publisher: found.Publisher, Number: found.Number, Name: found.Name,
		Known: o.Known, Reasons: o.Reasons, Where: found.Where}
	if o.Fit != nil {
		f := fitCopyOf(c, o.Copy.Accession, *o.Fit)
		item.Fit = &f
	}
	if q.Cloth != nil {
		item.Cloth = neededOf(c, o.Pattern, o.Cloth)
	}
	return item
}

// said says in short whether it fits and whether there is cloth enough.
func (x chosen) said() string {
	var said []string
	if x.Fit != nil {
		said = append(said, string(x.Fit.Verdict)+" ("+string(x.Fit.Sure)+")")
	}
	for _, n := range x.Cloth {
		said = append(said, joined([]string{label("view ", n.View), label("size ", n.Size), "cloth " + string(n.Verdict)}, ", "))
	}
	return strings.Join(said, "; ")
}

package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/measure"
	"github.com/spf13/cobra"
)

// fitted is the JSON of measure; lengths in mm.
type fitted struct {
	Thickness    model.Thickness `json:"thickness"` // that plans go by
	Fitted       model.Thickness `json:"fitted"`    // that the measurements say
	Kept         []string        `json:"kept"`      // states that the measurements say nothing of
	Measurements []estimated     `json:"measurements"`
	OffBefore    model.Length    `json:"off_before_mm"` // root of the mean square, by thickness
	OffAfter     model.Length    `json:"off_after_mm"`  // and by fitted
}

type estimated struct {
	*model.Measure
	Before model.Length `json:"before_mm"`
	After  model.Length `json:"after_mm"`
}

// ruler is what the flags of measure say.
type ruler struct {
	box, mm     string
	cards, drop int
	adopt       bool
}

func (a *app) measureCommand() *cobra.Command {
	var r ruler
	cmd := &cobra.Command{
		Use:   "measure [--box B --mm 312]",
		Short: "Learn from a box pressed together how thick envelopes are",
		Long: `Press the envelopes of a box together, as tight as they stand when you work, and
measure them from the first to the last, cards included: --box and --mm keep
that. From all measurements together it works out the thickness of an uncut, a
cut and a bulky envelope, and shows how far estimates were off and would be.
A state keeps its thickness until at least a handful of envelopes tell of it
alone: measure boxes with different shares of each. --adopt makes the worked-out
thicknesses those that plans go by.

What is out is not counted, and what has a thickness of its own counts with that.
Cards are those that belong in the box; say with --cards if there are others.
Without flags it shows what is known so far; --drop takes a wrong measurement
back, whenever it was made.`,
		Example: "  tuckrow measure --box 1 --mm 312\n  tuckrow measure --box 2 --mm 288 --cards 6\n  tuckrow measure --adopt\n  tuckrow measure --drop 3",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if (r.box == "") != (r.mm == "") {
				return model.Inputf("a measurement needs both --box and --mm; see: %s --help", cmd.CommandPath())
			}
			if cmd.Flags().Changed("cards") && (r.box == "" || r.cards < 0) {
				return model.Inputf("--cards says how many cards are in the box that --box names, 0 or more; see: %s --help", cmd.CommandPath())
			}
			return a.withStore(func(s cupboard) error { return a.measure(cmd.Context(), s, r) })
		},
	}
	cmd.Flags().StringVar(&r.box, "box", "", "the box that was measured")
	cmd.Flags().StringVar(&r.mm, "mm", "", "its contents pressed together, in millimetres")
	cmd.Flags().IntVar(&r.cards, "cards", -1, "cards in it (default: those that belong there)")
	cmd.Flags().IntVar(&r.drop, "drop", 0, "number of a measurement that was wrong")
	cmd.Flags().BoolVar(&r.adopt, "adopt", false, "let plans go by what was worked out")
	return a.reads(cmd)
}

func (a *app) measure(ctx context.Context, s cupboard, r ruler) error {
	commit := func(ch model.Change) error {
		done, err := s.Commit(ctx, ch)
		if err == nil && !a.json {
			a.printf("%s.\n", done.Title)
		}
		return err
	}
	if r.drop != 0 {
		if err := commit(&model.DropMeasure{ID: model.MeasureID(max(0, r.drop))}); err != nil {
			return err
		}
	}
	if r.box != "" {
		ch, err := measurement(s.Collection(), r)
		if err != nil {
			return err
		}
		if err := commit(ch); err != nil {
			return err
		}
	}
	fit := measure.ThicknessOf(s.Collection())
	if n := len(fit.Rows); r.box != "" && n > 0 && fit.Rows[n-1].Far() && !a.json {
		last, units := fit.Rows[n-1], unitsOf(s.Collection())
		a.printf("that is far off the estimate, %s; if it is a slip: tuckrow measure --drop %d\n", last.Before.Fine(units), last.ID)
	}
	if err := a.sayFit(&fit, unitsOf(s.Collection()), !r.adopt); err != nil || !r.adopt {
		return err
	}
	if ch := fit.Adopt(); ch != nil {
		return commit(ch)
	}
	if !a.json {
		a.printf("plans go by these thicknesses already.\n")
	}
	return nil
}

func measurement(c *model.Collection, r ruler) (model.Change, error) {
	box, err := c.Shelf().BoxNamed(r.box)
	if err != nil {
		return nil, err
	}
	mm, err := model.ParseLength(r.mm)
	if err != nil {
		return nil, model.Inputf("--mm: %v", err)
	}
	return measure.Take(ordering.Arrange(c), box, r.cards, mm), nil
}

func (a *app) sayFit(f *measure.Fit, units string, hint bool) error {
	if a.json {
		return a.printJSON(fitOf(f))
	}
	if len(f.Rows) == 0 {
		a.printf("nothing measured yet; press the envelopes of a box together, measure them, and give the millimetres:\n  tuckrow measure --box 1 --mm 312\n")
		return nil
	}
	rows := [][]string{{"no.", "date", "box", "uncut", "cut", "bulky", "own", "cards", "measured", "by present", "by fitted"}}
	for _, r := range f.Rows {
		rows = append(rows, []string{strconv.Itoa(int(r.ID)), string(r.On), r.Box, strconv.Itoa(r.Uncut), strconv.Itoa(r.Cut), strconv.Itoa(r.Bulky),
			strconv.Itoa(r.Own), strconv.Itoa(r.Cards), r.Measured.Fine(units), off(r.Before, r.Measured, units), off(r.After, r.Measured, units)})
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	rows = [][]string{{"", "present", "fitted", ""}}
	for s := range model.States {
		note := ""
		if f.Kept[s] {
			note = "kept: too little is measured that tells of it alone"
		}
		rows = append(rows, []string{s.String(), f.Present.Of(s).Fine(units), f.Fitted.Of(s).Fine(units), note})
	}
	rows = append(rows, []string{"off by (root mean square)", f.Before.Fine(units), f.After.Fine(units)})
	a.printf("\n")
	if err := columns(a.out, rows); err != nil {
		return err
	}
	if hint && f.Adopt() != nil {
		a.printf("to let plans go by the fitted ones: tuckrow measure --adopt\n")
	}
	return nil
}

// off writes an estimate and how far it is off: "320 mm (+8)".
func off(estimate, measured model.Length, units string) string {
	sign, by := "+", (estimate - measured).Fine(units)
	if estimate < measured {
		sign = ""
	}
	by = strings.TrimSuffix(strings.TrimSuffix(by, " mm"), `"`)
	return fmt.Sprintf("%s (%s%s)", estimate.Fine(units), sign, by)
}

func fitOf(f *measure.Fit) fitted {
	out := fitted{Thickness: f.Present, Fitted: f.Fitted, Kept: []string{}, Measurements: []estimated{}, OffBefore: f.Before, OffAfter: f.After}
	for s := range model.States {
		if f.Kept[s] {
			out.Kept = append(out.Kept, s.String())
		}
	}
	for _, r := range f.Rows {
		out.Measurements = append(out.Measurements, estimated{r.Measure, r.Before, r.After})
	}
	return out
}

// sayPiles says how to deal a large pile out before it is sorted.
func (a *app) sayPiles(l *ordering.Layout, m *ordering.Moves) error {
	piles := l.Piles(m)
	if len(piles) == 0 {
		return nil
	}
	a.printf("\nto sort the %d by hand, deal them first into %d piles:\n", len(m.Insert), len(piles))
	var rows [][]string
	for i, p := range piles {
		rows = append(rows, []string{"  pile " + strconv.Itoa(i+1), "up to " + l.UpTo(p), envelopes(p.Count)})
	}
	return columns(a.out, rows)
}

// sayMinutes says how long a refiling will take, as far as that is known.
func (a *app) sayMinutes(c *model.Collection, m *ordering.Moves) {
	p, ok := measure.PaceOf(c)
	if !ok {
		a.prose("no pace measured yet; say how long it took with: tuckrow refile --done --minutes 35", "")
		return
	}
	times := "once"
	if p.Timed > 1 {
		times = strconv.Itoa(p.Timed) + " times"
	}
	a.prose(fmt.Sprintf("about %s at your pace, timed %s: %.0f s to pull one, %.0f s to put one in.", minutes(p.Minutes(len(m.Pull), len(m.Insert))), times, p.Pull, p.Insert), "")
}

// minutes writes whole minutes, at least one.
func minutes(n float64) string {
	if n < 1.5 {
		return "1 minute"
	}
	return fmt.Sprintf("%.0f minutes", n)
}
